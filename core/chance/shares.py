"""The chances of sits: every stand judged in the same drawn winds, and the order by them.

Groups, verdicts and degrees to spare stay the forecast's. Inside go those that hold come
before those that may hold, and these before toss-ups.
"""

import dataclasses
from collections.abc import Sequence

import numpy as np

from core.answer.chances import AROUND_RUNS, SAMPLED, Chances, Misses
from core.answer.one_sit import SitAnswer
from core.chance.draws import drawn_sits, hours_of
from core.chance.law import FARTHEST_LEAD_H
from core.chance.misses import usual_misses
from core.chance.tenths import STANDINGS, standing
from core.judge.order import after_shots
from core.judge.stand import DECIDING, RULED_OUT, WATCH, stand_sits
from core.sit.prepare import Sits
from core.sit.verdicts import GO
from core.units import SECONDS_PER_HOUR
from core.weather.hours import MISSING, Hours

TYPED = "only a forecast has a chance: this wind was given"
NOT_A_FORECAST = "only a forecast has a chance"
TOO_FAR = "too far out to say how likely"
NO_MINUTES = "the sit has no minute to judge"
NO_STANDS = "no stands"


def issued_s(weather: Hours, now_s: float) -> float:
    """When a forecast was made: updated, else got, else now. Args: it; the clock [epoch s]."""
    known = (weather.updated_s, weather.fetched_s, now_s)
    return float(next(time_s for time_s in known if time_s is not None))


def lead_h(answer: SitAnswer, now_s: float) -> float:
    """Hours from the forecast to the begin of the sit. Args: the answer; the clock [epoch s]."""
    clock = answer.sit.clock
    start_s = clock.start_s if clock.start_s is not None else clock.legal_start_s
    return (start_s - issued_s(answer.sit.weather, now_s)) / SECONDS_PER_HOUR


def why_none(answer: SitAnswer, now_s: float, misses: Misses | None = None) -> str:
    """Why a sit has no chance; empty where it has one.

    Args: its answer; the clock [epoch s]; how far forecasts miss here.
    """
    kind = answer.sit.weather.kind
    if kind != "forecast":
        return TYPED if kind == "typed" else NOT_A_FORECAST
    if not answer.order:
        return NO_STANDS
    if answer.sit.clock.start_s is None:
        return NO_MINUTES
    near = lead_h(answer, now_s) <= FARTHEST_LEAD_H
    return "" if near or _has_runs(answer, misses) else TOO_FAR


def _has_runs(answer: SitAnswer, misses: Misses | None) -> bool:
    """Whether runs of a model tell every hour of a sit that has a wind."""
    if misses is None or misses.runs is None:
        return False
    start_s, weather = hours_of(answer.sit.sits.found, answer.sit.at)
    return bool(misses.runs.tell(start_s[weather.state != MISSING]).all())


def with_chances(
    answers: Sequence[SitAnswer], now_s: float, misses: Misses | None = None
) -> list[SitAnswer]:
    """The same answers with their chances, ordered by them.

    Args: answers, those of the same sits judged together; the clock [epoch s]; how far
    forecasts miss here, what is usual for their source by default. Sits that runs of a model
    tell are drawn around them.
    Returns: in the order given; an answer without a chance keeps its order and says why.
    """
    found: dict[int, Chances] = {}
    together: dict[tuple[int, bool], list[int]] = {}
    for i, answer in enumerate(answers):
        if none := why_none(answer, now_s, misses):
            found[i] = Chances(none=none)
        else:
            key = id(answer.sit.sits), _has_runs(answer, misses)
            together.setdefault(key, []).append(i)
    for (_, has_runs), places in together.items():
        some = [answers[i] for i in places]
        own = misses or usual_misses(some[0].sit.weather, some[0].sit.scene.ground)
        own = own if has_runs else dataclasses.replace(own, runs=None)
        found |= dict(zip(places, _chances(some, now_s, own), strict=True))
    return [ordered(answer, found[i]) for i, answer in enumerate(answers)]


