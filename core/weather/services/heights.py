"""The heights of a ground in one press: which service, what is sent, what came.

In the United States the Geological Survey's tiles are read in ranges, its image service
comes second; elsewhere, and where it has none, Copernicus' tiles, which are of treetops.
Nothing is kept here, and nothing is asked before a press.
Source: [usgs-3dep], [copernicus-dem].
"""

import contextlib
import math
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import urlencode

from core.errors import StandWindError
from core.ground.heights.elevation_file import in_meters
from core.ground.heights.geotiff import read_geotiff
from core.ground.heights.grid import (
    GROUND,
    METERS,
    TREETOPS,
    BadElevation,
    HeightGrid,
    NoHeightInIt,
)
from core.ground.heights.joined import one_grid
from core.ground.heights.tiff_window import Box, read_window
from core.weather.services.service import TRY_LATER, Line, Odd, open_line
from core.weather.services.sources import Services, host_of, in_united_states, services

STEP_DEG = 0.01
HEAD_BYTES = 65_536
MOST_PIXELS = 1000  # along a side; larger pictures failed, as a user of the service tells
CELLS_PER_DEG = 10_800  # a third of an arc-second
NOT_THERE = (403, 404)
WANTED = "grid of heights"
USGS_CREDIT = "U.S. Geological Survey, 3D Elevation Program"
USGS_TERMS = "free of charge and without use restrictions"
# the words that its licence asks for
COPERNICUS_CREDIT = (
    "produced using Copernicus WorldDEM-30 © DLR e.V. 2010-2014 and © Airbus Defence and Space "
    "GmbH 2014-2018 provided under COPERNICUS by the European Union and ESA; all rights reserved"
)


@dataclass(frozen=True, eq=False)
class Came:
    """Heights in meters, where they are from, what has to be said beside them, and whether
    they are of the ground or of treetops."""

    grid: HeightGrid
    source: str
    credit: str
    surface: str


class NoHeights(StandWindError):
    """No heights came; what was there before stays."""


class NoneThere(Exception):
    """A service that has no heights of this place."""


def box_sent(box: Box) -> Box:
    """A box as it leaves the machine: rounded outward to 0.01 deg.

    Args: west, south, east, north [deg]. Returns: so too.
    """
    west, south, east, north = (round(v / STEP_DEG, 6) for v in box)
    low, high = (math.floor(west), math.floor(south)), (math.ceil(east), math.ceil(north))
    return tuple(round(v * STEP_DEG, 2) + 0.0 for v in (*low, *high))  # type: ignore[return-value]


def said_before(box: Box, at: Services | None = None) -> str:
    """What will be sent where, and on which terms; to be read before the first request.

    Args: west, south, east, north about the ground [deg]; the services.
    """
    at, sent = at or services(), box_sent(box)
    west, south, east, north = (f"{v:.2f}" for v in sent)
    head = (
        f"The box: latitude {south} to {north}, longitude {west} to {east}, all your features and "
        "a kilometer about them, rounded outward to 0.01°."
    )
    other = (
        f"{host_of(at.copernicus_url)} (Copernicus, 30 m cells, of treetops: {COPERNICUS_CREDIT})"
    )
    if not _is_american(sent):
        return (
            f"{head} Asks {other}. Sent: the names of the tiles, one degree wide, which pieces of "
            f"them, and the name “{at.agent}”."
        )
    return (
        f"{head} Asks {host_of(at.usgs_url)} ({USGS_CREDIT}, 10 m cells; {USGS_TERMS}). Sent: the "
        "names of the tiles, one degree wide, which pieces of them (a few miles wide), and the "
        f"name “{at.agent}”. If that fails: {host_of(at.usgs_image_url)}, which is sent the box. "
        f"If both have none there: {other}."
    )


def fetch_heights(box: Box, at: Services | None = None) -> Came:
    """The heights about a ground, from the first service that has them.

    Args: west, south, east, north about the ground [deg]; the services.
    Raises: NoHeights, with what went wrong at each service.
    """
    at = at or services()
    done: list[Came | BaseException] = []

    def work() -> None:
        try:
            done.append(_asked(box_sent(box), at))
        except BaseException as fault:  # handed to the thread that waits
            done.append(fault)

    # a thread, because a name look-up and a dripping body heed no limit of ours
    worker = threading.Thread(target=work, daemon=True)
    worker.start()
    worker.join(at.heights_limit_s)
    if not done:
        raise NoHeights(f"no answer within {at.heights_limit_s:g} s", "the heights", TRY_LATER)
    if isinstance(done[0], BaseException):
        raise done[0]
    return done[0]


def _asked(sent: Box, at: Services) -> Came:
    deadline = time.monotonic() + at.heights_limit_s
    ways: list[tuple[str, Callable[[Line, Box], Came]]] = [(at.copernicus_url, _copernicus)]
    if _is_american(sent):
        ways = [(at.usgs_url, _usgs), (at.usgs_image_url, _usgs_image), *ways]
    troubles: list[str] = []
    with open_line(None, at, deadline, WANTED) as line:
        for url, ask in ways:
            if ask is _copernicus and troubles:
                break  # heights of the ground are there, and could not be had now
            try:
                return ask(line, sent)
            except NoneThere:
                continue
            except Odd as odd:
                fix = odd.fix
                troubles.append(f"{host_of(url)}: {odd.what}")
            except BadElevation as fault:
                fix = TRY_LATER
                troubles.append(f"{host_of(url)}: {fault.what}")
    if not troubles:
        raise NoHeights(
            "no service has heights of this place", "the heights", "Use a file of your own."
        )
    raise NoHeights("; ".join(troubles), "the heights", f"{fix} Or use a file of your own.")


