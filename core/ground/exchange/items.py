"""What another program's map file brings: places as they came, what was mended, a guess.

Nothing is taken here. A screen shows every `Incoming` with its notes, and `taking` makes
features of those that the user wants.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from core.errors import StandWindError
from core.ground import shapes
from core.ground.exchange.guesses import guess_kind
from core.ground.exchange.walked import LEAST_PLACES, straightened
from core.ground.fields import Fault, shown
from core.ground.kinds import KINDS, LINE, POINT, POLYGON
from core.ground.layout import Line, LonLat
from core.ground.plan import Plane
from core.units import M_PER_YD

MOST_BYTES = 20_000_000
MOST_FEATURES = 5000
MOST_PLACES = 500_000
MANY_PLACES = 500  # a line with more was walked, not drawn
MANY_OWN_PLACES = 5000  # for a line that this program has written
PIECE_PLACES = 4000  # of a line, thinned at a time
WITHIN_YD = 1.5  # of the track; stays under 2 yd after rounding
LONGEST_NAME = 200
LONGEST_TEXT = 2000
NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?")
COMMA_NUMBER = re.compile(r"[+-]?\d+,\d+")


class BadMap(StandWindError):
    """A GeoJSON, GPX, KML or KMZ file that cannot be brought in."""


@dataclass(frozen=True)
class Incoming:
    """One thing in another program's file, not yet taken.

    An area's `points` and `holes` are rings without the closing place. `kind` is a
    guess, empty where nothing tells it. With a `fault` it cannot be taken, and the fault says why.
    """

    name: str
    shape: str  # Point, LineString or Polygon
    points: Line
    holes: tuple[Line, ...] = ()
    kind: str = "other"
    notes: tuple[str, ...] = ()
    fault: str = ""
    text: str = ""
    id: str = ""  # of a feature of this program's own
    members: dict | None = None  # all its properties
    symbol: str = ""  # as the other program calls its mark
    recorded: bool = False  # by a receiver that went along


@dataclass(frozen=True)
class Raw:
    """One thing as a reader found it: pairs of (longitude, latitude), text or numbers."""

    name: str
    shape: str
    lines: tuple[list[tuple[Any, Any]], ...]
    text: str = ""
    hints: tuple[str, ...] = ()  # words beside the name that may tell the kind
    kind: str = ""  # a kind that the file names itself
    id: str = ""
    members: dict | None = None
    fault: str = ""
    notes: tuple[str, ...] = ()  # what the reader mended
    symbol: str = ""
    recorded: bool = False  # a track of a receiver
    times_s: tuple[float, ...] = ()  # when each place was; empty where one is not known


def arrived(raw: Raw, number: int) -> Incoming:
    """An `Incoming` of what a reader found: places checked, mended where that is plain.

    Args:
        raw: what was found.
        number: its place in the file, for things without a name.
    """
    name = " ".join(raw.name.split())[:LONGEST_NAME]
    word = {POINT: "point", LINE: "line", POLYGON: "area"}.get(raw.shape, "thing")
    bare = Incoming(
        name=name or f"{word} {number}",
        shape=raw.shape,
        points=(),
        text=raw.text[:LONGEST_TEXT],
        kind=raw.kind if raw.kind in KINDS else guess_kind(raw.shape, raw.hints, raw.name),
        symbol=" ".join(raw.symbol.split())[:LONGEST_NAME],
        recorded=raw.recorded,
        fault=raw.fault,
        id=raw.id,
        members=raw.members,
        notes=(*raw.notes, *(() if name else ("it has no name",))),
    )
    if raw.fault:
        return replace(bare, notes=())  # of what can't be taken only the reason matters
    try:
        return _with_places(bare, raw)
    except Fault as fault:
        return replace(bare, notes=(), fault=f"{fault.text()}. {fault.fix}")


def _with_places(bare: Incoming, raw: Raw) -> Incoming:
    notes: list[str] = list(bare.notes)
    is_own = raw.kind in KINDS
    lines = [_places(line, notes, is_own=is_own) for line in raw.lines]
    if raw.shape == POINT:
        return replace(bare, points=lines[0], notes=tuple(notes))
    if raw.shape == POLYGON:
        rings = [_ring(line, notes) for line in lines]
        shapes.check_area([(*ring, ring[0]) for ring in rings])
        return replace(bare, points=rings[0], holes=tuple(rings[1:]), notes=tuple(notes))
    line = lines[0]
    if len(set(line)) < 2:
        raise Fault(f"is a line with {len(line)} points, all in one place", "Walk it again.")
    walk = _walk(line, raw.times_s) if raw.recorded else None
    if walk is not None:
        line = walk[0]
        notes.append(walk[1])
    elif raw.recorded and len(line) >= LEAST_PLACES:
        notes.append("kept as recorded: its bends may be the way's own or the receiver's")
    if walk is None and len(line) > (MANY_OWN_PLACES if is_own else MANY_PLACES):
        thin = thinned(line)
        notes.append(f"{len(line):,} points became {len(thin):,}, within 2 yd of them")
        line = thin
    return replace(bare, points=line, notes=tuple(notes))


def _walk(line: Line, times_s: tuple[float, ...]) -> tuple[Line, str] | None:
    """A recorded walk without its wobble, and what is told of that; None for any other line."""
    plane = Plane(line[0])
    timed = np.array(times_s) if len(times_s) == len(line) else None
    walk = straightened(plane.points(line), timed)
    if walk is None:
        return None
    lon, lat = plane.to_lonlat(*walk.places_m.T)
    before, after, doubt = (
        f"{m / M_PER_YD:,.0f} yd" for m in (walk.recorded_m, walk.length_m, walk.doubt_m)
    )
    stood = "; standing about at its ends was cut away" if walk.stood else ""
    told = (
        f"{before} as recorded, {after} without the wobble of the receiver, likely to within "
        f"{doubt}{stood}"
    )
    return tuple(zip(lon.tolist(), lat.tolist(), strict=True)), told


def _places(pairs: Iterable[tuple[Any, Any]], notes: list[str], *, is_own: bool) -> Line:
    """Good places of a line; what was mended or left out goes to the notes."""
    good, wrapped, left_out, commas = [], 0, [], 0
    for pair in pairs:
        lon, lat = (_degrees(value) for value in pair)
        commas += any(isinstance(v, str) and COMMA_NUMBER.fullmatch(v.strip()) for v in pair)
        is_wrapped = 180 < lon <= 360
        lon = lon - 360 if is_wrapped else lon
        if not (abs(lon) <= 180 and abs(lat) <= 90):
            left_out.append(pair)
        else:
            wrapped += is_wrapped
            good.append((lon, lat))
    # what this program wrote has no places that stand for none
    good, no_fix = (good, 0) if is_own else _without_no_fix(good)
    if left_out and not good:
        lon, lat = left_out[0]
        raise Fault(
            f"has longitude {shown(lon)}, latitude {shown(lat)}, out of range",
            "It must be in degrees, WGS 84.",
        )
    if not good:
        raise Fault("has no place: no position fix" if no_fix else "has no points", "Leave it out.")
    told = (
        (len(left_out), f"with degrees out of range, as {shown(left_out[:1])}, left out"),
        (no_fix, "at 0, 0, which is no position fix, left out"),
        (wrapped, "with a longitude over 180, moved to the west"),
        (commas, "with decimal commas, read as points"),
    )
    notes += [f"{n:,} {'place' if n == 1 else 'places'} {words}" for n, words in told if n]
    return tuple(good)


def _degrees(value: Any) -> float:
    """A number of degrees; NaN for what is none."""
    if isinstance(value, bool):
        return math.nan
    if isinstance(value, (int, float)):
        return float(value) if abs(value) < 1e9 else math.nan
    text = value.strip() if isinstance(value, str) else ""
    if COMMA_NUMBER.fullmatch(text):
        text = text.replace(",", ".")
    return float(text) if NUMBER.fullmatch(text) else math.nan


def _without_no_fix(places: list[LonLat]) -> tuple[list[LonLat], int]:
    """Without places at exactly 0, 0, unless the rest lies there too."""
    if all(abs(lon) < 1 and abs(lat) < 1 for lon, lat in places) and any(map(any, places)):
        return places, 0
    good = [place for place in places if any(place)]
    return good, len(places) - len(good)


def _ring(line: Line, notes: list[str]) -> Line:
    if line[0] == line[-1]:
        line = line[:-1]
    else:
        notes.append("its outline was open and was closed")
    if len(set(line)) < 3:
        raise Fault(f"is an area with {len(set(line))} corners", "Draw it again.")
    return line


def thinned(line: Line) -> Line:
    """A line with fewer places, nowhere farther than 2 yd from the one that came.

    Source: Douglas-Peucker, by shapely: what is left out lies within the tolerance of
    what is kept, and the other way round. Ends stay.
    """
    import shapely

    plane = Plane(line[0])
    local = plane.points(line)
    # the library calls itself for each part: a line in one piece can end the whole program
    starts = range(0, len(local) - 1, PIECE_PLACES)
    pieces = [shapely.LineString(local[start : start + PIECE_PLACES + 1]) for start in starts]
    kept = shapely.simplify(pieces, WITHIN_YD * M_PER_YD, preserve_topology=False)
    ends = [shapely.get_coordinates(piece)[1:] for piece in kept]
    lon, lat = plane.to_lonlat(*np.vstack([local[:1], *ends]).T)
    return tuple(zip(lon.tolist(), lat.tolist(), strict=True))


def check_counts(raws: list[Raw], where: str) -> None:
    """That a file holds something, and not too much. Raises: BadMap."""
    places = sum(len(line) for raw in raws for line in raw.lines)
    fix = "Bring in the part of it that is this ground."
    if len(raws) > MOST_FEATURES:
        raise BadMap(f"the file has {len(raws):,} things, over {MOST_FEATURES:,}", where, fix)
    if places > MOST_PLACES:
        raise BadMap(f"the file has {places:,} places, over {MOST_PLACES:,}", where, fix)
