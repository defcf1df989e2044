"""The margin of a map: the wind and the way of the air, the key, a scale in yards, north;
the patterns of the sheet, and the contours under all else."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from core.answer.reached import LITTLE, MUCH, SOME
from core.show.canvas import Sheet, nice_yards
from core.show.emphasis import Emphasis
from core.show.fitting import cut_to, narrowed, width_of
from core.show.marks import hatch, pattern
from core.show.palette import Palette
from core.show.svg import element, num
from core.sit.lately import Lately
from core.sit.scene import Scene
from core.units import M_PER_YD

if TYPE_CHECKING:
    from core.land.contours import Contour

EDGE = 8.0
ROW = 34.0  # height of a row that holds two lines of words
KEY_ROW = 20.0
ONE_ROW_FROM = 560.0  # a sheet as wide holds the key beside the wind
SCALE_SHARE, LONGEST_SCALE = 0.2, 120.0
BARBS_APART = 26.0
HATCHES = {LITTLE: (8.0, 0.9), SOME: (4.6, 1.0), MUCH: (2.5, 1.0)}  # apart and thick [units]
AMOUNTS = {LITTLE: "little", SOME: "some", MUCH: "much"}
KEY = "of your air:"
COARSE_UNITS = 0.4  # what a line may leave its way by
LEAST_UNITS = 40.0  # a shorter line carries no number
NUMBER_SIZE = 8.0
KEPT_SHEETS = 6


def patterns(name: str, colours: Palette) -> list[str]:
    """The fills of one sheet. Args: the sheet's name; colours."""
    dot = element("circle", cx=2, cy=2, r=0.8, fill=colours.leaf)
    cross = element("path", d="M2,2 L6,6 M6,2 L2,6", stroke=colours.soft, stroke_width=0.8)
    return [
        *(
            hatch(f"{name}-reached{much}", colours.ink, apart, thick, 45)
            for much, (apart, thick) in HATCHES.items()
        ),
        hatch(f"{name}-unsure", colours.blue, 2.6, 1.1, 45),
        pattern(f"{name}-food", 7, dot),
        pattern(f"{name}-no", 9, cross),
        pattern(
            f"{name}-pool", 8, element("path", d="M1,4 H5", stroke=colours.soft, stroke_width=0.6)
        ),
    ]


def margin_height(width: float, emphasis: Emphasis) -> float:
    """Height of the margin. Args: width of the sheet [units]; what is brought out."""
    two = bool(emphasis.reached) and width < ONE_ROW_FROM
    return ROW + (KEY_ROW if two else 0.0)


def margin(sheet: Sheet, emphasis: Emphasis, colours: Palette) -> None:
    """Draws the strip below the ground. Args: the sheet; what is brought out; colours."""
    top = sheet.ground_height
    box: dict[str, Any] = {"x": 0.0, "y": top, "width": sheet.width, "height": sheet.margin}
    sheet.add("rect", **box, fill=colours.paper)
    rule = f"M0,{num(top)} H{num(sheet.width)}"
    sheet.add("path", d=rule, stroke=colours.line, stroke_width=1)
    right = _north_and_scale(sheet, top, colours)
    wide = sheet.width >= ONE_ROW_FROM
    key = _key_width() if emphasis.reached else 0.0
    room = right - (key + 3 * EDGE if wide and key else 0.0)
    _wind(sheet, emphasis, top, room, colours)
    if key:
        left = right - key - 2 * EDGE if wide else EDGE
        _key(sheet, left, top + (ROW / 2 if wide else ROW + KEY_ROW / 2 - 3), colours)


