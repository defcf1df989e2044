"""Why a stand stands where it does in one sit: the reasons as values."""

from collections.abc import Iterator

import numpy as np

from core.answer.one_sit import StandSit
from core.answer.shots import nothing_in_range, trails_in_wrong_air
from core.say.reason_kinds import (
    KEEP_OUT,
    AirAt,
    AirOnTrail,
    AirReaches,
    BeDown,
    CantCall,
    Fact,
    KeptOut,
    NotBefore,
    NothingInRange,
    NotJudged,
    Reason,
    Rested,
    ShortHour,
    StillAir,
    Walk,
    WayCrosses,
)
from core.sit import stand as a
from core.sit.minutes import EVENING, SHORT_MIN
from core.sit.prepare import Sit
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, JUST_OFF, STAY, WRONG
from core.sit.ways import MOST_SHOWN_YD, WayAir

RESTED_SHARE = 0.9  # above it what happened no longer weighs in words
MUCH_NEARER = 0.8  # a later hour this much nearer than the first is told too


def reasons(sit: Sit, seat: StandSit) -> tuple[Reason, ...]:
    """Why this stand stands where it does: what makes its group and verdict, then the rest.

    Args: the sit; the stand in it. Returns: each once.
    """
    found: list[Reason] = [*_kept_out(seat), *_of_hours(sit, seat)]
    if a.AIR_SHARE in seat.causes:
        found.append(Fact.LOW_SHARE)
    found += [*_of_trails(sit, seat), *_of_walks(sit, seat), *_of_clock(sit, seat)]
    found.sort(key=lambda one: not _is_cause(seat, one))  # else in the order that they have
    return tuple(
        dict.fromkeys([*(found or [Fact.NOTHING_REACHED]), *_of_the_sit(sit), rest_of(sit, seat)])
    )


def _is_cause(seat: StandSit, reason: Reason) -> bool:
    """Whether it is for this reason that a stand has the group and the verdict it has."""
    if seat.group == STAY:
        return _keeps_out(seat, reason)
    if seat.group == CANT:
        unsure = isinstance(reason, CantCall | StillAir) and seat.judged.air_group[0] == CANT
        return unsure or reason == KeptOut(a.NO_WAY)
    if seat.verdict != JUST_OFF or not isinstance(reason, AirReaches):
        return False
    # a sit that ends early, or has neither first nor last light, is just-off for a wrong hour
    ends_early = bool(seat.judged.left_out[0]) or not seat.judged.has_prime[0]
    return reason.verdict == JUST_OFF or ends_early


def _keeps_out(seat: StandSit, reason: Reason) -> bool:
    """Whether a reason is one of the causes of a stand to stay out of."""
    if isinstance(reason, KeptOut):
        return reason.cause != a.NO_WAY
    if isinstance(reason, AirReaches):
        return reason.verdict == WRONG and a.PRIME_HOUR in seat.causes
    if isinstance(reason, Walk):
        return reason.way == IN and a.WAY_IN in seat.causes
    return reason == Fact.LOW_SHARE


def _kept_out(seat: StandSit) -> Iterator[Reason]:
    for cause in seat.causes:
        if cause == a.IS_TAKEN:
            yield KeptOut(cause, hunter=seat.taken_by)
        elif cause == a.GUST:
            yield KeptOut(cause, limit_mph=seat.stand.max_gust_mph or 0.0)
        elif cause in KEEP_OUT:
            yield KeptOut(cause)


def _of_hours(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """The first hour of each kind that is not clean, with what makes it so.

    An hour too short to decide anything is told only where no other is like it.
    """
    hours, minutes = seat.hours, sit.clock.minutes
    for verdict in (WRONG, CANT_CALL, JUST_OFF):
        cases = np.flatnonzero((hours.verdict == verdict) & (minutes > 0))
        counted = cases[minutes[cases] >= SHORT_MIN]
        told = counted if len(counted) else cases
        if not len(told):
            continue
        if verdict == CANT_CALL:
            causes = tuple(dict.fromkeys(hours.cause[told].tolist()))
            yield CantCall(sit.shown_start_s(told[0]), len(cases), len(hours.verdict), causes)
            yield from _of_still_air(seat, int(told[0]))
        else:
            found = [_worst_place(sit, seat, int(case), verdict) for case in told]
            yield AirReaches(verdict, found[0], _much_worse(found), not len(counted))


def _worst_place(sit: Sit, seat: StandSit, case: int, verdict: int) -> AirAt:
    """Of the places that make an hour what it is, the one that most air reaches."""
    hours, n_areas = seat.hours, len(sit.scene.areas)
    makes_it = hours.counts[case] & (hours.zone_verdict[case] == verdict)
    # a trail in wrong air makes an hour just-off, and in milder air nothing of it
    makes_it[n_areas:] = (verdict == JUST_OFF) & (hours.zone_verdict[case, n_areas:] == WRONG)
    places = np.flatnonzero(makes_it)
    place = int(places[np.argmin(hours.equivalent_yd[case, places])])
    like_yd = float(hours.equivalent_yd[case, place])
    return AirAt(sit.shown_start_s(case), _place_id(sit, seat, place), like_yd)


def _place_id(sit: Sit, seat: StandSit, place: int) -> str:
    """Id of one of the places of a stand's hours: areas, then trails in range."""
    areas = sit.scene.areas
    return areas[place].id if place < len(areas) else seat.hours.corridors[place - len(areas)]


def _much_worse(found: list[AirAt]) -> AirAt | None:
    """A later hour in which the air is much stronger than in the first."""
    first, *later = found
    worst = min(later, key=lambda at: at.like_yd, default=None)
    return worst if worst is not None and worst.like_yd <= MUCH_NEARER * first.like_yd else None


def _of_still_air(seat: StandSit, case: int) -> Iterator[Reason]:
    """Where still air would go, where a slope is known."""
    still = int(seat.hours.still[case])
    if still >= 0:
        yield StillAir(float(seat.hours.still_to_deg[case]), still)


def _of_trails(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """Trails whose part before the shot lies in wrong air."""
    if nothing_in_range(sit, seat):
        yield NothingInRange(seat.range_yd)
    for name in trails_in_wrong_air(sit, seat):
        yield AirOnTrail(name)


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
    reaches = area >= 0 and like_yd <= MOST_SHOWN_YD
    place = sit.scene.areas[area].id if reaches else ""
    return Walk(way, air.way.lane.name or air.way.lane.id, int(air.verdict[0]), place, like_yd)


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
    return not (seat.stand.set_up_min and sit.clock.row_end_s[row] <= seat.not_before_s)


def _of_the_sit(sit: Sit) -> Iterator[Reason]:
    """What holds for every stand of the sit."""
    clock = sit.clock
    for case, minutes in enumerate(clock.minutes):
        if 0 < minutes < SHORT_MIN:
            yield ShortHour(sit.shown_start_s(case), int(minutes))
    for start_s, end_s in clock.left_pieces:
        yield NotJudged(start_s, end_s)
    if np.isnan(sit.rows.weather.cloud_frac[sit.window]).any() and len(clock.minutes):
        yield Fact.NO_CLOUD


def rest_of(sit: Sit, seat: StandSit) -> Reason:
    """How the log has it that a stand rested. Args: the sit; the stand in it."""
    if sit.sits.log is None:
        return Fact.NO_LOG
    return Rested(seat.sat_days, seat.rest < RESTED_SHARE)
