"""The answer: which stand, which way, and why, for one date, sit and wind.

`answer_sit` puts the rooms together. Numbers stay unrounded here; `report` and
`words` round and say them.
"""

from dataclasses import dataclass

import numpy as np

from core.errors import BadRequest
from core.ground.layout import Stand
from core.sit.exposure import StandHours
from core.sit.limits import GUST, STORM, STRONG, over_limits
from core.sit.order import IS_CLOSED, IS_TAKEN, NOT_NOW, ordered, wanted_word
from core.sit.prepare import Sit, prepare_sit, window_hours
from core.sit.rank import (
    Judged,
    hour_value,
    judge_sit,
    leave_by_s,
    opens_s,
    rest_share,
)
from core.sit.rows import SlopeRows, slope_rows
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CANT_CALL, STAY, WRONG
from core.sit.ways import WayAir, choose_way, judge_way
from core.units import SECONDS_PER_MINUTE

__all__ = [
    "GUST",
    "IS_CLOSED",
    "IS_TAKEN",
    "NOT_NOW",
    "STORM",
    "STRONG",
    "Sit",
    "SitAnswer",
    "StandSit",
    "answer_sit",
    "judge_ways_in",
    "prepare_sit",
    "seated_s",
    "stand_sit",
    "too_windy",
    "wind_rows",
    "window_hours",
]

# why a stand is out, in the order in which they are said
OUT_OF_SEASON, NO_MINUTES = "season", "closed-hours"
WAY_IN, PRIME_HOUR, AIR_SHARE, NO_WAY = (
    "way-in",
    "prime-hour",
    "air-share",
    "no-way",
)


@dataclass(frozen=True, eq=False)
class StandSit:
    """One stand in one sit."""

    stand: Stand
    range_yd: float
    corridors: tuple[str, ...]
    hours: StandHours
    slope: SlopeRows | None
    judged: Judged
    group: int
    verdict: int
    causes: tuple[str, ...]
    wanted: str | None
    seated_s: int
    leave_by_s: int | None
    not_before_s: int | None
    way_in: WayAir | None
    way_out: WayAir | None
    leave_truck_s: int | None
    rest: float
    rank: int = 0
    score: float = 0.0
    taken_by: str = ""

    @property
    def air_share(self) -> float:
        return float(self.judged.air_share[0])


@dataclass(frozen=True, eq=False)
class SitAnswer:
    """A whole answer; `stands` in order, best first."""

    sit: Sit
    stands: tuple[StandSit, ...]

    @property
    def best(self) -> StandSit | None:
        return self.stands[0] if self.stands else None


def stand_sit(sit: Sit, stand: Stand, taken_by: str = "") -> StandSit:
    """Judges one stand in the forecast's own wind."""
    clock, rows = sit.clock, sit.rows
    slope = slope_rows(rows, stand)
    hours = window_hours(sit, stand, slope)
    value = hour_value(hours.verdict, hours.still, stand.edge_ok)
    judged = judge_sit(clock.sit, clock, hours.verdict[None, :], value[None, :])
    seated, opens = seated_s(sit, stand, judged)
    way_in = choose_way(judge_ways_in(sit, stand, seated))
    ends_s = leave_by_s(clock, judged) or clock.end_s or clock.legal_end_s
    way_out = choose_way(
        [judge_way(sit.scene, rows, w, ends_s) for w in sit.scene.ways(stand, OUT)]
    )
    causes = _causes(sit, stand, judged, way_in, way_out, taken_by)
    air_only = int(judged.air_verdict[0])
    group, verdict = _group(judged, causes)
    if group == STAY and not set(causes) & {PRIME_HOUR, AIR_SHARE, WAY_IN}:
        verdict = CANT_CALL if NO_WAY in causes and air_only != WRONG else air_only
    wanted = wanted_word(stand, clock)
    leave = None
    if way_in is not None:
        leave = int(way_in.start_s)
    return StandSit(
        stand=stand,
        range_yd=sit.range_yd(stand),
        corridors=sit.scene.corridors_in_range(stand, sit.range_yd(stand)),
        hours=hours,
        slope=slope,
        judged=judged,
        group=group,
        verdict=verdict,
        causes=causes,
        wanted=wanted,
        seated_s=seated,
        leave_by_s=leave_by_s(clock, judged),
        not_before_s=opens,
        way_in=way_in,
        way_out=way_out,
        leave_truck_s=leave,
        rest=rest_share(),
        taken_by=taken_by,
    )


