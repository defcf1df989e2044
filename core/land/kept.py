"""The grid of heights that is kept beside a property, and found again.

The heights lie in a GeoTIFF beside the property's file, under a name that holds their own
hash; the property's `land` member names them. So an earlier version of the property finds its
own heights, and a kill between the two writes leaves a property that is as it was.
"""

import datetime
import hashlib
import io
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from core.errors import BadProperty, StandWindError
from core.ground.atomic import write_atomic
from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import GROUND, METERS, TREETOPS, BadElevation, HeightGrid
from core.ground.looking import refuse_changes
from core.ground.store import Opened, save_property
from core.ground.versions import FOLDER as VERSIONS

MEMBER = "land"
NAME = re.compile(r"[^/\\\x00-\x1f]{1,200}\.land-[0-9a-f]{12}\.tif")
DEMO_FOLDER = Path(__file__).resolve().parent
LONGEST_TEXT = 500
# longitude and latitude, cells as areas, WGS 84, degrees, heights in meters
GEO_KEYS = ((1024, 2), (1025, 1), (2048, 4326), (2054, 9102), (4099, 9001))
TAGS = ((33550, 12), (33922, 12), (34735, 3))


@dataclass(frozen=True, eq=False)
class KeptLand:
    """Heights that are kept, and where they are from."""

    grid: HeightGrid
    source: str
    credit: str
    surface: str
    taken_utc: str
    sha256: str
    use: bool


def tiff(grid: HeightGrid) -> bytes:
    """A grid as a plain GeoTIFF: 32-bit floats packed with deflate, WGS 84, meters.

    Args: heights in meters. Source: [tiff6], [geotiff11].
    """
    from PIL import Image, TiffImagePlugin

    tags = TiffImagePlugin.ImageFileDirectory_v2()
    west = grid.west_deg - grid.cell_lon_deg / 2.0
    north = grid.north_deg + grid.cell_lat_deg / 2.0
    keys = [1, 1, 0, len(GEO_KEYS), *(v for k in GEO_KEYS for v in (k[0], 0, 1, k[1]))]
    values = (
        (grid.cell_lon_deg, grid.cell_lat_deg, 0.0),
        (0.0, 0.0, 0.0, west, north, 0.0),
        tuple(keys),
    )
    for (number, kind), told in zip(TAGS, values, strict=True):
        tags[number] = told
        tags.tagtype[number] = kind
    data = io.BytesIO()
    image = Image.fromarray(grid.height.astype(np.float32))
    image.save(data, format="TIFF", tiffinfo=tags, compression="tiff_adobe_deflate")
    return data.getvalue()


def write_land(
    opened: Opened, grid: HeightGrid, *, source: str, credit: str = "", surface: str, now_s: int
) -> dict:
    """Writes heights beside a property's file. Nothing names them yet.

    Args:
        opened: the property; it needs a file of its own.
        grid: heights in meters, cut to the ground.
        source, credit: where they are from, and what must be said beside them.
        surface: ground, or treetops.
        now_s: the clock, epoch seconds UTC.

    Returns: the `land` member that names them, see `with_member`.
    Raises: BadProperty without such a file; BadElevation where they cannot be written.
    """
    own = own_file(opened)
    data = tiff(grid)
    sha256 = hashlib.sha256(data).hexdigest()
    place = own.with_name(f"{own.stem}.land-{sha256[:12]}.tif")
    try:
        write_atomic(place, data)
    except OSError as error:
        raise BadElevation(
            f"the heights could not be written: {error.strerror or error}",
            place.name,
            "Make room or mend the folder's rights.",
        ) from error
    taken = datetime.datetime.fromtimestamp(now_s, datetime.UTC)
    return {
        "file": place.name,
        "sha256": sha256,
        "source": source[:LONGEST_TEXT],
        "credit": credit[:LONGEST_TEXT],
        "surface": surface,
        "cell_m": round(cell_m(grid), 1),
        "taken_utc": taken.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "use": True,
    }


def own_file(opened: Opened) -> Path:
    """The property's own file, beside which heights are kept.

    Raises: BadProperty without one; OnlyLooking.
    """
    refuse_changes()
    if opened.path is None or opened.read_only:
        raise BadProperty(
            "heights are kept beside a property of your own", "", "Save this ground under a name."
        )
    return opened.path


def keep_land(opened: Opened, grid: HeightGrid, *, now_s: int, **told: str) -> Opened:
    """Keeps heights beside a property and names them in it, at once.

    Args: the property; heights in meters, cut to the ground; the clock, epoch seconds UTC;
    source, credit and surface as `write_land` takes them.
    Returns: the property as it now is.
    Raises: as `write_land`, and as saving does.
    """
    member = write_land(opened, grid, now_s=now_s, **told)
    return save_property(opened, with_member(opened.document, member), now_s=now_s)


def cell_m(grid: HeightGrid) -> float:
    """How wide the cells of a grid are, the longer side. [m] Args: it."""
    from core.ground.plan import Plane

    plane = Plane((grid.west_deg, grid.north_deg))
    return max(grid.cell_lon_deg * plane.m_per_lon_deg, grid.cell_lat_deg * plane.m_per_lat_deg)


def with_member(document: dict, member: dict | None) -> dict:
    """A document with another `land` member. Args: a document, not changed; None for none."""
    told = {k: v for k, v in document["property"].items() if k != MEMBER}
    return {**document, "property": {**told, **({MEMBER: member} if member else {})}}


def land_of(opened: Opened) -> tuple[KeptLand | None, str]:
    """The heights of a property, or why there are none.

    Returns: the heights, or None with one sentence; the sentence is empty where none were
    ever kept. Missing, changed and unreadable files are told, never raised: every answer is
    then as if there were no heights.
    """
    member = opened.document.get("property", {}).get(MEMBER)
    if member is None:
        return None, ""
    if not _is_member(member):
        return (
            None,
            "The heights named in this ground's file are not understood: they are not used.",
        )
    name = member["file"]
    try:
        data = _read(opened, name)
    except OSError:
        return None, f"The heights are gone: {name} is not beside this ground's file."
    if hashlib.sha256(data).hexdigest() != member["sha256"]:
        return None, f"The heights in {name} were changed since they were kept: they are not used."
    try:
        grid = read_elevation(data, name, METERS)
    except StandWindError as fault:
        return None, f"The heights cannot be read: {fault.text()}"
    told = {k: str(member.get(k) or "")[:LONGEST_TEXT] for k in ("source", "credit", "taken_utc")}
    surface = TREETOPS if member.get("surface") == TREETOPS else GROUND
    return KeptLand(
        grid, surface=surface, sha256=member["sha256"], use=member.get("use") is not False, **told
    ), ""


def _is_member(member) -> bool:
    return (
        isinstance(member, dict)
        and isinstance(member.get("file"), str)
        and NAME.fullmatch(member["file"]) is not None
        and isinstance(member.get("sha256"), str)
    )


def _read(opened: Opened, name: str) -> bytes:
    """The bytes of a file beside the property; a copy of the demo finds the demo's own."""
    if opened.path is None:
        raise FileNotFoundError(name)
    folder = opened.path.parent
    if folder.parent.name == VERSIONS:  # an earlier version: beside the file itself
        folder = folder.parent.parent
    places = (folder / name, DEMO_FOLDER / name)
    return next((p for p in places if p.is_file()), places[0]).read_bytes()
