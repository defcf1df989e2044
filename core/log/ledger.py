"""The air ledger: for how long the owner's air lay on each bed and plot while deer held it.

Every stay of the log and its walks are judged by the chain, each piece by its own minutes,
in the weather kept with it, else in the nearest kept hours that reach it. Air lies on a place
where it is as strong as in a wrong hour: like less than `wrong_within_yd`.
"""

import datetime
import functools
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.drift import reference_strength
from core.ground.layout import Property, Stand
from core.judge.causes import SURE
from core.judge.exposure import stand_hours
from core.judge.stand_rows import rows_of
from core.keep.entries import Entry
from core.log.judged_before import Gave, JudgedBefore, key_of
from core.log.stays import EntryNotJudged, Stay, clock_of, stays_of
from core.sit.prepare import Sits, prepare_sits
from core.sit.scene import IN, OUT, Scene
from core.sit.verdicts import WRONG
from core.sit.ways import Walks, choose, judge_walks
from core.units import M_PER_YD, SECONDS_PER_MINUTE
from core.weather.hours import MISSING, ROW_S, Hours

Floats = npt.NDArray[np.float64]
SEAT, WALK = "seat", "walk"
NEAR_DAYS = 1  # weather kept with an entry of a day this near may do for another
NO_WIND, NOT_SURE = "wind not known", "the air had no one direction"


@dataclass(frozen=True, slots=True)
class Lay:
    """Minutes for which air from one entry lay on one place."""

    entry: str
    date: datetime.date
    place: str
    part: str  # from the seat, or from its walks
    minutes: float


@dataclass(frozen=True, slots=True)
class Ledger:
    """What was found, and what could not be judged."""

    lays: tuple[Lay, ...]
    left_out: tuple[EntryNotJudged, ...]

    def since(self, first: datetime.date, last: datetime.date) -> "Ledger":
        """That of some days. Args: the first and the last local date."""
        return Ledger(
            tuple(x for x in self.lays if first <= x.date <= last),
            tuple(x for x in self.left_out if first <= x.date <= last),
        )

    def minutes(self) -> dict[str, float]:
        """Minutes by place, the most first."""
        found: dict[str, float] = {}
        for lay in self.lays:
            found[lay.place] = found.get(lay.place, 0.0) + lay.minutes
        return dict(sorted(found.items(), key=lambda item: (-item[1], item[0])))


def ledger(
    entries: Iterable[Entry],
    ground: Property,
    weather_of: Callable[[str], Hours | None],
    scene: Scene | None = None,
    before: JudgedBefore | None = None,
) -> Ledger:
    """Judges what the log has of its owner on the ground.

    Args: entries of the log; the property; what gives the table of a key, None without it;
    its scene, for its heights, and whole while nothing but stands was visited; what was judged
    before, which is not judged again.
    """
    found = stays_of(entries, ground)
    before = before or JudgedBefore(None)
    near = _near_tables(found.stays)
    keys = [key_of(stay, tables) for stay, tables in zip(found.stays, near, strict=True)]
    fresh = [i for i, key in enumerate(keys) if before.get(key) is None]
    if fresh:
        if scene is None or found.ground is not scene.ground:
            scene = Scene(found.ground, scene.heights if scene is not None else None)
        some = [(found.stays[i], near[i]) for i in fresh]
        for i, new in zip(fresh, _judge(scene, some, weather_of), strict=True):
            before.put(keys[i], new)
        before.keep()
    lays: list[Lay] = []
    left_out = list(found.left_out)
    for stay, key in zip(found.stays, keys, strict=True):
        gave = before.get(key) or Gave()
        lays += [Lay(stay.entry, stay.date, *one) for one in gave.lays]
        left_out += [EntryNotJudged(stay.entry, stay.date, *one) for one in gave.left_out]
    return Ledger(tuple(lays), tuple(left_out))


def _judge(scene: Scene, some: list[tuple[Stay, list[str]]], weather_of) -> list[Gave]:
    """What each stay gave. Args: the scene; stays with the keys of tables near; as `ledger`."""
    weather_of = functools.lru_cache(maxsize=None)(weather_of)
    stays = [stay for stay, _ in some]
    tables = [_table(stay, keys, weather_of) for stay, keys in some]
    gave = [Gave(left_out=((NO_WIND, _minutes_of(stay)),)) for stay in stays]
    groups: dict[int, list[int]] = {}
    for i, table in enumerate(tables):
        if table is not None:
            groups.setdefault(0 if table.held else table.phase_s, []).append(i)
    for origin, members in groups.items():
        clock = clock_of(scene.ground, [stays[i] for i in members], origin)
        sits = prepare_sits(scene, [t for i in members if (t := tables[i])], clock)
        for stand in scene.ground.stands:
            there = np.array([stays[i].stand == stand.id for i in members])
            if there.any():
                own = sits if there.all() else sits.take(there)
                here = [i for i in members if stays[i].stand == stand.id]
                for i, one in zip(here, _judged(own, stand, [stays[i] for i in here]), strict=True):
                    gave[i] = one
    return gave


