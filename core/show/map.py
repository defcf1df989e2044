"""The ground as a survey sheet in SVG: north up, yards, the places that air reaches.

`property_map` draws any ground with what it is told to bring out; `sit_map` tells it
what one stand in one sit is about.
"""

from typing import Any

import numpy as np

from core.answer.one_sit import StandSit
from core.log.sign_by_age import FRESH, SIGN_AGES, YEAR
from core.show.canvas import Sheet
from core.show.emphasis import Emphasis, described, emphasis_of, view_box
from core.show.furniture import (
    draw_contours,
    margin,
    margin_height,
    number_contours,
    patterns,
    still_ways,
    way_of_air,
)
from core.show.marks import mark
from core.show.naming import write_names
from core.show.palette import DARK, Palette
from core.show.svg import num
from core.sit.prepare import Sit
from core.sit.scene import Scene

__all__ = ["Emphasis", "property_map", "sit_map"]

WIDTH, DESK_WIDTH = 390.0, 760.0  # a phone's; beside the answer on a desk
DESK_SHAPES = (0.62, 0.9)  # height over width, at least and at most
DASHES = {"corridor": "0.5 4", "boundary": "9 3 2 3", "draw": "1 3", "water": "12 4"}
TICKS = {0: "0.9 7.1", 1: "1 3.6", 2: "1 1.6"}  # across a trail, by how much reaches it


def property_map(
    scene: Scene,
    emphasis: Emphasis | None = None,
    *,
    colours: Palette = DARK,
    width: float = WIDTH,
    name: str = "m",
) -> str:
    """The ground as SVG.

    Args: the scene; what to bring out; colours; width in units (a phone's is 390);
    a name of the sheet's own where several share a page.
    Returns: one <svg> element, without scripts or references to the outside. What a tap
    may ask about has the place's id as `data-id`.
    """
    emphasis = emphasis or Emphasis()
    shapes = DESK_SHAPES if width >= DESK_WIDTH else ()
    view = view_box(scene, emphasis, *shapes)
    sheet = Sheet(view, width, name, margin_height(width, emphasis))
    draw_contours(sheet, scene, colours)
    _areas(sheet, scene, emphasis, colours)
    _marks(sheet, scene, colours)
    _lines(sheet, scene, emphasis, colours)
    still_ways(sheet, emphasis, colours)
    way_of_air(sheet, emphasis, colours)
    _stands(sheet, scene, emphasis, colours)
    write_names(sheet, scene, emphasis, colours)
    number_contours(sheet, scene, colours)
    margin(sheet, emphasis, colours)
    return sheet.svg(described(scene, emphasis), patterns(name, colours), colours.paper)


def sit_map(
    sit: Sit, seat: StandSit, *, colours: Palette = DARK, name: str = "m", width: float = WIDTH
) -> str:
    """The map of one stand in one sit, at the worst hour that is sat through.

    Args: the sit; the stand in it; colours; the sheet's name and width.
    """
    return property_map(sit.scene, emphasis_of(sit, seat), colours=colours, name=name, width=width)


def _areas(sheet: Sheet, scene: Scene, emphasis: Emphasis, colours: Palette) -> None:
    points = scene.plane.points
    for area in scene.areas:
        hit = area.id in emphasis.reached
        food = area.kind == "food"
        plain = f"url(#{sheet.name}-food)" if food else colours.paper
        edge = colours.ink if hit else (colours.leaf if food else colours.earth)
        sheet.path(
            points(area.ring),
            closed=True,
            holes_m=[points(h) for h in area.holes],
            fill=f"url(#{sheet.name}-reached{emphasis.how_much(area.id)})" if hit else plain,
            stroke=edge,
            stroke_width=1.5 if hit else 0.9,
            data_id=area.id,
        )


def _marks(sheet: Sheet, scene: Scene, colours: Palette) -> None:
    for thing in scene.ground.marks:
        at = scene.plane.points(thing.points)
        if thing.geometry == "Point":
            _point(sheet, at, thing.kind, colours)
            continue
        area = thing.geometry == "Polygon"
        no = thing.kind == "no-shoot"
        sheet.path(
            at,
            closed=area,
            holes_m=[scene.plane.points(hole) for hole in thing.holes],
            stroke=colours.soft,
            stroke_width=1.4 if no else 0.9,
            stroke_dasharray=DASHES.get(thing.kind, "3 3"),
            fill=f"url(#{sheet.name}-no)" if no and area else "none",
        )


