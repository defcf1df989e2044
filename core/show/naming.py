"""Words on a map: the most important first, none over another, the rest unnamed."""

import numpy as np
import numpy.typing as npt

from core.answer.reached import LITTLE
from core.show.canvas import Sheet
from core.show.emphasis import Emphasis
from core.show.fitting import fitted
from core.show.palette import Palette
from core.sit.scene import Scene

Floats = npt.NDArray[np.float64]
NEAR_TRUCK_M = 60.0
NAME_LETTERS = 18  # of a stand that is not looked at: wider words are left out where it is narrow


def write_names(sheet: Sheet, scene: Scene, emphasis: Emphasis, colours: Palette) -> None:
    """Names the stand, the places reached, then the rest as far as there is room.

    Args: the sheet with its shapes; the scene; what is brought out; colours.
    """
    rim = _rim(colours)
    bold = {"font_weight": "bold", "fill": colours.ink, **rim}
    plain = {"fill": colours.soft, **rim}
    ground = scene.ground
    for stand in ground.stands:
        if stand.id == emphasis.stand:
            at_m, style = scene.stands_m[scene.index(stand)], {**bold, "data_id": stand.id}
            _put(sheet, at_m, [stand.name], 14, style, 9, must=True)
    spots = _middles(sheet, scene, emphasis)
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.id in emphasis.reached:  # its hatch is seen, not written over
            left, bottom, right, top = polygon.bounds
            (a, b), (c, d) = sheet.xy([[left, top], [right, bottom]])
            sheet.block((float(a), float(b), float(c), float(d)))
    for key, text in emphasis.reached.items():
        at_m, half = spots[key]
        lines = [ground.name_of(key), *([text] if text else [])]
        little = emphasis.how_much(key) == LITTLE
        style = {**(plain if little else bold), "data_id": key}
        _put(sheet, at_m, lines, 11 if little else 12, style, half, must=True)
    for key, text in emphasis.noted.items():
        style = {"fill": colours.ink, "data_id": key, **rim}
        _put(sheet, spots[key][0], [ground.name_of(key), text], 11, style, 0, must=True)
    for east, north, words in emphasis.spots:
        _put(sheet, np.array([east, north]), [words], 11, bold, 7, must=True)
    _write_the_rest(sheet, scene, emphasis, plain, spots)


def _write_the_rest(
    sheet: Sheet, scene: Scene, emphasis: Emphasis, plain: dict, spots: dict
) -> None:
    ground = scene.ground
    begins = emphasis.way_in_m[0] if emphasis.way_in_m is not None else None
    truck = _truck_name(sheet, scene, begins, plain)
    told = {*emphasis.reached, *emphasis.noted, *emphasis.of_spots}
    rest = [key for key in spots if key not in told]
    for key in (k for k in rest if k not in scene.corridor_lines):
        _put(sheet, spots[key][0], [ground.name_of(key)], 11, {**plain, "data_id": key}, 0)
    names = fitted([stand.name for stand in ground.stands], NAME_LETTERS)  # none alike
    for i, stand in enumerate(ground.stands):
        if stand.id != emphasis.stand and stand.id not in told:
            _put(sheet, scene.stands_m[i], [names[i]], 10, {**plain, "data_id": stand.id}, 6)
    for thing in ground.marks:
        if thing.kind != "boundary" and thing.id != truck and thing.id not in told:
            middle = scene.plane.points(thing.points).mean(axis=0)
            _put(sheet, middle, [thing.name], 9, plain, 8 if thing.geometry == "Point" else 0)
    for key in (k for k in rest if k in scene.corridor_lines):
        _put(sheet, spots[key][0], [ground.name_of(key)], 9, {**plain, "data_id": key}, 5)


def _put(
    sheet: Sheet,
    at_m,
    lines: list[str],
    size: float,
    style: dict,
    off: float,
    *,
    must: bool = False,
) -> None:
    """A label by a place on the ground; `off` 0 may lie on it."""
    left, bottom, right, top = sheet.view_m
    if left <= at_m[0] <= right and bottom <= at_m[1] <= top:
        x, y = (float(v) for v in sheet.xy(at_m)[0])
        sheet.label((x, y), lines, size, must=must, off=off or 6.0, middle=not off, **style)


def _middles(sheet: Sheet, scene: Scene, emphasis: Emphasis) -> dict[str, tuple[Floats, float]]:
    """Where a name may stand, and how far off the middle it shows the place. By id."""
    found = {}
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        left, bottom, right, top = polygon.bounds
        half = min(right - left, top - bottom) / 2 * sheet.scale
        found[area.id] = (np.array(polygon.representative_point().coords[0]), half)
    for name, line in scene.corridor_lines.items():
        found[name] = (np.array(line.interpolate(0.5, normalized=True).coords[0]), 6.0)
    for name in emphasis.reached:
        if pieces := emphasis.on_trail_m.get(name):
            found[name] = (np.asarray(pieces[len(pieces) // 2]).mean(axis=0), 6.0)
    return found


def _truck_name(sheet: Sheet, scene: Scene, start_m: Floats | None, style: dict) -> str:
    """Names the spot where the way in begins. Returns: its id; empty where none is marked."""
    for thing in scene.ground.marks if start_m is not None else ():
        if thing.kind == "truck":
            at_m = scene.plane.points(thing.points)[0]
            if float(np.hypot(*(at_m - start_m))) < NEAR_TRUCK_M:
                _put(sheet, at_m, [thing.name], 11, style, 8, must=True)
                return thing.id
    return ""


def _rim(colours: Palette) -> dict:
    """A rim of the ground's colour keeps words readable over lines."""
    return {
        "stroke": colours.paper,
        "stroke_width": 3,
        "paint_order": "stroke",
        "stroke_linejoin": "round",
    }
