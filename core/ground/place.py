"""Where beds, food, corridors and lanes lie from a stand, and how that is in a wind."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import wrap_deg
from core.ground.plan import bearing_deg

Shapes = npt.NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a feature lies from a stand. NaN bearing: on top of it."""

    id: str
    kind: str
    bearing_deg: float
    distance_m: float
    inside: bool


def shapes(of: Iterable) -> Shapes:
    """Geometries as an array, for sums on all of them at once. Args: geometries."""
    return np.array(list(of), object)


def places_from(at_m, areas: Shapes, lines: Shapes, known: Sequence[tuple[str, str]]):
    """Areas by their middle, lines by their nearest point, as they lie from a place.

    Args: the place in local metres, shape (2,); areas; lines; id and kind of each, the
    areas first. Returns: a `Place` of each, in that order.
    """
    point = shapely.Point(at_m)
    near = shapely.line_interpolate_point(lines, shapely.line_locate_point(lines, point))
    toward_m = shapely.get_coordinates(np.concatenate([shapely.centroid(areas), near]))
    bearing = bearing_deg(at_m, toward_m)
    bearing[np.isclose(at_m, toward_m, atol=1e-9).all(axis=1)] = math.nan
    far_m = shapely.distance(np.concatenate([areas, lines]), point)
    inside = np.append(shapely.covers(areas, point), np.zeros(len(lines), bool))
    rows = zip(known, bearing.tolist(), far_m.tolist(), inside.tolist(), strict=True)
    return [
        Place(name, kind, turn, 0.0 if within else far, within)
        for (name, kind), turn, far, within in rows
    ]


def relation(wind_from_deg: float, place: Place) -> str | None:
    """Where a place lies from the stand in a wind: upwind, crosswind, downwind.

    To 45 degrees upwind, from 135 degrees downwind. Returns None inside a place
    or on top of it, and the word "none" without a direction.
    """
    if place.inside or math.isnan(place.bearing_deg):
        return None
    if math.isnan(wind_from_deg):
        return "none"
    turn = float(wrap_deg(wind_from_deg - place.bearing_deg))
    turn = round(min(turn, 360.0 - turn), 9)
    return "upwind" if turn <= 45 else "downwind" if turn >= 135 else "crosswind"
