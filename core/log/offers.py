"""What felt air at a stand offers to its map: a turn of some winds, or winds that swirl.

Nothing is applied by itself. What an owner takes up is kept with the stand in the property
file, is judged by everywhere, and can be taken back.
"""

import copy
import datetime
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from core.air.felt import felt_from_deg
from core.angles import in_ranges, separation_deg
from core.ground.layout import Property, Ranges, Stand
from core.keep.entries import AIR, AS_TOLD, ROUND, SIT, Entry
from core.keep.felt_air import SECTOR_HALF_DEG, turns_by_sector

MIDDLES_DEG = tuple(45.0 * i for i in range(8))
LEAST_ROUND = 3  # times round and round in a sector
SWIRL_HALF_DEG = 22.5  # of the sector that is then offered


@dataclass(frozen=True, slots=True)
class Felt:
    """One felt air at a stand. Directions from [deg]; None where it went round or was not told."""

    date: str
    told_deg: float | None
    felt_deg: float | None
    is_round: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """A turn or, with `turn_deg` None, a swirl of the winds of a sector."""

    stand: str
    told_deg: float  # the middle of the sector
    from_deg: Ranges
    turn_deg: float | None
    felt: int  # times
    of: int
    low_deg: float = 0.0
    high_deg: float = 0.0

    @property
    def key(self) -> str:
        """What tells it from other offers."""
        return f"{self.stand} {'swirl' if self.turn_deg is None else 'turn'} {self.told_deg:.0f}"


def felt_at(entries: Iterable[Entry], stand: Stand) -> list[Felt]:
    """What was felt at a stand, with the wind that was told for then.

    Args: entries of the log, sits among them; the stand. Air as told came from where the
    screens had it: turned by what was taken up by then.
    """
    entries = list(entries)
    sits = {e.id: e for e in entries if e.kind == SIT}
    told_for = {(e.get("stand"), e.date, e.get("sit")): e for e in sits.values() if e.get("told")}
    found = []
    for entry in entries:
        sit = sits.get(entry.of or "")
        where = entry.get("stand") or (sit.get("stand") if sit else None)
        if entry.kind != AIR or where != stand.id:
            continue
        if sit is not None and not sit.get("told"):  # written in a line, and planned before
            sit = told_for.get((stand.id, sit.date, sit.get("sit")))
        told = entry.get("told_from_deg")
        told = told if told is not None else told_wind_deg(sit, entry.get("at"))
        is_round = entry.get("felt") == ROUND
        felt = None if is_round else entry.get("from_deg")
        if entry.get("felt") == AS_TOLD and told is not None:
            used = [turn for turn in stand.turns if turn.since and turn.since <= entry.date]
            felt = float(felt_from_deg(used, told))
        found.append(Felt(entry.date, told, felt, is_round))
    return found


def told_wind_deg(sit: Entry | None, at: str | None) -> float | None:
    """The wind that was told of a sit at an instant: that of the nearest hour. [deg]

    Args: the sit; an ISO time, None for its first hour.
    """
    hours = [
        h
        for h in ((sit.get("told") or {}).get("hours", ()) if sit else ())
        if isinstance(h, Mapping) and h.get("wind_from_deg") is not None and h.get("start")
    ]
    if not hours:
        return None
    if at is None:
        return float(hours[0]["wind_from_deg"])
    then = datetime.datetime.fromisoformat(at)

    def off(hour) -> float:
        since = (then - datetime.datetime.fromisoformat(hour["start"])).total_seconds()
        return max(-since, since - 3600.0, 0.0)

    return float(min(hours, key=off)["wind_from_deg"])


def offers(entries: Iterable[Entry], stand: Stand) -> list[Offer]:
    """What may be taken up at a stand: sectors do not overlap, those of the most cases first.

    Args: entries of the log; the stand. What it already has is not offered again.
    """
    felt = felt_at(entries, stand)
    return _turns(felt, stand) + _swirls(felt, stand)


