"""Features of a property made from what another program's file brought."""

import copy
import re
import unicodedata
from collections.abc import Collection, Iterable

from core.ground.exchange.items import BadMap, Incoming
from core.ground.fields import Fault
from core.ground.kinds import KINDS, LINE, POINT, POLYGON
from core.ground.layout import Line
from core.ground.shapes import WORDS, check_area, wound

LONGEST_ID = 40


def unsuited(incoming: Incoming, kind: str) -> str:
    """Why something cannot be taken as a kind; empty where it can.

    A line may become an area: its ends are joined.
    """
    if incoming.fault:
        return incoming.fault
    allowed = KINDS[kind].shapes
    if incoming.shape in allowed:
        return ""
    if incoming.shape == LINE and POLYGON in allowed:
        return _unsuited_ring(incoming.points)
    wanted = " or ".join(WORDS[shape] for shape in allowed)
    return f"is {WORDS[incoming.shape]}, and a {kind} must be {wanted}"


def _unsuited_ring(line: Line) -> str:
    if len(set(line)) < 3:
        return f"is a line with {len(set(line))} corners, too few for an area"
    try:
        check_area([_closed(line)])
    except Fault as fault:
        return f"as an area it {fault.text()}"
    return ""


def take(
    incoming: Incoming,
    kind: str,
    *,
    taken_ids: Collection[str] = (),
    stands: Iterable[str] | None = None,
    turned: bool = False,
) -> dict:
    """A feature of a property from something that came in.

    A feature of this program's own keeps its properties where the kind stays.

    Args:
        incoming: what came in.
        kind: what it is to be.
        taken_ids: ids that are in use.
        stands: for a lane, the ids of the stands it leads to; None keeps what it brings.
        turned: a line's points the other way round, so that a lane starts at the truck.

    Raises: BadMap for an unknown kind, and where it does not suit.
    """
    if kind not in KINDS:
        raise BadMap(f'"{kind}" is not a kind', "", f"Kinds are: {', '.join(KINDS)}.")
    fault = unsuited(incoming, kind)
    if fault:
        raise BadMap(fault, incoming.name, "Choose another kind, or leave it out.")
    properties = _properties(incoming, kind)
    if kind == "lane":
        properties["stands"] = list(stands if stands is not None else properties.get("stands", []))
    return {
        "type": "Feature",
        "id": free_id(incoming.id or incoming.name, kind, taken_ids),
        "geometry": _geometry(incoming, kind, turned=turned),
        "properties": properties,
    }


def take_all(chosen: Iterable[tuple[Incoming, str]], taken_ids: Collection[str] = ()) -> list[dict]:
    """Features of all that was chosen, each with its kind; ids differ from those taken.

    Lanes that come with their stands lead to the same stands, under their new ids.

    Raises: BadMap.
    """
    used, features, renamed = set(taken_ids), [], {}
    for incoming, kind in chosen:
        feature = take(incoming, kind, taken_ids=used)
        used.add(feature["id"])
        features.append(feature)
        if incoming.id:
            renamed[incoming.id] = feature["id"]
    for feature in features:
        if feature["properties"]["kind"] == "lane":
            names = feature["properties"]["stands"]
            feature["properties"]["stands"] = [renamed.get(name, name) for name in names]
    return features


def free_id(name: str, kind: str, taken_ids: Collection[str]) -> str:
    """An id from a name that nothing else has: "Big Öak" gives big-oak, or big-oak-2."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub("[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_ID].strip("-") or kind
    if stem not in taken_ids:
        return stem
    # thousands may be called the same: the first free number is found by halving
    taken, free = 1, 2
    while _numbered(stem, free) in taken_ids:
        taken, free = free, 2 * free
    while free - taken > 1:
        middle = (taken + free) // 2
        is_taken = _numbered(stem, middle) in taken_ids
        taken, free = (middle, free) if is_taken else (taken, middle)
    return _numbered(stem, free)


def _numbered(stem: str, number: int) -> str:
    tail = f"-{number}"
    return stem[: LONGEST_ID - len(tail)].strip("-") + tail


def _properties(incoming: Incoming, kind: str) -> dict:
    if incoming.members is not None and incoming.members.get("kind") == kind:
        return copy.deepcopy(incoming.members)
    notes = {"notes": incoming.text} if incoming.text else {}
    return {"kind": kind, "name": incoming.name, **notes}


def _geometry(incoming: Incoming, kind: str, *, turned: bool) -> dict:
    shape = incoming.shape if incoming.shape in KINDS[kind].shapes else POLYGON
    if shape == POINT:
        return {"type": POINT, "coordinates": list(incoming.points[0])}
    if shape == LINE:
        line = incoming.points[::-1] if turned else incoming.points
        return {"type": LINE, "coordinates": [list(place) for place in line]}
    rings = [_closed(ring) for ring in (incoming.points, *incoming.holes)]
    wound_rings = [
        wound([list(place) for place in ring], outer=index == 0) for index, ring in enumerate(rings)
    ]
    return {"type": POLYGON, "coordinates": wound_rings}


def _closed(line: Line) -> Line:
    return line if line[0] == line[-1] else (*line, line[0])