def barbed(points: np.ndarray) -> str:
    """A line with small barbs that point along it, as a current on a chart.

    Args: places in sheet units, shape (point, 2). Returns: the data of a path.
    """
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    long = float(lengths.sum())
    first = f"M{num(points[0, 0])},{num(points[0, 1])}"
    if long < 1:
        return first
    drawn = [" L".join([first, *(f"{num(x)},{num(y)}" for x, y in points[1:])])]
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    count = max(1, int(long // BARBS_APART))
    for i in range(1, count + 1):
        at = long * i / count
        k = min(int(np.searchsorted(along, at)), len(lengths)) - 1
        ux, uy = steps[max(k, 0)] / lengths[max(k, 0)]
        tip = points[max(k, 0)] + (at - along[max(k, 0)]) * np.array([ux, uy])
        for side in (1, -1):
            back = (-6 * ux - side * 3.2 * uy, -6 * uy + side * 3.2 * ux)
            drawn.append(f"M{num(tip[0])},{num(tip[1])} l{num(back[0])},{num(back[1])}")
    return " ".join(drawn)


def _wind(sheet: Sheet, emphasis: Emphasis, top: float, right: float, colours: Palette) -> None:
    """The wind and the way of the air in words, beside a barbed line that points along it."""
    words = [text for text in emphasis.beside_arrow if text]
    if not words:
        return
    left = EDGE
    if emphasis.air_to_deg is not None and not np.isnan(emphasis.air_to_deg):
        to = math.radians(float(emphasis.air_to_deg))
        half = np.array([math.sin(to), -math.cos(to)]) * 13
        middle = np.array([EDGE + 15, top + ROW / 2])
        style = _way_style(colours)
        sheet.add("path", d=barbed(np.array([middle - half, middle + half])), **style)
        left += 38
    first = top + ROW / 2 + (4 if len(words) == 1 else -3)
    size = 11 * narrowed(words, 11, right - left, 0.65)
    for i, text in enumerate(words):
        colour = colours.ink if i == 0 else colours.soft
        told = cut_to(text, size, right - left)
        sheet.words(left, first + 14 * i, told, size, fill=colour)


def _way_style(colours: Palette) -> dict[str, Any]:
    return {"fill": "none", "stroke": colours.ink, "stroke_width": 1.1, "stroke_linecap": "round"}


def way_of_air(sheet: Sheet, emphasis: Emphasis, colours: Palette) -> None:
    """The way that the air takes, from the stand. Args: the sheet; what it brings out; colours."""
    if emphasis.air_way_m is not None and len(emphasis.air_way_m):
        drawn = barbed(sheet.xy(emphasis.air_way_m))
        sheet.add("path", d=drawn, data_air="way", **_way_style(colours))


def still_ways(sheet: Sheet, emphasis: Emphasis, colours: Palette) -> None:
    """Ways of still air over the ground, with their doubts as hairlines; and where it lies.

    Args: the sheet; what it brings out; colours.
    """
    for outline in emphasis.pools_m:
        fill = f"url(#{sheet.name}-pool)"
        sheet.path(outline, closed=True, fill=fill, stroke=colours.line, stroke_width=0.8)
    for way, doubts in emphasis.still_ways_m:
        for doubt in doubts:
            sheet.path(doubt, stroke=colours.blue, stroke_width=0.5, stroke_dasharray="3 3")
        if len(way) > 1:
            style = {**_way_style(colours), "stroke": colours.blue}
            thin = shapely.get_coordinates(
                shapely.simplify(shapely.LineString(way), COARSE_UNITS / sheet.scale)
            )
            sheet.add("path", d=barbed(sheet.xy(thin)), data_air="still", **style)


def _key_width() -> float:
    words = sum(width_of(text, 10) + 24 for text in AMOUNTS.values())
    return width_of(KEY, 10) + 6 + words


def _key(sheet: Sheet, left: float, middle: float, colours: Palette) -> None:
    """The three hatches and what they mean."""
    sheet.words(left, middle + 4, KEY, 10, fill=colours.soft)
    x = left + width_of(KEY, 10) + 6
    for much, text in AMOUNTS.items():
        fill = f"url(#{sheet.name}-reached{much})"
        edge: dict[str, Any] = {"stroke": colours.ink, "stroke_width": 0.9}
        sheet.add("rect", x=x, y=middle - 5.0, width=14, height=10, fill=fill, **edge)
        sheet.words(x + 17, middle + 4, text, 10, fill=colours.soft)
        x += width_of(text, 10) + 24


def _north_and_scale(sheet: Sheet, top: float, colours: Palette) -> float:
    """A scale bar in yards and the north arrow, at the right. Returns: where they begin."""
    x, y = sheet.width - EDGE - 4, top + 11.0
    arrow = (
        f"M{num(x)},{num(y + 14)} V{num(y - 7)} M{num(x - 3.5)},{num(y - 1)} "
        f"L{num(x)},{num(y - 7)} L{num(x + 3.5)},{num(y - 1)}"
    )
    line: dict[str, Any] = {"fill": "none", "stroke": colours.soft, "stroke_width": 1.2}
    sheet.add("path", d=arrow, **line)
    sheet.words(x - 14, y + 7, "N", 11, fill=colours.soft, text_anchor="middle")
    most = min(sheet.width * SCALE_SHARE, LONGEST_SCALE)
    yards = nice_yards(most / sheet.scale / M_PER_YD)
    long = yards * M_PER_YD * sheet.scale
    end = x - 14 - 16
    left, base = end - long, top + ROW - 11.0
    bar = f"M{num(left)},{num(base - 4)} V{num(base)} H{num(end)} V{num(base - 4)}"
    sheet.add("path", d=bar, **line)
    words = f"{yards} yd"
    sheet.words((left + end) / 2, base - 6, words, 10, fill=colours.soft, text_anchor="middle")
    return min(left, (left + end - width_of(words, 10)) / 2) - EDGE


# --- contours: thin lines, every fifth thicker and numbered in feet ---


@dataclass(frozen=True, eq=False)
class _Contours:
    """The contours of a sheet: their elements, and of each that carries a number its height
    and the line on which it stands."""

    parts: list[str]
    numbered: list[tuple[int, shapely.LineString]]


def _on_sheet(sheet: Sheet, scene: Scene, colours: Palette) -> _Contours:
    """The contours within a sheet, drawn once for the sheets that were asked for lately."""
    if scene.heights is None:
        return _Contours([], [])
    drawn = scene.kept("contours on sheets", lambda: Lately(KEPT_SHEETS))
    key = sheet.view_m, sheet.width, sheet.margin, colours.contour
    return drawn.get(key, lambda: _made(sheet, scene, colours))


def _made(sheet: Sheet, scene: Scene, colours: Palette) -> _Contours:
    from core.land.derived import contours_on  # what it needs is loaded where there are heights

    assert scene.heights is not None  # the caller has looked
    own, numbered = Sheet(sheet.view_m, sheet.width, margin=sheet.margin), []
    for contour in contours_on(scene.heights, scene.ground.center):
        pieces = _pieces(own, contour)
        for line in pieces:
            own.path(line, stroke=colours.contour, stroke_width=1.1 if contour.thick else 0.6)
        lines = [shapely.LineString(p) for p in pieces] if contour.thick else []
        longest = max(lines, key=lambda line: line.length, default=None)
        if longest is not None and longest.length * sheet.scale >= LEAST_UNITS:
            numbered.append((contour.height_ft, longest))
    return _Contours(own.parts, numbered)


def draw_contours(sheet: Sheet, scene: Scene, colours: Palette) -> None:
    """The contours within the sheet; nothing without heights. Args: sheet, scene, colours."""
    sheet.parts += _on_sheet(sheet, scene, colours).parts


def number_contours(sheet: Sheet, scene: Scene, colours: Palette) -> None:
    """Their heights on the thick ones, where no other word stands. Args: as above."""
    for height_ft, line in _on_sheet(sheet, scene, colours).numbered:
        for share in (0.5, 0.3, 0.7, 0.15, 0.85):
            at = line.interpolate(share, normalized=True).coords[0]
            x, y = (float(v) for v in sheet.xy([at])[0])
            told = sheet.label(
                (x, y),
                [f"{height_ft} ft"],
                NUMBER_SIZE,
                middle=True,
                fill=colours.soft,
                stroke=colours.paper,
                stroke_width=2,
                paint_order="stroke",
            )
            if told:
                break


def _pieces(sheet: Sheet, contour: "Contour") -> list[np.ndarray]:
    """The parts of its lines that the sheet shows, with no more points than one sees."""
    told = []
    for line in contour.lines_m:
        if not sheet.shows(line):
            continue
        cut = shapely.clip_by_rect(shapely.LineString(line), *sheet.view_m)
        thin = shapely.simplify(cut, COARSE_UNITS / sheet.scale)
        parts = shapely.get_parts(thin)
        told += [shapely.get_coordinates(part) for part in parts if part.length > 0]
    return told