def _chances(answers: Sequence[SitAnswer], now_s: float, misses: Misses) -> list[Chances]:
    """The chances of sits of one kind that were judged together, and have one."""
    sits: Sits = answers[0].sit.sits
    at = np.array([answer.sit.at for answer in answers])
    which = np.isin(np.arange(len(sits)), at)
    row = np.cumsum(which)[at] - 1  # of each answer among the sits that are drawn
    weather = answers[0].sit.weather
    drawn = drawn_sits(sits.take(which), issued_s(weather, now_s), misses)
    n = len(drawn) // int(which.sum())
    came: dict[str, tuple[np.ndarray, np.ndarray]] = {}
    out: dict[str, np.ndarray] = {}
    for own in answers[0].judged:
        name = own.stand.id
        out[name] = own.any_of(RULED_OUT)[at]
        if not out[name].all():
            judged = stand_sits(drawn, own.stand, walks=DECIDING)
            came[name] = judged.group.reshape(-1, n), judged.verdict.reshape(-1, n)
    winds = [values.reshape(-1, n) for values in _window_winds(drawn)]
    found = []
    for i, (answer, r) in enumerate(zip(answers, row.tolist(), strict=True)):
        some = [name for name in came if not out[name][i]]
        found.append(
            Chances(
                groups={name: came[name][0][r] for name in some},
                verdicts={name: came[name][1][r] for name in some},
                wind_from_deg=winds[0][r],
                slowest_mps=winds[1][r],
                misses=misses,
                lead_h=lead_h(answer, now_s),
                source=SAMPLED if misses.runs is None else AROUND_RUNS,
                runs_apart_deg=_apart_deg(answer, misses),
                drawn=drawn,
                first=r * n,
            )
        )
    return found


def _apart_deg(answer: SitAnswer, misses: Misses) -> float:
    """How far runs lie from the forecast over the hours of a sit; NaN without runs. [deg]"""
    if misses.runs is None:
        return float("nan")
    start_s, weather = hours_of(answer.sit.sits.found, answer.sit.at)
    return misses.runs.apart_deg(start_s, weather.speed_mps, weather.wind_from_deg)


def _window_winds(drawn: Sits):
    """The mean direction and the least speed of the hours of each window; shapes (sit,)."""
    judged, inside = drawn.judged, drawn.judged.rows.inside
    wind = judged.by_sit(judged.hours.weather.wind_from_deg)
    speed = judged.by_sit(judged.hours.weather.speed_mps)
    known = inside & np.isfinite(speed)
    slowest = np.where(known, speed, np.inf).min(axis=1, initial=np.inf)
    angle = np.radians(wind)
    some = inside & np.isfinite(wind)
    east = np.where(some, np.sin(angle), 0.0).sum(axis=1)
    north = np.where(some, np.cos(angle), 0.0).sum(axis=1)
    mean = np.where(some.any(axis=1), np.degrees(np.arctan2(east, north)) % 360.0, np.nan)
    return mean, slowest


def ordered(answer: SitAnswer, chances: Chances) -> SitAnswer:
    """An answer with its chances: inside go those that hold come first.

    Stands to watch from stay behind those with a shot; else the order stays as it was.
    Args: the answer; its chances.
    """
    sits, at = answer.sit.sits, answer.sit.at

    def key(k: int) -> tuple[int, bool, int]:
        own = answer.judged[k]
        group, shares = int(own.group[at]), chances.shares(own.stand.id)
        if group != GO or shares is None:
            return group, False, 0
        behind = bool(after_shots(sits, own)[at]) or own.wanted[at] == WATCH
        return group, behind, STANDINGS.index(standing(shares[0]))

    order = tuple(sorted(answer.order, key=key))
    return dataclasses.replace(answer, order=order, chances=chances, _read={})
