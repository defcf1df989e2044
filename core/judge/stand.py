"""One stand in many sits: from its rows to a group and a verdict, with the walks."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import Part, Stand
from core.judge.exposure import StandHours, stand_hours
from core.judge.limits import GUST, STORM, STRONG
from core.judge.stand_rows import StandRows, rows_of
from core.judge.walked import DECIDING, EVERY, NO_WALKS, Walked, out_reaches
from core.judge.windy import too_windy
from core.sit.clock import NEVER_S
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import Sits
from core.sit.rank import Judged, hour_value, judge_sit, leave_by_s, opens_s
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.sit.ways import Chosen, choose, ways_in, ways_out
from core.units import SECONDS_PER_MINUTE

Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
Bools = Any  # arrays of truth; numpy types their reductions as scalars

# why a stand is out, in the order in which they are said
OUT_OF_SEASON, NO_MINUTES = "season", "closed-hours"
IS_CLOSED, NOT_NOW, IS_TAKEN = "closed", "not-now", "taken"
PRIME_HOUR, WAY_IN, AIR_SHARE = "prime-hour", "way-in", "air-share"
WAY_OUT, NO_WAY = "way-out", "no-way"
WINDY = (STORM, GUST, STRONG)
RULED_OUT = (OUT_OF_SEASON, NO_MINUTES, IS_CLOSED, NOT_NOW, IS_TAKEN)  # whatever the wind
CAUSES = (*RULED_OUT, *WINDY, PRIME_HOUR, WAY_IN, AIR_SHARE, WAY_OUT, NO_WAY)
BY_ITS_AIR = (PRIME_HOUR, AIR_SHARE, WAY_IN, WAY_OUT)  # these make a sit wrong, not only out
BY_AIR_OR_WAY_IN = [CAUSES.index(c) for c in (PRIME_HOUR, AIR_SHARE, WAY_IN)]
LAST = (IS_CLOSED, NOT_NOW, IS_TAKEN)  # these come last in the order
WATCH = "watch"


@dataclass(frozen=True, eq=False)
class StandSits:
    """One stand in some sits; shapes (sit,).

    `causes`: truth of each of `CAUSES`, shape (cause, sit). `wanted`: the owner's word, or
    None. Times are epoch seconds, `NEVER_S` for none. `way_in`, `way_out`: the walks taken,
    None where no way is drawn, or where none was to be judged.
    """

    stand: Stand
    range_yd: float
    rows: StandRows
    hours: StandHours
    judged: Judged
    causes: Bools
    group: Ints8
    verdict: Ints8
    wanted: npt.NDArray[np.object_]
    seated_s: Ints
    leave_by_s: Ints
    not_before_s: Ints
    way_in: Chosen | None
    way_out: Chosen | None
    taken_by: str = ""

    @property
    def leaves_s(self) -> npt.NDArray[np.float64]:
        """When the truck is left at the latest; without a judged way in, when seated. [epoch s]"""
        return self.seated_s.astype(float) if self.way_in is None else self.way_in.start_s

    def any_of(self, causes: tuple[str, ...]) -> Bools:
        """Sits that any of some causes keeps out. Args: of `CAUSES`."""
        return self.causes[[CAUSES.index(c) for c in causes]].any(axis=0)


@dataclass(frozen=True, eq=False)
class SeatAir:
    """One stand in some sits by its air alone; shapes (sit,).

    `seated_s` and the two others: as in `StandSits`; `by_air`: sits that the air keeps out.
    """

    stand: Stand
    rows: StandRows
    hours: StandHours
    judged: Judged
    seated_s: Ints
    leave_by_s: Ints
    not_before_s: Ints
    by_air: Bools


def seat_air(own: StandRows, stand: Stand) -> SeatAir:
    """The air of one stand in every sit, in the wind of each. Args: its rows; the stand."""
    sits, clock = own.sits, own.sits.clock
    hours, by_sit, rows = stand_hours(own, sits.armed(stand)), own.judged.by_sit, own.judged.rows
    value = by_sit(hour_value(hours.verdict, hours.still, stand.edge_ok))
    judged = judge_sit(clock.sit, rows, by_sit(hours.verdict), value)
    not_before = _not_before_s(own, stand, judged)
    return SeatAir(
        stand=stand,
        rows=own,
        hours=hours,
        judged=judged,
        seated_s=np.where(not_before == NEVER_S, clock.seated_s, not_before),
        leave_by_s=leave_by_s(clock.sit, rows, judged),
        not_before_s=not_before,
        by_air=judged.wrong_prime | (judged.low_share & clock.open),
    )


def stand_sits(sits: Sits, stand: Stand, taken_by: str = "", walks: int = EVERY) -> StandSits:
    """Judges one stand in every sit, in the wind of each. Args: the sits; the stand; as below."""
    return with_walks(seat_air(rows_of(sits, stand), stand), taken_by, walks)


def with_walks(air: SeatAir, taken_by: str = "", walks: int = EVERY) -> StandSits:
    """Judges one stand whose air is known, with its walks.

    Args: its air; the other hunter who sits there; which walks are judged. Those that decide
    are of sits that the air does not spoil; without any walk every way counts as clean (no sit
    is then less go than with them).
    """
    own, stand, judged, by_air = air.rows, air.stand, air.judged, air.by_air
    sits, leave = own.sits, air.leave_by_s
    clock = sits.clock
    asked = {EVERY: ~by_air | True, DECIDING: ~by_air, NO_WALKS: by_air & False}[walks]
    which = np.flatnonzero(asked)
    way_in = choose(ways_in(sits, stand, air.seated_s[which], which)) if walks != NO_WALKS else None
    down_s = np.where(leave != NEVER_S, leave, np.where(clock.open, clock.end_s, clock.legal_end_s))
    way_out = choose(ways_out(sits, stand, down_s, which)) if walks == EVERY else None
    taken_ways = Walked(sits, stand, walks, down_s, way_in, way_out)
    causes = _causes(own, stand, judged, taken_ways, by_air, taken_by)
    causes[CAUSES.index(WAY_OUT)], wrong_out = out_reaches(
        taken_ways, causes[BY_AIR_OR_WAY_IN].any(axis=0)
    )
    group, verdict = _group(judged, causes, wrong_out)
    return StandSits(
        stand=stand,
        range_yd=sits.range_yd(stand),
        rows=own,
        hours=air.hours,
        judged=judged,
        causes=causes,
        group=group,
        verdict=verdict,
        wanted=wanted_words(sits, stand),
        seated_s=air.seated_s,
        leave_by_s=leave,
        not_before_s=air.not_before_s,
        way_in=way_in,
        way_out=way_out,
        taken_by=taken_by,
    )


def _not_before_s(own: StandRows, stand: Stand, judged: Judged) -> Ints:
    """When a hunter may be seated at the soonest, after the last wrong row and setting up."""
    opens = opens_s(own.sits.clock.sit, own.judged.rows, judged)
    return np.where(opens == NEVER_S, NEVER_S, opens + round(stand.set_up_min * SECONDS_PER_MINUTE))


def wanted_word(stand: Stand, sit: str, part: Part | None) -> str | None:
    """The owner's word for a stand in a kind of sit and part; all day takes the lower.

    Args: the stand; the kind of sit; the part of the season, or None.
    """
    by_part = dict(stand.wanted.by_part).get(part.name) if part else None
    morning, evening = by_part or (None, None)
    morning, evening = morning or stand.wanted.morning, evening or stand.wanted.evening
    if sit == MORNING:
        return morning
    if sit == EVENING:
        return evening
    order = ("best", "good", "watch", "not-now")
    return max((w for w in (morning, evening) if w), key=order.index, default=None)


def wanted_words(sits: Sits, stand: Stand) -> npt.NDArray[np.object_]:
    """The owner's word for a stand in each of some sits, or None; shape (sit,).

    Args: the sits; the stand.
    """
    words = _of_part(sits, lambda part: wanted_word(stand, sits.clock.sit, part))
    return np.asarray(words, object)


def _of_part(sits: Sits, ask: Callable[[Part | None], Any]) -> Any:
    """What is said of the part of the season that each sit lies in; shape (sit,)."""
    return sits.clock.dates.of_part(ask)[sits.clock.at]


def _causes(
    own: StandRows, stand: Stand, judged: Judged, walked: Walked, by_air: Bools, taken_by: str
) -> Bools:
    """Why a stand is out of each sit, but for its way out; shape (cause, sit)."""
    sits = own.sits
    clock, way_in = sits.clock, walked.way_in
    found = np.zeros((len(CAUSES), len(sits)), bool)
    wrong_way = np.zeros(len(sits), bool)
    if way_in is not None:
        wrong_way[way_in.sits] = way_in.verdict == WRONG
    holds = {
        OUT_OF_SEASON: clock.outside,
        NO_MINUTES: ~clock.open,
        IS_CLOSED: stand.closed,
        NOT_NOW: _of_part(sits, lambda part: wanted_word(stand, clock.sit, part) == NOT_NOW),
        IS_TAKEN: bool(taken_by),
        **too_windy(own, judged, walked, ~by_air | (walked.walks == EVERY)),
        PRIME_HOUR: judged.wrong_prime,
        WAY_IN: wrong_way,
        AIR_SHARE: judged.low_share & clock.open,
        WAY_OUT: False,
        NO_WAY: walked.walks != NO_WALKS and way_in is None,
    }
    for i, cause in enumerate(CAUSES):
        found[i] = holds[cause]
    found[len(RULED_OUT) :] &= clock.open
    return found


def _group(judged: Judged, causes: Bools, wrong_out: Bools) -> tuple[Ints8, Ints8]:
    """Group and verdict of each sit, from its air, what keeps it out, and its way out."""
    no_way = causes[CAUSES.index(NO_WAY)]
    stay = causes[:-1].any(axis=0)
    by_its_air = causes[[CAUSES.index(c) for c in BY_ITS_AIR]].any(axis=0)
    cant = ~stay & ((judged.air_group == CANT) | no_way)
    closed, clean_air = causes[CAUSES.index(NO_MINUTES)], judged.air_verdict == CLEAN
    lost = stay & no_way & (judged.air_verdict != WRONG)
    verdict = np.where(wrong_out & clean_air, np.int8(JUST_OFF), judged.air_verdict)
    for word, holds in ((CANT_CALL, lost), (WRONG, by_its_air), (CANT_CALL, cant | closed)):
        verdict[holds] = word  # a later one overrules
    group = np.where(cant, np.int8(CANT), np.int8(GO))
    group[stay] = STAY
    return group, verdict
