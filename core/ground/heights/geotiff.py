"""GeoTIFF grids of heights, read whole. `tiff_window` reads a piece of a large one.

Pillow unpacks the picture; what its numbers mean, and where they lie, is in `geo_tags`.
"""

import io
import warnings

import numpy as np

from core.ground.heights.geo_tags import as_grid, placed_by, with_holes
from core.ground.heights.grid import BadElevation, HeightGrid, check_cells

PACKING, SAMPLES = 259, 277
MODES = ("F", "I", "I;16", "I;16B")


def read_geotiff(data: bytes, where: str) -> HeightGrid:
    """A grid from the bytes of a GeoTIFF.

    Args:
        data: the whole file.
        where: its name, for messages.

    Raises: BadElevation for what is not one band of heights in longitude and latitude, or in
    meters of a UTM zone.
    """
    picture = opened(data, where)
    columns, rows = picture.size
    check_cells(columns, rows, where)
    tags = picture.tag_v2
    if picture.mode not in MODES or tags.get(SAMPLES, 1) != 1:
        raise not_heights(f"the kind {picture.mode} with {tags.get(SAMPLES, 1)} bands", where)
    if data[:2] == b"MM" and tags.get(PACKING, 1) != 1:
        raise packed_big_endian(where)
    placed = placed_by(tags, where)
    return as_grid(with_holes(unpacked(picture, where), placed.no_data), placed, where)


def not_heights(told: str, where: str) -> BadElevation:
    """The fault of a picture that is none of heights. Args: what it is; the file."""
    return BadElevation(
        f"the picture is of {told}, not one band of heights",
        where,
        "Take the elevation itself, not a shaded picture.",
    )


def packed_big_endian(where: str) -> BadElevation:
    """The fault of numbers that Pillow gives with their bytes the wrong way round."""
    return BadElevation(
        "the heights are packed, and big-endian",
        where,
        "Save it little-endian, as most programs do, or not packed.",
    )


def opened(data: bytes, where: str):
    """Pillow's picture of a TIFF. Args: its bytes; the file. Raises: BadElevation."""
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return Image.open(io.BytesIO(data), formats=["TIFF"])
    except (
        UnidentifiedImageError,
        Image.DecompressionBombError,
        ValueError,
        TypeError,
        KeyError,
        SyntaxError,
        OSError,
        EOFError,
        OverflowError,
    ) as error:
        raise BadElevation(
            f"the TIFF cannot be read: {str(error)[:80] or type(error).__name__}",
            where,
            "Save it as a plain GeoTIFF: one band, 16-bit whole numbers or 32-bit floats, "
            "not packed or packed with deflate.",
        ) from None


def unpacked(picture, where: str) -> np.ndarray:
    """A picture's numbers. Args: Pillow's picture; the file. Raises: BadElevation."""
    try:
        return np.asarray(picture)
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError, OverflowError) as error:
        raise BadElevation(
            f"the heights cannot be unpacked: {str(error)[:80]}",
            where,
            "The file may be cut off, or packed in an odd way: save it packed with deflate.",
        ) from None