def _is_american(box: Box) -> bool:
    west, south, east, north = box
    return in_united_states(((west + east) / 2.0, (south + north) / 2.0))


def _usgs(line: Line, box: Box) -> Came:
    def address(west: int, south: int) -> str:
        north = south + 1
        name = f"{'n' if north >= 0 else 's'}{abs(north):02d}{'w' if west < 0 else 'e'}"
        name += f"{abs(west):03d}"
        folder = "StagedProducts/Elevation/13/TIFF/current"
        return f"{line.at.usgs_url}/{folder}/{name}/USGS_13_{name}.tif"

    grid, names = _tiles(line, box, address)
    return Came(grid, f"{USGS_CREDIT}, {', '.join(names)}", USGS_TERMS, GROUND)


def _copernicus(line: Line, box: Box) -> Came:
    def address(west: int, south: int) -> str:
        place = f"{'N' if south >= 0 else 'S'}{abs(south):02d}_00_"
        place += f"{'E' if west >= 0 else 'W'}{abs(west):03d}_00"
        name = f"Copernicus_DSM_COG_10_{place}_DEM"
        return f"{line.at.copernicus_url}/{name}/{name}.tif"

    grid, names = _tiles(line, box, address)
    return Came(grid, f"Copernicus DEM, {', '.join(names)}", COPERNICUS_CREDIT, TREETOPS)


def _tiles(
    line: Line, box: Box, address: Callable[[int, int], str]
) -> tuple[HeightGrid, list[str]]:
    """The pieces in a box of all tiles of one degree that it touches, and their names."""
    west, south, east, north = box
    found, names = [], []
    for lat in range(math.floor(south), math.ceil(north)):
        for lon in range(math.floor(west), math.ceil(east)):
            url = address(lon, lat)
            name = url.rpartition("/")[2]
            part = (max(west, lon), max(south, lat), min(east, lon + 1), min(north, lat + 1))
            try:
                grid = read_window(_Parts(line, url), part, name)
            except Odd as odd:
                if odd.status in NOT_THERE:
                    continue
                raise
            except NoHeightInIt:
                continue
            _check_place(grid, part)
            found.append(in_meters(grid, name, METERS))
            names.append(name)
    if not found:
        raise NoneThere
    return one_grid(found, "the heights"), names


class _Parts:
    """Reads bytes of a file on a service; its head comes in one piece."""

    def __init__(self, line: Line, url: str) -> None:
        self.line, self.url = line, url
        self.head: bytes | None = None

    def __call__(self, first: int, count: int) -> bytes:
        if self.head is None:
            self.head = self.line.get_part(self.url, 0, HEAD_BYTES)
        if first + count <= len(self.head) or len(self.head) < HEAD_BYTES:
            return self.head[first : first + count]
        return self.line.get_part(self.url, first, count)


def _usgs_image(line: Line, box: Box) -> Came:
    west, south, east, north = box
    size = [min(MOST_PIXELS, round(d * CELLS_PER_DEG)) for d in (east - west, north - south)]
    asked = {
        "bbox": ",".join(f"{v:.2f}" for v in box),
        "bboxSR": 4326,
        "imageSR": 4326,
        "size": f"{size[0]},{size[1]}",
        "format": "tiff",
        "pixelType": "F32",
        "interpolation": "RSP_BilinearInterpolation",
        "adjustAspectRatio": "false",
        "f": "image",
    }
    path = "arcgis/rest/services/3DEPElevation/ImageServer/exportImage"
    url = f"{line.at.usgs_image_url}/{path}?{urlencode(asked, safe=',')}"
    kept: list[HeightGrid] = []

    def check(body: bytes) -> None:
        if body[:2] not in (b"II", b"MM"):
            raise BadElevation(f"it starts with {body[:40]!r}")
        with contextlib.suppress(NoHeightInIt):
            kept.append(read_geotiff(body, "the picture"))

    try:
        line.get_file(url, check)
    except Odd as odd:
        if odd.status in NOT_THERE:
            raise NoneThere from odd
        raise
    if not kept:
        raise NoneThere
    grid = in_meters(kept[-1], "the picture", METERS)
    _check_place(grid, box)
    return Came(grid, f"{USGS_CREDIT}, its image service", USGS_TERMS, GROUND)


def _check_place(grid: HeightGrid, box: Box) -> None:
    """That heights lie where they were asked for. Raises: BadElevation."""
    west, south, east, north = box
    slack = 2.0 * max(grid.cell_lon_deg, grid.cell_lat_deg)
    reach = (grid.west_deg, grid.south_deg, grid.east_deg, grid.north_deg)
    short = max(reach[0] - west, reach[1] - south, east - reach[2], north - reach[3])
    if short > slack:
        told = ", ".join(f"{v:.3f}" for v in reach)
        raise BadElevation(f"the heights that came reach over {told}, not over the box")
