"""What a service answered, kept: one packed record a file, in a folder of the place.

A record that can't be read is passed over; what is written is there whole or not at all.
"""

import contextlib
import gzip
import json
import zlib
from pathlib import Path

from core.errors import StandWindError
from core.ground.atomic import make_folder, write_atomic
from core.weather.services.sources import Place, degrees

ENDING = ".json.gz"
VERSION = 1
NEARBY_DEG = 0.05  # a property whose middle moves this little keeps what it has
LARGEST_FILE_BYTES, UNPACKED_TIMES = 2_000_000, 10
BROKEN = (
    OSError,
    EOFError,
    zlib.error,
    ValueError,
    KeyError,
    TypeError,
    AttributeError,
    StandWindError,
)


def keep_record(path: Path, record: dict, mark: str, *, even_looking: bool = False) -> None:
    """Writes a record to its own file, and the folder where it is missing.

    Args: the file; what is kept; what kind of record it is; whether a server that only looks
    may. Raises: OSError where the disk won't; OnlyLooking.
    """
    make_folder(path.parent, even_looking=even_looking)
    marked = {"kept": mark, "version": VERSION, **record}
    data = json.dumps(marked, separators=(",", ":")).encode()
    write_atomic(path, gzip.compress(data, mtime=0), even_looking=even_looking)


def kept_record(path: Path, mark: str) -> dict:
    """The record of a file. Args: it; what kind it has to be.

    Raises: of `BROKEN`, for one that is missing, too large, cut, or of another kind.
    """
    if path.stat().st_size > LARGEST_FILE_BYTES:
        raise ValueError("too large for a record")
    with gzip.open(path) as stream:
        record = json.loads(stream.read(LARGEST_FILE_BYTES * UNPACKED_TIMES))
    if record["kept"] != mark or record["version"] != VERSION:
        raise ValueError(f"no {mark}")
    return record


def place_folder(home: Path, place: Place, holds: str = "*") -> Path:
    """Where what is kept of a place lies, or of one close by: a middle that moves a little keeps
    it.

    Args: the folder of all places; (lon, lat), rounded [deg]; names of files of which there has
    to be one for the folder to count. Returns: the nearest that counts; where none does, the
    place's own, which may not be there.
    """
    near = []
    for path in home.iterdir() if home.is_dir() else ():
        lat, _, lon = path.name.partition("_")
        with contextlib.suppress(ValueError):
            away = max(abs(float(lat) - place[1]), abs(float(lon) - place[0]))
            if away <= NEARBY_DEG and path.is_dir() and any(path.glob(holds)):
                near.append((away, path))
    return min(near)[1] if near else home / f"{degrees(place[1])}_{degrees(place[0])}"
