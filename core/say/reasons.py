"""Why a stand stands where it does in one sit: the reasons as values."""

from collections.abc import Iterator

import numpy as np

from core.answer.one_sit import StandSit
from core.answer.shots import nothing_in_range
from core.judge import stand as a
from core.say.log.felt import as_felt
from core.say.reason_kinds import (
    KEEP_OUT,
    AirReaches,
    BeDown,
    CantCall,
    Fact,
    KeptOut,
    NotBefore,
    NothingInRange,
    NotJudged,
    Reason,
    RestedSince,
    ShortHour,
    SmallTurn,
    StillAirGoes,
    Walk,
    WayCrosses,
)
from core.say.why.air import of_hours, of_trails, of_turns
from core.sit.minutes import EVENING, SHORT_MIN
from core.sit.prepare import Sit
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CLEAN, JUST_OFF, STAY, WRONG, grade, milder
from core.sit.ways import MOST_SHOWN_YD, WayAir

RESTED_SHARE = 0.9  # above it what happened no longer weighs in words
MUCH_NEARER = 0.8  # a later hour this much nearer than the first is told too


def reasons(sit: Sit, seat: StandSit) -> tuple[Reason, ...]:
    """Why this stand stands where it does: what makes its group and verdict, then the rest.

    Args: the sit; the stand in it. Returns: each once.
    """
    found: list[Reason] = [*_kept_out(seat), *of_hours(sit, seat)]
    if a.AIR_SHARE in seat.causes:
        found.append(Fact.LOW_SHARE)
    if nothing_in_range(sit, seat):
        found.append(NothingInRange(seat.range_yd))
    turns = list(of_turns(sit, seat))
    small = [one for one in turns if isinstance(one, SmallTurn)]  # these change nothing
    found += [*of_trails(sit, seat), *_of_walks(sit, seat)]
    found += [one for one in turns if one not in small]
    found += _of_clock(sit, seat)
    found.sort(key=lambda one: not _is_cause(seat, one))  # else in the order that they have
    felt = as_felt(sit, seat)
    rest = [*([felt] if felt else []), *small, *_of_the_sit(sit, seat), rest_of(sit, seat)]
    return tuple(dict.fromkeys([*(found or [Fact.NOTHING_REACHED]), *rest]))


def _is_cause(seat: StandSit, reason: Reason) -> bool:
    """Whether it is for this reason that a stand has the group and the verdict it has."""
    if seat.group == STAY:
        return _keeps_out(seat, reason)
    if seat.group == CANT:
        unsure = isinstance(reason, CantCall | StillAirGoes) and seat.judged.air_group[0] == CANT
        return unsure or reason == KeptOut(a.NO_WAY)
    if seat.verdict != JUST_OFF:
        return False
    if isinstance(reason, Walk):  # its air is clean, its way out is not
        return reason.way == OUT and seat.judged.air_verdict[0] == CLEAN
    if not isinstance(reason, AirReaches):
        return False
    # a sit that ends early, or has neither first nor last light, is just-off for a wrong hour
    ends_early = bool(seat.judged.left_out[0]) or not seat.judged.has_prime[0]
    return reason.verdict == JUST_OFF or ends_early


def _keeps_out(seat: StandSit, reason: Reason) -> bool:
    """Whether a reason is one of the causes of a stand to stay out of."""
    if isinstance(reason, KeptOut):
        return reason.cause != a.NO_WAY
    if isinstance(reason, AirReaches):
        # wrong hours spoil a sit by what is left of it, too
        return reason.verdict == WRONG and bool({a.PRIME_HOUR, a.AIR_SHARE} & set(seat.causes))
    if isinstance(reason, Walk):
        return (a.WAY_IN if reason.way == IN else a.WAY_OUT) in seat.causes
    return reason == Fact.LOW_SHARE


def _kept_out(seat: StandSit) -> Iterator[Reason]:
    for cause in seat.causes:
        if cause == a.IS_TAKEN:
            yield KeptOut(cause, hunter=seat.taken_by)
        elif cause == a.GUST:
            yield KeptOut(cause, limit_mph=seat.stand.max_gust_mph or 0.0)
        elif cause in KEEP_OUT:
            yield KeptOut(cause)


def _of_walks(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    if seat.seated_s is None:
        return
    if seat.way_in is not None:
        if seat.way_in.verdict[0] != CLEAN:
            yield walk_of(sit, seat.way_in, IN)
        if seat.way_in.way.crosses:
            crossed = tuple(sorted(seat.way_in.way.crosses))
            yield WayCrosses(crossed, bool(seat.way_in.crossed_before_shot))
    if seat.way_out is None:
        yield Fact.NO_WAY_OUT
    elif seat.way_out.verdict[0] == WRONG:
        yield walk_of(sit, seat.way_out, OUT)


def walk_of(sit: Sit, air: WayAir, way: str) -> Walk:
    """A walk's air as a reason. Args: the sit; the walk's air; in or out."""
    like_yd, area = float(air.equivalent_yd[0]), int(air.worst_area[0])
    verdict, rules = int(air.verdict[0]), sit.scene.ground.air
    lane = air.way.lane.name or air.way.lane.id
    by_air = grade(like_yd, rules.wrong_within_yd, rules.clean_beyond_yd)
    by_air = int(milder(by_air) if air.second else by_air)
    if verdict == JUST_OFF and by_air == CLEAN and air.crossed_before_shot:
        return Walk(way, lane, verdict, "", like_yd, tuple(sorted(air.crossed_before_shot)))
    reaches = area >= 0 and like_yd <= MOST_SHOWN_YD
    return Walk(way, lane, verdict, sit.scene.areas[area].id if reaches else "", like_yd)


def _of_clock(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    if seat.leave_by_s is not None:
        yield BeDown(seat.leave_by_s)
    if seat.not_before_s is not None:
        yield NotBefore(seat.not_before_s)
    if bool(seat.judged.left_out[0]) and seat.leave_by_s is not None:
        yield Fact.ENDS_EARLY
    if seat.way_in is not None and seat.group != STAY and _settles_late(sit, seat):
        yield Fact.SETTLES_LATE


def _settles_late(sit: Sit, seat: StandSit) -> bool:
    """Settling is not judged, but said where the hour it falls in is wrong."""
    if seat.not_before_s is None or sit.clock.sit != EVENING:
        return False
    row = int(seat.judged.last_wrong[0])
    return not (seat.stand.set_up_min and seat.rows.end_s[row] <= seat.not_before_s)


def _of_the_sit(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """What is told of the sit: times too short to decide, what is not judged, what is unknown."""
    clock = sit.clock
    for case, minutes in enumerate(seat.rows.minutes):
        if 0 < minutes < SHORT_MIN:
            yield ShortHour(int(seat.rows.start_s[case]), int(minutes))
    for start_s, end_s in clock.left_pieces:
        yield NotJudged(start_s, end_s)
    if np.isnan(sit.rows.weather.cloud_frac[sit.window]).any() and len(clock.minutes):
        yield Fact.NO_CLOUD


def rest_of(sit: Sit, seat: StandSit) -> Reason:
    """How the log has it that a stand rested. Args: the sit; the stand in it."""
    if sit.sits.log is None:
        return Fact.NO_LOG
    return RestedSince(seat.sat_days, seat.rest < RESTED_SHARE)
