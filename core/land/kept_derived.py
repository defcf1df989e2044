"""Arrays that follow from heights, kept in the user's folder: nothing but a saving of time.

One file for the same heights, the same centre and the same rules; one that is missing or
damaged is made anew, and where none can be written all works as without.
"""

import contextlib
import hashlib
import io
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import numpy.typing as npt

from core.errors import StandWindError
from core.ground.atomic import make_folder, write_atomic
from core.ground.layout import LonLat
from core.ground.store import data_folder
from core.land.kept import KeptLand

FOLDER, START, ENDING = "cache", "land-", ".npz"
RULES = ("relief.py", "pools.py", "derived.py", "kept_derived.py")  # a change makes all anew
MOST_FILES = 8
Arrays = Mapping[str, npt.NDArray]


def kept_arrays(
    kept: KeptLand, center: LonLat, make: Callable[[], Arrays], folder: Path | None = None
) -> Arrays:
    """Arrays from their file, or made and kept.

    Args: the heights; the centre of the plane (lon, lat) [deg]; what makes them; the user's
    folder, None for the usual one. Raises: as `make`, and nothing else.
    """
    try:
        place = _place(kept, center, folder or data_folder())
    except StandWindError:  # there is no such folder, which others say
        return make()
    if (found := _read(place)) is not None:
        return found
    made = make()
    with contextlib.suppress(OSError):
        _write(place, made)
    return made


def _place(kept: KeptLand, center: LonLat, folder: Path) -> Path:
    """The file's name: the heights' own hash, and one of all else that they depend on."""
    code = hashlib.sha256(repr((center, _lattice(kept))).encode())
    code.update(np.ascontiguousarray(kept.grid.height).tobytes())
    for name in RULES:
        code.update(Path(__file__).with_name(name).read_bytes())
    return folder / FOLDER / f"{START}{kept.sha256[:12]}-{code.hexdigest()[:12]}{ENDING}"


def _lattice(kept: KeptLand) -> tuple[float, ...]:
    grid = kept.grid
    return (grid.west_deg, grid.north_deg, grid.cell_lon_deg, grid.cell_lat_deg)


def _read(place: Path) -> dict[str, npt.NDArray] | None:
    """The arrays of a file; None where it is not there, or not whole: each has a checksum."""
    try:
        with np.load(io.BytesIO(place.read_bytes()), allow_pickle=False) as told:
            return {name: told[name] for name in told.files}
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, NotImplementedError):
        return None


def _write(place: Path, arrays: Arrays) -> None:
    data = io.BytesIO()
    np.savez(data, **dict(arrays))  # type: ignore[arg-type]
    make_folder(place.parent, even_looking=True)
    write_atomic(place, data.getvalue(), even_looking=True)
    files = sorted(place.parent.glob(f"{START}*{ENDING}"), key=lambda p: p.stat().st_mtime)
    for old in files[:-MOST_FILES]:
        with contextlib.suppress(OSError):
            old.unlink()
