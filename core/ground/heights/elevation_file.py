"""A grid of heights from whatever file the user has: bytes, or a file of any size by its path.

What the file leaves open is asked, never guessed: `UnitOpen` for meters or feet, `ZoneOpen`
for the UTM zone of a text grid in meters.
"""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np

from core.ground.fields import shown
from core.ground.heights.esri_ascii import NAMES, read_esri_ascii
from core.ground.heights.geotiff import read_geotiff
from core.ground.heights.grid import (
    M_PER_UNIT,
    METERS,
    MOST_BYTES,
    BadElevation,
    HeightGrid,
    NoHeightInIt,
    UnitOpen,
)
from core.ground.heights.tiff_window import Box, of_bytes, read_window
from core.ground.jsontext import BOM

TIFF = (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")
LOWEST_M, HIGHEST_M = -500.0, 9000.0  # past the Dead Sea's shore and Everest; from memory
LARGEST_TEXT_BYTES = 100_000_000  # as many as a grid of four million cells takes in text
ZONE = re.compile(r"(\d{1,2}) ?([NS])")


def read_elevation(
    data: bytes,
    where: str,
    unit: str | None = None,
    zone: str | None = None,
    box: Box | None = None,
) -> HeightGrid:
    """A grid of heights in meters, from the bytes of an elevation file.

    Args:
        data: an ESRI ASCII grid or a GeoTIFF, in longitude and latitude or in meters of a
            UTM zone.
        where: the file's name, for messages.
        unit: meters, feet or US survey feet, where the file leaves it open; what
            the file itself says goes first.
        zone: the zone of a text grid in meters, such as 17N; so too.
        box: of a GeoTIFF only the cells in it: west, south, east, north; None for all. [deg]

    Raises: UnitOpen, ZoneOpen where the unit or the zone is not told; BadElevation for other
        faults.
    """
    if len(data) > MOST_BYTES:
        raise BadElevation(
            f"the file has {len(data):,} bytes, over {MOST_BYTES:,}",
            where,
            "Cut out the piece that is this ground.",
        )
    if data[:4] in TIFF and box is not None:
        return in_meters(read_window(of_bytes(data), box, where), where, unit)
    return in_meters(_whole(data, where, zone), where, unit)


def read_elevation_file(
    path: Path, box: Box, unit: str | None = None, zone: str | None = None
) -> HeightGrid:
    """The heights in a box, in meters; of a GeoTIFF of any size no more is read than that.

    Args: the file; west, south, east, north [deg]; unit and zone as `read_elevation`.
    Raises: as `read_elevation`.
    """
    try:
        with path.open("rb") as stream:
            if stream.read(4) in TIFF:

                def read(at: int, count: int) -> bytes:
                    stream.seek(at)
                    return stream.read(count)

                return in_meters(read_window(read, box, path.name), path.name, unit)
            stream.seek(0)
            data = stream.read(LARGEST_TEXT_BYTES + 1)  # a device tells no size
    except OSError as error:
        raise BadElevation(
            f"the file cannot be opened: {error.strerror or error}", path.name, "Check the name."
        ) from None
    if len(data) > LARGEST_TEXT_BYTES:
        raise BadElevation(
            f"the file has over {LARGEST_TEXT_BYTES / 1e6:.0f} MB",
            path.name,
            "Cut out the piece that is this ground, or save it as a GeoTIFF.",
        )
    return in_meters(_whole(data, path.name, zone), path.name, unit)


def _whole(data: bytes, where: str, zone: str | None) -> HeightGrid:
    if data[:4] in TIFF:
        return read_geotiff(data, where)
    if data.removeprefix(BOM)[:40].decode("latin-1").lower().lstrip().startswith(NAMES):
        told = None if zone is None else zone_from(zone)
        return read_esri_ascii(data.removeprefix(BOM), where, told)
    raise BadElevation(
        f"the file starts with {data[:12]!r}: it is neither an ESRI ASCII grid nor a GeoTIFF",
        where,
        "Save the elevation as one of these.",
    )


def zone_from(text: str) -> tuple[int, bool]:
    """A UTM zone as it is written, 17N or 55S. Args: the text.

    Returns: its number, and whether it is one of the south. Raises: BadElevation.
    """
    found = ZONE.fullmatch(text.strip().upper())
    if found is None or not 1 <= int(found[1]) <= 60:
        raise BadElevation(
            f"{shown(text)} is no UTM zone",
            "",
            "Give a number from 1 to 60 and the half of the earth, such as 17N; 17S lies south "
            "of the equator.",
        )
    return int(found[1]), found[2] == "S"


def in_meters(grid: HeightGrid, where: str, unit: str | None = None) -> HeightGrid:
    """A grid whose heights are meters.

    Args: the grid; the file's name; the unit where the file does not tell it.
    Raises: UnitOpen where nothing tells it; BadElevation for one that is none.
    """
    unit = grid.unit or unit
    if unit is None:
        raise UnitOpen(
            "the file does not say whether its heights are meters or feet",
            where,
            "Choose one (--unit meters, feet or us-survey-feet).",
        )
    if unit not in M_PER_UNIT:
        raise BadElevation(
            f"'{unit}' is no unit of height", where, f"Use one of: {', '.join(M_PER_UNIT)}."
        )
    return _on_earth(replace(grid, height=grid.height * M_PER_UNIT[unit], unit=METERS), where)


def _on_earth(grid: HeightGrid, where: str) -> HeightGrid:
    """A grid without heights that no land has: marks of no data that the file does not name."""
    with np.errstate(invalid="ignore"):
        is_land = (grid.height >= LOWEST_M) & (grid.height <= HIGHEST_M)
    if not is_land.any():
        raise NoHeightInIt(
            f"no height in it lies between {LOWEST_M:,.0f} and {HIGHEST_M:,.0f} m",
            where,
            "Take a piece with data.",
        )
    return replace(grid, height=np.where(is_land, grid.height, np.nan))
