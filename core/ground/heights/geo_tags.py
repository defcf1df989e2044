"""What the tags of a GeoTIFF say: where its cells lie, their unit, and which mean no data.

Source: [tiff6] for the tags, [geotiff11] for the keys; 42113 is GDAL's tag for no data.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from core.ground.fields import shown
from core.ground.heights.grid import (
    FEET,
    METERS,
    SURVEY_FEET,
    BadElevation,
    HeightGrid,
    checked,
)
from core.ground.heights.unproject import unprojected

PIXEL_SCALE, TIE_POINT, MATRIX, KEYS, NO_DATA = 33550, 33922, 34264, 34735, 42113
MODEL_TYPE, RASTER_TYPE, GEOGRAPHIC, ANGLES, VERTICAL, VERTICAL_UNIT = (
    1024,
    1025,
    2048,
    2054,
    4096,
    4099,
)
IS_GEOGRAPHIC, IS_POINT, IN_DEGREES = 2, 2, 9102
IS_PROJECTED, PROJECTED, METRIC, IN_METERS = 1, 3072, 3076, 9001
# EPSG code before the first zone, how many zones, whether of the south: WGS 84 north and
# south, NAD 83, NAD 83 (2011; from memory), ETRS 89
UTM_CODES = (
    (32600, 60, False),
    (32700, 60, True),
    (26900, 23, False),
    (6329, 19, False),
    (25800, 60, False),
)
# WGS 84, NAD 83 and ETRS 89 in their versions lie within about two metres of each other
SYSTEMS = {
    4326: "WGS 84",
    4269: "NAD 83",
    6318: "NAD 83 (2011)",
    4759: "NAD 83 (NSRS2007)",
    4152: "NAD 83 (HARN)",
    4258: "ETRS 89",
}
LENGTHS = {9001: METERS, 9002: FEET, 9003: SURVEY_FEET}
# vertical systems by EPSG number: NAVD 88 in meters and feet, EGM96, EGM2008
VERTICALS = {5703: METERS, 6360: SURVEY_FEET, 8228: FEET, 5773: METERS, 3855: METERS}


Tags = Mapping[int, Any]  # numbers where there is one, else tuples; words as text


@dataclass(frozen=True, slots=True)
class Placed:
    """Middle of the first cell and size of a cell, in degrees or in meters of a zone.

    `zone` is the UTM zone and whether it is one of the south; None for degrees. `unit` is
    empty where it is not told, `no_data` NaN.
    """

    zone: tuple[int, bool] | None
    west: float
    north: float
    wide: float
    high: float
    unit: str
    no_data: float


def placed_by(tags: Tags, where: str) -> Placed:
    """Where a grid lies, by its tags.

    Args: the tags by number; the file's name.
    Raises: BadElevation for one that is not in longitude and latitude or in meters of a UTM
    zone, north up.
    """
    try:
        keys = _keys(tags, where)
        zone = _zone(keys)
        if zone is None:
            _check_system(keys, where)
        west, north, wide, high = _placed(tags, keys, where)
    except (TypeError, ValueError, IndexError, OverflowError):
        raise BadElevation(
            "the tags that say where it lies are of no use", where, "Save the grid again."
        ) from None
    if zone is None and not (wide < 1 and high < 1):
        raise BadElevation(
            f"a cell is {wide:g} by {high:g}, which is no size in degrees",
            where,
            "Save it with north up, in longitude and latitude.",
        )
    return Placed(zone, west, north, wide, high, _unit(keys), _no_data(tags, where))


def with_holes(height: np.ndarray, no_data: float) -> np.ndarray:
    """Heights as 64-bit floats, NaN where there are none. Args: as unpacked; the mark."""
    with np.errstate(invalid="ignore"):  # broken bytes can be numbers that are none
        height = height.astype(float)
    # a 32-bit float of the mark is not the mark as it is written out
    height[np.isclose(height, no_data, rtol=1e-6, atol=0.0)] = math.nan
    height[~np.isfinite(height)] = math.nan
    return height


def as_grid(height: np.ndarray, placed: Placed, where: str) -> HeightGrid:
    """Heights in longitude and latitude. Args: with NaN for holes; their place; the file.

    Raises: BadElevation for a place that is not on the earth.
    """
    at = (placed.west, placed.north, placed.wide, placed.high)
    grid = HeightGrid(height, *at, placed.unit)
    if placed.zone is not None:
        grid = unprojected(grid, *placed.zone, where)
    return checked(grid, where)


def _no_data(tags: Tags, where: str) -> float:
    told = str(tags.get(NO_DATA, "")).strip("\x00 ")
    try:
        return float(told) if told else math.nan
    except ValueError:
        raise BadElevation(
            f"the mark for no data is {shown(told)}, not a number", where, "Save the grid again."
        ) from None


def _zone(keys: dict[int, int]) -> tuple[int, bool] | None:
    """UTM zone and whether of the south, of a projected grid in metres; else None."""
    if keys.get(MODEL_TYPE) != IS_PROJECTED or keys.get(METRIC, IN_METERS) != IN_METERS:
        return None
    code = keys.get(PROJECTED, 0)
    for first, zones, south in UTM_CODES:
        if first < code <= first + zones:
            return code - first, south
    return None


def _keys(tags: Tags, where: str) -> dict[int, int]:
    """The short geo keys by number; keys that point elsewhere are left out."""
    listed = tags.get(KEYS)
    if not listed:
        raise BadElevation(
            "the TIFF does not say where it lies: it has no geo keys", where, "Take a GeoTIFF."
        )
    rows = [listed[i : i + 4] for i in range(4, len(listed) - 3, 4)]
    return {int(key): int(value) for key, place, _, value in rows if place == 0}


def _check_system(keys: dict[int, int], where: str) -> None:
    fix = "Save it in longitude and latitude, WGS 84 (EPSG:4326), or in meters of a UTM zone."
    if keys.get(MODEL_TYPE) != IS_GEOGRAPHIC:
        raise BadElevation(
            "the grid is neither in longitude and latitude nor in meters of a UTM zone "
            f"(model type {keys.get(MODEL_TYPE)}, system {keys.get(PROJECTED)})",
            where,
            fix,
        )
    system = keys.get(GEOGRAPHIC)
    if system not in SYSTEMS:
        raise BadElevation(f"the grid is in the system EPSG:{system}", where, fix)
    if keys.get(ANGLES, IN_DEGREES) != IN_DEGREES:
        raise BadElevation(f"its angles are in the unit {keys[ANGLES]}, not degrees", where, fix)


def _placed(tags: Tags, keys: dict[int, int], where: str) -> tuple[float, float, float, float]:
    """West and north middle of the first cell, width and height of a cell; [deg] or [m]."""
    scale, tie, matrix = (tuple(tags.get(t) or ()) for t in (PIXEL_SCALE, TIE_POINT, MATRIX))
    if len(scale) >= 2 and len(tie) == 6:
        wide, high = scale[:2]
        west, north = tie[3] - tie[0] * wide, tie[4] + tie[1] * high
    elif len(matrix) == 16 and matrix[1] == matrix[4] == 0:
        wide, high, west, north = matrix[0], -matrix[5], matrix[3], matrix[7]
    else:
        raise BadElevation(
            "the grid is turned, or tied down at several points",
            where,
            "Save it with north up, in longitude and latitude.",
        )
    if not (wide > 0 and high > 0):
        raise BadElevation(
            f"a cell is {wide:g} by {high:g}, which is no size", where, "Save it with north up."
        )
    middle = 0.0 if keys.get(RASTER_TYPE) == IS_POINT else 0.5
    return west + middle * wide, north - middle * high, wide, high


def _unit(keys: dict[int, int]) -> str:
    return LENGTHS.get(keys.get(VERTICAL_UNIT, 0)) or VERTICALS.get(keys.get(VERTICAL, 0), "")
