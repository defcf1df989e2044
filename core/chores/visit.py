"""When to go in: a visit is judged like a sit without a shot, there and on the way.

Somebody works at a place or along it, on the ground, and the place at which their air
reaches most tells; the walk in and the walk out are doses as for a sit. Only beds and plots
that are held at the hour count; those that are not are told beside. Deer that hear or cross
a track are no part of it.
"""

import datetime
import math
from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m
from core.chores.going import Visit
from core.errors import BadRequest, NoForecast
from core.sit.clock import clocks
from core.sit.dates import dates_on
from core.sit.minutes import ALL_DAY
from core.sit.prepare import Sits
from core.sit.rows import blocks, origin_s
from core.sit.scene import Scene, Way
from core.sit.verdicts import CANT_CALL, CLEAN, WRONG, grade
from core.sit.ways import given_by
from core.units import M_PER_YD, SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from core.weather.hours import Hours

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
Bools = npt.NDArray[np.bool_]

LONGEST_H = 12.0
DAY_S = 24 * SECONDS_PER_HOUR
AIR, WALK_IN, WALK_OUT, UNSURE, DARK, BETTER, END = (
    *("air", "way in", "way out", "light air"),
    *("dark", "better", "end"),
)


@dataclass(frozen=True, eq=False)
class Starts:
    """A visit begun at each hour of a forecast; shapes (start,).

    `verdict`: the worst of the place and both walks; `like_yd` how near the air reaches, by
    whichever is worst; `place` the id of what it reaches; `why` what speaks against it.
    `not_held`: ids of what it reaches and what holds nothing then.
    """

    start_s: Ints
    verdict: Ints8
    like_yd: Floats
    place: list[str]
    why: list[str]
    not_held: list[tuple[str, ...]]
    row: Ints  # of the weather


@dataclass(frozen=True, slots=True)
class Window:
    """Hours in which a visit may lie: it begins at `start_s` at the earliest and is over by
    `end_s`. `ended_by`: what speaks against a later one; the place it is about, or none.
    `by`: at work or on which walk the air comes nearest. `not_held`: ids of what the air
    reaches in any of them, and what holds nothing then."""

    start_s: int
    end_s: int
    verdict: int
    like_yd: float
    place: str
    ended_by: str
    ended_place: str
    rows: tuple[int, ...]
    by: str = AIR
    not_held: tuple[str, ...] = ()


def judge_visit(visit: Visit, weather: Hours, hours: float, now_s: float) -> Starts:
    """The visit begun at each hour of a forecast that is still to come.

    Args: the visit; the forecast; how long one stays [h]; the clock [epoch s].
    Raises: BadRequest for no length; NoForecast where no such hour is left; NoSun.
    """
    if not 0 < hours <= LONGEST_H:
        raise BadRequest(
            f"{hours:g} hours is no length of a visit", "--hours", f"Up to {LONGEST_H:g}."
        )
    if weather.held or not len(weather):
        raise NoForecast("it has no hours of its own", weather.source, "Give an hourly forecast.")
    sits, sit_of = whole_days(visit.scene, weather)
    row = np.flatnonzero((weather.start_s >= now_s) & (sit_of >= 0))
    row = row[weather.start_s[row] + hours * SECONDS_PER_HOUR <= _end_s(weather)]
    if not len(row):
        raise NoForecast(
            f"no {hours:g} hours of it are still to come",
            weather.source or weather.format,
            "Take a later forecast, or a shorter visit.",
        )
    start_s, which = weather.start_s[row].astype(np.int64), sit_of[row]
    parts = [_at_work(sits, visit, start_s, which, hours)]
    if visit.way is not None:
        minutes = SECONDS_PER_MINUTE * visit.way.minutes
        parts.append(_walk(sits, visit.way, start_s - minutes, which, WALK_IN))
        after_s = start_s + hours * SECONDS_PER_HOUR
        parts.append(_walk(sits, visit.way.back(), after_s, which, WALK_OUT))
    dark = _dark(sits, start_s, which, hours)
    return _worst(parts, dark, start_s, row)