def _minutes_of(stay: Stay) -> float:
    return (stay.end_s - stay.start_s) / SECONDS_PER_MINUTE


def _near_tables(stays: tuple[Stay, ...]) -> list[list[str]]:
    """Keys of the weather that may serve each stay: its own first, then those of near days."""
    dates = {s.weather: s.date for s in stays if s.weather}
    found = []
    for stay in stays:
        off = {key: abs((date - stay.date).days) for key, date in dates.items()}
        near = sorted((days, key) for key, days in off.items() if days <= NEAR_DAYS)
        found.append([*([stay.weather] if stay.weather else [""]), *(key for _, key in near)])
    return found


def _table(stay: Stay, keys: list[str], weather_of) -> Hours | None:
    """The table a stay is judged in: its own, else one kept near it that reaches it."""
    own = weather_of(keys[0]) if keys[0] else None
    if own is not None and _reaches(own, stay):
        return own
    others = (weather_of(key) for key in keys[1:])
    return next((t for t in others if t and not t.held and _reaches(t, stay)), None)


def _reaches(table: Hours, stay: Stay) -> bool:
    """Whether a table has a wind for any hour of a stay."""
    start_s = table.start_s
    touched = (start_s + ROW_S > stay.start_s) & (start_s < stay.end_s) | table.held
    return bool((touched & (table.state != MISSING)).any())


# --- one stand, all its stays ---


def _judged(sits: Sits, stand: Stand, stays: list[Stay]) -> list[Gave]:
    """What the stays at one stand gave to each place, from the seat and from the walks."""
    areas = [a.id for a in sits.scene.areas]
    seat, cant, no_wind = _at_seat(sits, stand)
    walk = np.zeros_like(seat)
    for direction in (IN, OUT):
        walk += _on_walks(sits, stand, stays, direction)
    return [
        Gave(
            tuple(
                (areas[k], part, float(given[i, k]))
                for part, given in ((SEAT, seat), (WALK, walk))
                for k in np.flatnonzero(given[i] > 0)
            ),
            tuple(
                (why, float(minutes[i]))
                for why, minutes in ((NO_WIND, no_wind), (NOT_SURE, cant))
                if minutes[i] > 0
            ),
        )
        for i in range(len(stays))
    ]


def _at_seat(sits: Sits, stand: Stand) -> tuple[Floats, Floats, Floats]:
    """Minutes on each place from a seat, (sit, place); those unsure and without wind, (sit,)."""
    rows, n = rows_of(sits, stand), len(sits.scene.areas)
    hours = stand_hours(rows, sits.armed(stand))
    minutes = rows.judged.rows.minutes.T.ravel()
    sit = np.tile(np.arange(len(sits)), len(minutes) // len(sits))
    lies = (hours.place_verdict[:, :n] == WRONG) & hours.counts[:, :n]  # wrong only where held
    lies &= (hours.cause == SURE)[:, None]  # else it is told as not sure
    given = np.zeros((len(sits), n))
    np.add.at(given, sit, np.where(lies, minutes[:, None], 0.0))
    missing = rows.judged.hours.weather.state == MISSING

    def total(which) -> Floats:
        found = np.zeros(len(sits))
        np.add.at(found, sit, np.where(which, minutes, 0.0))
        return found

    return given, total((hours.cause != SURE) & ~missing), total(missing)


def _on_walks(sits: Sits, stand: Stand, stays: list[Stay], direction: str) -> Floats:
    """Minutes on each place from the walks one way. (sit, place)"""
    given = np.zeros((len(sits), len(sits.scene.areas)))
    ways = sits.scene.ways(stand, direction)
    named = [s.lane_in if direction == IN else s.lane_out for s in stays]
    lanes = {way.lane.id for way in ways}
    best = [i for i, s in enumerate(stays) if named[i] not in lanes and s.by_best_way]
    for way in ways:
        which = np.array([i for i, lane in enumerate(named) if lane == way.lane.id], np.int64)
        if len(which):
            given[which] += _given(sits, _walked(sits, stand, way, which))
    if best and ways:
        some = np.array(best)
        chosen = choose([_walked(sits, stand, way, some) for way in ways])
        assert chosen is not None
        each = np.stack([_given(sits, walks) for walks in chosen.walks])
        given[some] += each[chosen.at, np.arange(len(some))]
    return given


def _walked(sits: Sits, stand: Stand, way, which) -> Walks:
    """One way, walked so that it ends when a stay begins, or begins when it ends."""
    if way.direction == IN:
        start_s = sits.clock.start_s[which] - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
    else:
        start_s = sits.clock.end_s[which]
    return judge_walks(sits, stand, way, start_s, which)


def _given(sits: Sits, walks: Walks) -> Floats:
    """Minutes of a walk whose air lay on each place. (sit, place)"""
    limit = float(reference_strength(sits.ground.air.wrong_within_yd * M_PER_YD))
    strength = walks.given.to_places(held=True)
    return ((strength > limit) & walks.given.sure[..., None]).sum(axis=1).astype(float)
