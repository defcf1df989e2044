"""What the air of a seat does in one sit, as reasons: hour by hour, on trails, at turns."""

import dataclasses
import math
from collections.abc import Iterator

import numpy as np

from core.angles import separation_deg
from core.answer.one_sit import StandSit, place_ids
from core.ground.layout import Stand
from core.judge.causes import CAUSE_WORDS, IS_MISSING, IS_TURNING, SURE
from core.say.reason_kinds import (
    AirAt,
    AirOnTrail,
    AirReaches,
    AnyWay,
    CantCall,
    Reason,
    Side,
    SlopeTurn,
    SmallTurn,
    StillAirGoes,
)
from core.say.why.land import of_land
from core.sit.minutes import SHORT_MIN, TURNING
from core.sit.prepare import Sit
from core.sit.verdicts import CANT_CALL, CLEAN, GO, JUST_OFF, WRONG
from core.units import SECONDS_PER_MINUTE

MUCH_NEARER = 0.8  # a later hour this much nearer than the first is told too


def of_hours(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """The first row of each kind that is not clean, with what makes it so.

    A row too short to decide anything is told only where no other is like it.
    Args: the sit; the stand in it.
    """
    minutes = seat.rows.minutes
    for verdict in (WRONG, CANT_CALL, JUST_OFF):
        cases = np.flatnonzero(seat.hours.verdict == verdict)
        if verdict == JUST_OFF and seat.group == GO:  # of the hours that are sat, if any is
            sat = cases[np.asarray(seat.judged.stretch[0], bool)[cases]]
            cases = sat if len(sat) else cases
        counted = cases[minutes[cases] >= SHORT_MIN]
        told = counted if len(counted) else cases
        if not len(told):
            continue
        if verdict == CANT_CALL:
            yield _cant_call(sit, seat, told, cases)
            yield from _of_still_air(seat)
            yield from of_land(sit, seat)
        else:
            found = [_worst_place(sit, seat, int(case)) for case in told]
            yield AirReaches(verdict, found[0], _much_worse(found), not len(counted))
    yield from _any_way(seat)


def _any_way(seat: StandSit) -> Iterator[Reason]:
    """Rows of still, light or swirling air that can be called all the same, but for wrong ones."""
    hours = seat.hours
    told = ~np.isin(hours.cause, (SURE, IS_TURNING)) & (hours.verdict <= JUST_OFF)
    if told.any():
        causes = tuple(dict.fromkeys(hours.cause[told].tolist()))
        yield AnyWay(causes, int(hours.verdict[told].max()))


def _cant_call(sit: Sit, seat: StandSit, told, cases) -> CantCall:
    rows, hours = seat.rows, seat.hours
    first = int(told[0])
    known, since = hours.cause[first] != IS_MISSING, first
    while since - 1 in cases:  # a piece too short to decide, right before it, is part of it
        since -= 1
    return CantCall(
        start_s=int(rows.start_s[since]),
        end_s=int(rows.end_s[cases[-1]]),
        minutes=int(rows.minutes[cases].sum()),
        of_minutes=int(rows.minutes.sum()),
        causes=tuple(dict.fromkeys(hours.cause[told].tolist())),
        place=_worst_place(sit, seat, first).place if known else "",
    )


def _worst_place(sit: Sit, seat: StandSit, case: int) -> AirAt:
    """Of the places that make a row what it is, the one that most air reaches."""
    hours, n_areas = seat.hours, len(sit.scene.areas)
    verdict = int(hours.verdict[case])
    places = hours.place_verdict[case]
    makes_it = hours.counts[case] & (places == verdict)
    if verdict == WRONG and hours.areas[case] == WRONG:
        makes_it[n_areas:] = False  # a trail alone may not make it so
    if verdict == JUST_OFF:
        makes_it[n_areas:] = hours.counts[case, n_areas:] & (places[n_areas:] != CLEAN)
    if not makes_it.any():  # one place this way, another that way
        told = hours.counts[case] & (places != CLEAN)
        makes_it = told & (places == places[told].max(initial=CLEAN))
    at = np.flatnonzero(makes_it)
    like_yd = np.nan_to_num(hours.equivalent_yd[case, at], nan=math.inf)
    place = int(at[np.argmin(like_yd)])
    on_it = bool(places[place] in (WRONG, CANT_CALL))
    free = ("", "")
    if place >= n_areas and on_it and verdict == JUST_OFF:
        free = _free(seat, case, place - n_areas, n_areas)
    return AirAt(
        int(seat.rows.start_s[case]),
        place_ids(sit, seat)[place],
        float(hours.equivalent_yd[case, place]),
        place >= n_areas,
        on_it,
        *free,
    )


def _free(seat: StandSit, case: int, on: int, n_areas: int) -> tuple[str, str]:
    """Why air on one approach is no wrong wind: the least reached of the others, as its trail
    or, of the same trail, its end."""
    hours = seat.hours
    verdict = hours.place_verdict[case, n_areas:]
    off = np.flatnonzero(hours.counts[case, n_areas:] & (verdict != WRONG))
    if not len(off):
        return "", ""
    other = hours.approaches[int(off[np.argmin(verdict[off])])]
    same = other.trail == hours.approaches[on].trail
    return ("", other.end) if same else (other.trail, "")


def _much_worse(found: list[AirAt]) -> AirAt | None:
    """A later row in which the air is much stronger than in the first."""
    first, *later = found
    worst = min(later, key=lambda at: at.like_yd, default=None)
    return worst if worst is not None and worst.like_yd <= MUCH_NEARER * first.like_yd else None


# --- still air ---


def _of_still_air(seat: StandSit) -> Iterator[Reason]:
    """Where still air would go in the rows that can't be called, where a slope is known."""
    sides: list[Side] = []
    for case in np.flatnonzero(seat.hours.still >= 0).tolist():
        side = _side(seat, case, float(seat.hours.still_to_deg[case]), seat.hours.still)
        last = sides[-1] if sides else None
        if last and (last.air_to_deg, last.verdict) == (side.air_to_deg, side.verdict):
            side = dataclasses.replace(sides.pop(), end_s=side.end_s)
        sides.append(side)
    if sides:
        yield StillAirGoes(tuple(sides))


def _side(seat: StandSit, case: int, air_to_deg: float, verdicts) -> Side:
    rows, climbs = seat.rows, climbs_to(seat.stand, air_to_deg)
    return Side(
        int(rows.start_s[case]), int(rows.end_s[case]), air_to_deg, climbs, int(verdicts[case])
    )


def climbs_to(stand: Stand, air_to_deg: float) -> bool | None:
    """Whether air climbs a stand's slope; None where it goes along it, and without a slope.

    Args: the stand; where the air goes.
    """
    if stand.downhill_deg is None:
        return None
    off_deg = float(separation_deg(air_to_deg, stand.downhill_deg))
    return None if 80.0 <= off_deg <= 100.0 else off_deg > 90.0


# --- the slope wind turns ---


def of_turns(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """When the slope wind turns, with where it swings the air where that is enough to tell.

    Args: the sit; the stand in it.
    """
    hours, rows = seat.hours, seat.rows
    turning = (hours.kind == TURNING) & (hours.cause == IS_TURNING)
    told = turning & (hours.swing_deg >= _told_deg(sit))
    beside_s = round(sit.scene.ground.air.turn_min * SECONDS_PER_MINUTE)
    for first, last in _runs(np.flatnonzero(turning)):
        start_s, end_s = int(rows.start_s[first]), int(rows.end_s[last])
        if told[first : last + 1].any():
            yield SlopeTurn(
                before=_directed_side(seat, first - 1),
                start_s=start_s,
                end_s=end_s,
                after=_directed_side(seat, last + 1),
                verdict=int(hours.verdict[first : last + 1].max()),
                begun=first == 0,
            )
            continue
        at_s = start_s + beside_s if first > 0 else end_s - beside_s
        if rows.start_s[0] <= at_s <= rows.end_s[-1]:
            yield SmallTurn(at_s)


def _runs(cases) -> list[tuple[int, int]]:
    """The first and the last of each run of rows one after another. Args: rows in order."""
    split = np.split(cases, np.flatnonzero(np.diff(cases) > 1) + 1)
    return [(int(run[0]), int(run[-1])) for run in split if len(run)]


def _told_deg(sit: Sit) -> float:
    return sit.scene.ground.air.turn_told_deg


def _directed_side(seat: StandSit, case: int) -> Side | None:
    hours = seat.hours
    if not 0 <= case < len(hours.verdict) or CAUSE_WORDS[hours.cause[case]]:
        return None
    return _side(seat, case, float(hours.air.air_to_deg[case]), hours.verdict)


# --- trails ---


def of_trails(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """Trails that the air lies on, or just past, before the shot, in what is sat through.

    Args: the sit; the stand in it. Where nothing can be sat through, all is looked at.
    """
    hours, n_areas = seat.hours, len(sit.scene.areas)
    sat = np.asarray(seat.judged.stretch[0], bool)
    rows = np.flatnonzero(sat) if sat.any() else np.arange(len(hours.verdict))
    walked = hours.counts[rows][:, n_areas:]
    verdict = np.where(walked, hours.place_verdict[rows][:, n_areas:], CLEAN)
    like = np.where(walked, hours.equivalent_yd[rows][:, n_areas:], np.nan)
    by_trail: dict[str, list[int]] = {}
    for i, approach in enumerate(hours.approaches):
        if walked[:, i].any():
            by_trail.setdefault(approach.trail, []).append(i)
    for trail, at in by_trail.items():
        yield from _of_trail(seat, trail, at, verdict, like)


def _of_trail(seat: StandSit, trail: str, at: list[int], verdict, like) -> Iterator[Reason]:
    """One trail: the worst of its approaches, and the end from which it is clear, if one is."""
    worst = verdict.max(axis=0, initial=CLEAN)
    reached = [i for i in at if worst[i] != CLEAN]
    if not reached:
        return
    i = max(reached, key=lambda i: worst[i])
    on_it = worst[i] in (WRONG, CANT_CALL)
    asked = like[verdict[:, i] == worst[i], i]
    like_yd = float(np.nanmin(asked)) if np.isfinite(asked).any() else math.nan
    if len(at) == 1 or len({int(worst[k]) for k in at}) == 1:
        yield AirOnTrail(trail, like_yd, on_it)
        return
    ends = [seat.hours.approaches[k].end for k in at]
    end = seat.hours.approaches[i].end
    free = [e for k, e in zip(at, ends, strict=True) if worst[k] == CLEAN]
    yield AirOnTrail(trail, like_yd, on_it, end, free[0] if free else "")