@dataclass(frozen=True, eq=False)
class _Part:
    """The place, or one walk; shapes (start,)."""

    kind: str
    verdict: Ints8
    like_yd: Floats
    place: list[str]
    not_held: list[tuple[str, ...]]


def whole_days(scene: Scene, weather: Hours) -> tuple[Sits, Ints]:
    """The whole days of a forecast as sits, and which of them each hour lies in.

    Args: the scene; the forecast. Raises: NoSun.
    """
    ground, zone = scene.ground, ZoneInfo(scene.ground.timezone)
    dates = [datetime.datetime.fromtimestamp(int(s), zone).date() for s in weather.start_s]
    days = sorted(set(dates))
    origin = origin_s(weather)
    clock = clocks(ground, dates_on(ground, days), ALL_DAY, origin_s=origin)
    each = [weather] * len(days)  # the hours of neighbouring days overlap
    found = blocks(clock, each, DAY_S / 2, DAY_S / 2)
    at = {day: i for i, day in enumerate(days)}
    return Sits(scene, clock, each, found), np.array([at[d] for d in dates])


def _end_s(weather: Hours) -> int:
    return int(weather.start_s[-1]) + SECONDS_PER_HOUR


def _dark(sits: Sits, start_s: Ints, which: Ints, hours: float):
    """Whether any of it lies before sunrise or after sunset."""
    clock = sits.clock
    over_s = start_s + hours * SECONDS_PER_HOUR
    return (start_s < clock.sunrise_s[which]) | (over_s > clock.sunset_s[which])


def _at_work(sits: Sits, visit: Visit, start_s: Ints, which: Ints, hours: float) -> _Part:
    """The hours at the place: the strongest of where one works, hour by hour."""
    n = max(1, math.ceil(hours))
    places = visit.work.minutes
    middle_h = np.minimum(np.arange(n) + 0.5, (n - 1 + hours) / 2)  # the last may be short
    time_s = start_s[:, None] + middle_h * SECONDS_PER_HOUR
    many_s = np.repeat(time_s, places, axis=1).reshape(-1, places)
    sit = np.repeat(which, n)
    hour = sits.found.index_of(many_s, sit[:, None])
    given = given_by(sits, visit.work, many_s, hour, sit)
    shape = (len(start_s), n * places, -1)
    strength = np.where(given.counts & given.sure[..., None], given.strength, 0.0).reshape(shape)
    held = np.broadcast_to(given.held, given.strength.shape).reshape(shape)
    unsure = np.any(~given.sure.reshape(len(start_s), -1), axis=1)
    on_held, beside = (np.where(one, strength, 0.0).max(axis=1) for one in (held, ~held))
    return _part(AIR, sits, on_held.max(axis=1, initial=0.0), on_held, beside, unsure)


def _walk(sits: Sits, way: Way, begins_s, which: Ints, kind: str) -> _Part:
    """One walk as a dose. Args: the sits; the way; when it is begun in each, (start,) [epoch s]."""
    time_s = np.asarray(begins_s, float)[:, None] + SECONDS_PER_MINUTE * (
        np.arange(way.minutes) + 0.5
    )
    hour = sits.found.index_of(time_s, which[:, None])
    given = given_by(sits, way, time_s, hour, which)
    unsure = 2 * (~given.sure).sum(axis=1) > way.minutes
    hours = way.minutes / 60.0 / np.maximum(1, given.sure.sum(axis=1))[:, None]
    on_held, beside = (given.to_places(held).sum(axis=1) * hours for held in (True, False))
    return _part(kind, sits, given.dose(True), on_held, beside, unsure)