def _point(sheet: Sheet, at_m, kind: str, colours: Palette) -> None:
    if not sheet.shows(at_m):
        return
    x, y = sheet.xy(at_m)[0]
    wide, high, colour = (10, 7, colours.blue) if kind == "truck" else (4, 4, colours.soft)
    fills = {FRESH: colours.ink, YEAR: colours.soft}  # sign by its age; older is open
    wide, high = (6, 6) if kind in SIGN_AGES else (wide, high)
    fill = fills.get(kind, colours.paper)
    style: dict[str, Any] = {"fill": fill, "stroke": colour, "stroke_width": 1.2}
    sheet.add("rect", x=x - wide / 2, y=y - high / 2, width=wide, height=high, **style)
    sheet.block((x - 6, y - 5, x + 6, y + 5))


def _lines(sheet: Sheet, scene: Scene, emphasis: Emphasis, colours: Palette) -> None:
    for lane in scene.lane_lines.values():
        sheet.path(np.asarray(lane.coords), stroke=colours.line, stroke_width=1.1)
    for name, line in scene.corridors_m.items():
        sheet.path(
            line,
            stroke=colours.ink if name in emphasis.reached else colours.trail,
            stroke_width=1.7,
            stroke_dasharray=DASHES["corridor"],
            stroke_linecap="round",
            data_id=name,
        )
        if name in emphasis.reached:
            _ticks(sheet, emphasis, name, colours)
    if emphasis.way_out_m is not None:
        sheet.path(
            emphasis.way_out_m, stroke=colours.blue, stroke_width=1.3, stroke_dasharray="6 5"
        )
    if emphasis.way_in_m is not None:
        sheet.path(emphasis.way_in_m, stroke=colours.blue, stroke_width=2.2)
        sheet.block_along(emphasis.way_in_m)
    if emphasis.air_way_m is not None:
        sheet.block_along(emphasis.air_way_m)


def _ticks(sheet: Sheet, emphasis: Emphasis, name: str, colours: Palette) -> None:
    """Hatches the part of a trail that is reached: ticks across it, by how much."""
    for piece in emphasis.on_trail_m.get(name, ()):
        sheet.path(
            piece,
            stroke=colours.ink,
            stroke_width=8,
            stroke_dasharray=TICKS[emphasis.how_much(name)],
            data_id=name,
        )


def _stands(sheet: Sheet, scene: Scene, emphasis: Emphasis, colours: Palette) -> None:
    chosen = [s.id == emphasis.stand for s in scene.ground.stands]
    for i in np.argsort(chosen, kind="stable"):  # the chosen one last, on top
        stand = scene.ground.stands[i]
        if not sheet.shows(scene.stands_m[i]):
            continue
        x, y = sheet.xy(scene.stands_m[i])[0]
        r = 8.0 if chosen[i] else 4.2
        if stand.id in emphasis.marks and not chosen[i]:
            sheet.parts += mark(emphasis.marks[stand.id], x, y, 5.0, colours, sheet.name)
        else:
            fill = colours.ink if chosen[i] else colours.paper
            sheet.add(
                "polygon",
                points=_triangle(x, y, r),
                fill=fill,
                stroke=colours.ink,
                stroke_width=1,
                data_id=stand.id,
                data_stand="",
            )
        sheet.block((x - r, y - r, x + r, y + r))
    for east, north, _ in emphasis.spots:
        x, y = sheet.xy([[east, north]])[0]
        sheet.add(
            "path",
            d=f"M{num(x)},{num(y - 6)} l6,6 l-6,6 l-6,-6 Z",
            fill="none",
            stroke=colours.blue,
            stroke_width=1.6,
        )
        sheet.block((x - 6, y - 6, x + 6, y + 6))


def _triangle(x: float, y: float, r: float) -> str:
    """The corners of a stand's mark. Args: its middle and half its width [units]."""
    low = num(y + r * 0.8)
    return f"{num(x)},{num(y - r)} {num(x + r)},{low} {num(x - r)},{low}"