def seated_s(sit: Sit, stand: Stand, judged: Judged, case: int = 0) -> tuple[int, int | None]:
    """When the hunter is seated, and the "not before" behind it where there is one.

    Args: the sit, the stand, its judged cases, and which of them.
    """
    opens = opens_s(sit.clock, judged, case)
    if opens is None:
        return sit.clock.seated_s, None
    not_before = opens + round(stand.set_up_min * SECONDS_PER_MINUTE)
    return not_before, not_before


def judge_ways_in(sit: Sit, stand: Stand, seated: int, wind_from_deg=None) -> list[WayAir]:
    """Every way in, so timed that the hunter is set up when seated.

    Args: the sit; the stand; when seated [epoch s]; directions to put in every
    hour [deg], shape (case,), or None for the forecast's own.
    """
    range_yd, ends = sit.range_yd(stand), sit.ends_at(seated)
    judged = []
    for way in sit.scene.ways(stand, IN):
        start = seated - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        crossed = sit.scene.crosses_before_shot(way, stand, range_yd, ends)
        judged.append(judge_way(sit.scene, sit.rows, way, start, wind_from_deg, crossed))
    return judged


def too_windy(sit: Sit, stand: Stand, rows_used) -> tuple[str, ...]:
    """Why the wind of some rows rules out a seat (`core.sit.limits`); empty where none does."""
    over = over_limits(stand, sit.rows.weather)
    return tuple(why for why, rows in over.items() if rows[np.asarray(rows_used, int)].any())


def wind_rows(sit: Sit, judged: Judged, ways, case: int = 0):
    """Rows that the wind limits look at: the stretch, or the window, and the walks.

    Args: the sit; its judged cases; the ways walked (None for none); which case.
    """
    own = np.arange(len(sit.rows.start_s))[sit.window]
    stretch = own if judged.empty[case] else own[judged.stretch[case]]
    return np.unique(np.concatenate([stretch, *(w.rows for w in ways if w is not None)]))


def _causes(sit: Sit, stand: Stand, judged, way_in, way_out, taken_by) -> tuple[str, ...]:
    found = []
    if sit.clock.outside:
        found.append(OUT_OF_SEASON)
    if sit.clock.start_s is None:
        found.append(NO_MINUTES)
    if stand.closed:
        found.append(IS_CLOSED)
    if wanted_word(stand, sit.clock) == "not-now":
        found.append(NOT_NOW)
    if taken_by:
        found.append(IS_TAKEN)
    found += too_windy(sit, stand, wind_rows(sit, judged, (way_in, way_out)).astype(int))
    if judged.wrong_prime[0]:
        found.append(PRIME_HOUR)
    if way_in is not None and way_in.verdict[0] == WRONG:
        found.append(WAY_IN)
    if judged.low_share[0] and sit.clock.start_s is not None:
        found.append(AIR_SHARE)
    if way_in is None:
        found.append(NO_WAY)
    return tuple(found)


def _group(judged: Judged, causes: tuple[str, ...]) -> tuple[int, int]:
    if set(causes) - {NO_WAY}:
        return STAY, WRONG
    if judged.air_group[0] == CANT or NO_WAY in causes:
        return CANT, CANT_CALL
    return int(judged.air_group[0]), int(judged.air_verdict[0])


def answer_sit(sit: Sit, taken: dict[str, str] | None = None) -> SitAnswer:
    """Judges and orders every stand of a sit.

    Args: `taken`: names of the hunters who sit elsewhere, by stand id; a stand
    taken by the hunter of this sit is not taken.

    Raises: BadRequest for a taken stand that the property lacks.
    """
    taken = taken or {}
    ground = sit.scene.ground
    known = {s.id for s in ground.stands}
    for stand_id in taken:
        if stand_id not in known:
            raise BadRequest(
                f"no stand has the id '{stand_id}'", "the stands taken", "Use a stand's id."
            )
    me = sit.hunter.name.casefold() if sit.hunter else None
    others = {k: v for k, v in taken.items() if v.casefold() != me}
    judged = [stand_sit(sit, s, others.get(s.id, "")) for s in ground.stands]
    return SitAnswer(sit, tuple(ordered(sit, judged)))


def zone_order(sit: Sit, own: StandSit) -> list[str]:
    """Ids of the zones of a stand's hours, in their order."""
    return [a.id for a in sit.scene.areas] + own.hours.corridors