def _part(
    kind: str, sits: Sits, strongest: Floats, held: Floats, others: Floats, unsure: Bools
) -> _Part:
    """What air on places held makes of each start; that on others is only told.

    Args: what it is; the sits; the strength that tells, (start,); strengths on areas held and
    on those that are not, (start, area); whether the start can't be called.
    """
    bars = sits.ground.air.wrong_within_yd, sits.ground.air.clean_beyond_yd
    like_yd = equivalent_distance_m(strongest) / M_PER_YD
    reached = grade(equivalent_distance_m(others) / M_PER_YD, *bars) != CLEAN
    ids = [area.id for area in sits.scene.areas]
    return _Part(
        kind=kind,
        verdict=np.where(unsure, CANT_CALL, grade(like_yd, *bars)).astype(np.int8),
        like_yd=like_yd,
        place=[ids[int(row.argmax())] if row.any() else "" for row in held],
        not_held=[tuple(id_ for id_, hit in zip(ids, row, strict=True) if hit) for row in reached],
    )


def _worst(parts: list[_Part], dark, start_s: Ints, row: Ints) -> Starts:
    verdict = np.stack([p.verdict for p in parts])
    like_yd = np.stack([p.like_yd for p in parts])
    at = np.lexsort((like_yd, -verdict.astype(int)), axis=0)[0]
    each = np.arange(len(start_s))
    worst = verdict[at, each]
    why = [
        DARK if dark[i] else UNSURE if worst[i] == CANT_CALL else parts[a].kind
        for i, a in enumerate(at)
    ]
    return Starts(
        start_s=start_s,
        verdict=np.where(dark, np.int8(WRONG), worst).astype(np.int8),
        like_yd=like_yd[at, each],
        place=[parts[a].place[i] for i, a in enumerate(at)],
        why=why,
        not_held=[_each_once(told) for told in zip(*(p.not_held for p in parts), strict=True)],
        row=row,
    )


def _each_once(told: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(id_ for ids in told for id_ in ids))


def windows(starts: Starts, hours: float) -> list[Window]:
    """The hours in which a visit may lie, the best first.

    Args: the visit at each start; how long one stays [h]. Returns: runs of starts that are
    clean or just-off, one verdict each; clean first, then by how far air reaches, then the
    earlier.
    """
    found, i, n = [], 0, len(starts.start_s)
    while i < n:
        j = i
        while j + 1 < n and _goes_on(starts, j):
            j += 1
        if starts.verdict[i] < CANT_CALL:
            found.append(_window(starts, i, j, hours))
        i = j + 1
    return sorted(found, key=lambda w: (w.verdict, -_tens(w.like_yd), w.start_s))


def _goes_on(starts: Starts, i: int) -> bool:
    follows = starts.start_s[i + 1] - starts.start_s[i] == SECONDS_PER_HOUR
    return bool(follows and starts.verdict[i + 1] == starts.verdict[i])


def _ended_by(starts: Starts, i: int, after: int) -> str:
    """Why the starts from one on end before another. Args: the starts; the two."""
    return BETTER if starts.verdict[after] < starts.verdict[i] else starts.why[after]


def _tens(like_yd: float) -> float:
    return round(min(like_yd, 3520.0) / 10.0)


def _window(starts: Starts, i: int, j: int, hours: float) -> Window:
    worst = i + int(np.argmin(starts.like_yd[i : j + 1]))
    after = j + 1 if j + 1 < len(starts.start_s) else None
    return Window(
        start_s=int(starts.start_s[i]),
        end_s=int(starts.start_s[j] + hours * SECONDS_PER_HOUR),
        verdict=int(starts.verdict[i]),
        like_yd=float(starts.like_yd[worst]),
        place=starts.place[worst],
        ended_by=END if after is None else _ended_by(starts, i, after),
        ended_place="" if after is None else starts.place[after],
        rows=tuple(int(r) for r in starts.row[i : j + 1]),
        by=starts.why[worst],
        not_held=_each_once(starts.not_held[i : j + 1]),
    )