def _turns(felt: list[Felt], stand: Stand) -> list[Offer]:
    told = [_number(x.told_deg) for x in felt]
    got = [_number(x.felt_deg) for x in felt]
    taken: list[float] = [_middle_deg(r) for turn in stand.turns for r in turn.from_deg]
    found = []
    turns = turns_by_sector(told, got, MIDDLES_DEG)
    order = sorted(turns, key=lambda t: (-t.cases, _off_middle_deg(told, t.told_deg), t.told_deg))
    for turn in order:
        apart = all(separation_deg(turn.told_deg, m) >= 2 * SECTOR_HALF_DEG - 1 for m in taken)
        if not turn.offered or not apart:
            continue
        taken.append(turn.told_deg)
        from_deg = _sector(turn.told_deg, SECTOR_HALF_DEG)
        round_ = round(turn.turn_deg)
        found.append(
            Offer(
                stand.id,
                turn.told_deg,
                from_deg,
                float(round_),
                turn.alike,
                turn.cases,
                turn.low_deg,
                turn.high_deg,
            )
        )
    return found


def _off_middle_deg(told: list[float], middle_deg: float) -> float:
    """How far the winds of a sector lie from its middle, on the mean. [deg]"""
    off = separation_deg(np.array(told), middle_deg)
    return float(off[off <= SECTOR_HALF_DEG].mean())


def _number(value: float | None) -> float:
    return math.nan if value is None else value


def _swirls(felt: list[Felt], stand: Stand) -> list[Offer]:
    known = stand.swirls
    if known is not None and known.under_mph is not None:
        return []  # a wind from there would have to be light as well: the owner's own words stand
    told = [x for x in felt if x.told_deg is not None]
    rounds = [x for x in told if x.is_round]
    found: list[Offer] = []
    near = {
        middle: [x for x in rounds if separation_deg(x.told_deg, middle) <= SWIRL_HALF_DEG]
        for middle in MIDDLES_DEG
    }
    for middle in sorted(near, key=lambda m: (-len(near[m]), m)):
        is_known = known is not None and known.from_deg and in_ranges(middle, known.from_deg)
        beside = any(separation_deg(middle, o.told_deg) < 2 * SWIRL_HALF_DEG for o in found)
        if len(near[middle]) < LEAST_ROUND or is_known or beside:
            continue
        cases = [x for x in told if separation_deg(x.told_deg, middle) <= SWIRL_HALF_DEG]
        sector = _sector(middle, SWIRL_HALF_DEG)
        found.append(Offer(stand.id, middle, sector, None, len(near[middle]), len(cases)))
    return found


def _sector(middle_deg: float, half_deg: float) -> Ranges:
    return (((middle_deg - half_deg) % 360.0, (middle_deg + half_deg) % 360.0),)


def _middle_deg(span: tuple[float, float]) -> float:
    return (span[0] + ((span[1] - span[0]) % 360.0) / 2.0) % 360.0


def taken_up(document: dict, offer: Offer, today: datetime.date) -> dict:
    """A property document with an offer taken up. Args: the document; the offer; the date."""
    document, members = _stand_in(document, offer.stand)
    ranges = [list(pair) for pair in offer.from_deg]
    if offer.turn_deg is None:
        swirls = dict(members.get("swirls") or {})
        swirls["from_deg"] = [*(swirls.get("from_deg") or []), *ranges]
        members["swirls"] = swirls
    else:
        turn = {"from_deg": ranges, "turn_deg": offer.turn_deg, "felt": offer.felt, "of": offer.of}
        members["turns"] = [*(members.get("turns") or []), {**turn, "since": today.isoformat()}]
    return document


def taken_back(document: dict, stand: str, place: int) -> dict:
    """A property document without one of a stand's turns. Args: it; the stand; which turn."""
    document, members = _stand_in(document, stand)
    left = [turn for i, turn in enumerate(members.get("turns") or []) if i != place]
    if left:
        members["turns"] = left
    else:
        members.pop("turns", None)
    return document


def _stand_in(document: dict, stand: str) -> tuple[dict, dict]:
    """A copy of a document, and the members of one of its stands in it."""
    document = copy.deepcopy(document)
    feature = next(item for item in document["features"] if item["id"] == stand)
    return document, feature["properties"]


def stands_with_offers(entries: Iterable[Entry], ground: Property) -> list[Offer]:
    """The offers of all stands. Args: entries of the log; the property."""
    entries = list(entries)
    air = [e for e in entries if e.kind == AIR]
    if not air:
        return []
    some = [*air, *(e for e in entries if e.kind == SIT)]
    return [offer for stand in ground.stands for offer in offers(some, stand)]
