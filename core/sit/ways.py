"""A walk as a dose: what a way in or out gives to the places it passes, in many sits."""

import functools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.air.drift import equivalent_distance_m
from core.air.slopes import LEAST_EFFECTIVE_MPS
from core.ground.layout import AirRules, Stand
from core.sit.before import ENDS
from core.sit.prepare import Sits
from core.sit.scene import IN, OUT, Scene, Way
from core.sit.verdicts import CANT_CALL, JUST_OFF, grade, milder
from core.units import M_PER_YD, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
Bools = npt.NDArray[np.bool_]
LEAST_SHOWN_YD, MOST_SHOWN_YD = 10.0, 3520.0


@dataclass(frozen=True, eq=False)
class Given:
    """What a walk gives each place, minute by minute; shapes (sit, minute, place).

    `strength` is 0 in minutes that can't be called; `sure`, those that can, (sit, minute).
    """

    strength: Floats
    held: Bools
    counts: Bools
    sure: Bools

    def taken(self, sit: int) -> "Given":
        """That of one sit. Args: its place."""
        one = slice(sit, sit + 1)
        return Given(self.strength[one], self.held[one], self.counts[one], self.sure[one])

    def to_places(self, held: bool) -> Floats:
        """Strength at places that count and are held, or are not. Args: which of the two."""
        mask = self.held if held else ~self.held
        return np.where(self.counts & mask, self.strength, 0.0)

    def dose(self, held: bool) -> Floats:
        """The mean over the minutes of the worst strength, for the hours walked. (sit,)"""
        minutes = self.sure.shape[1]
        worst = self.to_places(held).max(axis=2, initial=0.0).sum(axis=1)
        return worst / np.maximum(1, self.sure.sum(axis=1)) * minutes / 60.0


@dataclass(frozen=True, eq=False)
class Walks:
    """One way walked in some sits; shapes (sit,).

    `sits`: which sits; distances NaN where the way can't be called. `ends`: which of `ENDS`
    deer come from then. `second`: whether places not held tell, a step milder.
    """

    way: Way
    sits: Ints
    start_s: Floats
    verdict: Ints8
    equivalent_yd: Floats
    ends: Ints
    second: Bools
    given: Given


@dataclass(frozen=True, eq=False)
class WayAir:
    """One walk in one sit, read out. Shapes (1,); no distance, NaN, where it can't be called."""

    way: Way
    start_s: float
    verdict: Ints8
    equivalent_yd: Floats
    crossed_before_shot: tuple[str, ...]
    second: bool
    given: Given  # every area on its own

    @functools.cached_property
    def worst_area(self) -> Ints:
        """Index of the area that gets most; -1 for none."""
        given = self.given.to_places(not self.second)
        total = given.sum(axis=1)
        if not total.shape[1] or not given.any():
            return np.full(1, -1)
        return total.argmax(axis=1)


def judge_walks(sits: Sits, stand: Stand, way: Way, start_s, which) -> Walks:
    """Judges one way in some sits.

    Args: the sits; the stand it leads to; the way, in the order it is walked; when it is
    begun in each [epoch s]; which sits. Shapes (sit,).
    """
    start_s = np.asarray(start_s, float)
    key = ("walks", stand, way.lane, way.direction, start_s.tobytes(), which.tobytes())
    return sits.kept_for_anyone(key, lambda: _judge_walks(sits, stand, way, start_s, which))


def _judge_walks(sits: Sits, stand: Stand, way: Way, start_s, which) -> Walks:
    rules = sits.ground.air
    time_s = start_s[:, None] + SECONDS_PER_MINUTE * (np.arange(way.minutes) + 0.5)
    hour = sits.found.index_of(time_s, which[:, None])
    given = given_by(sits, way, time_s, hour, which)
    verdict, distance, second = worse_dose(given, rules)
    if way.direction != IN:
        ends = sits.ends_at(start_s, which)
    else:
        seated_s = start_s + SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        ends = sits.ends_at(seated_s, which)
        for end in np.flatnonzero(np.bincount(ends)):
            if _crossed(sits, way, stand, end):
                verdict = np.where(ends == end, np.maximum(verdict, JUST_OFF), verdict)
    unsure = 2 * (~given.sure).sum(axis=1) > way.minutes
    return Walks(
        way=way,
        sits=which,
        start_s=start_s,
        verdict=np.where(unsure, CANT_CALL, verdict).astype(np.int8),
        equivalent_yd=np.where(unsure, np.nan, distance),
        ends=ends,
        second=second,
        given=given,
    )


def given_by(sits: Sits, way: Way, time_s: Floats, hour: Ints, which: Ints) -> Given:
    """What a walk gives. Args: as `judge_walks`; middle of each minute [epoch s], its hour."""

    def told() -> tuple[Bools, Bools, Bools]:
        day = sits.found.hours.day.take(which * sits.found.length)
        sun = type(day)(day.sunrise_s[:, None], day.sunset_s[:, None])
        sure = sits.kept("can be called on foot", lambda: can_be_called(sits))[hour]
        return sits.source.places.held(time_s, sun), sits.hour_counts[hour], sure

    # of many stands the walks have the same minutes
    minutes = "minutes", time_s.shape, time_s.tobytes(), which.tobytes()
    held, counts, sure = sits.kept_for_anyone(minutes, told)
    return Given(sits.source.on_walk(way, hour, sure), held, counts, sure)


def can_be_called(sits: Sits) -> Bools:
    """Whether the air of each hour can be called for those on foot. (hour,)"""
    hours = sits.found.hours
    speed = np.maximum(hours.speed_mps, LEAST_EFFECTIVE_MPS)
    return hours.directed & (speed >= sits.ground.air.cant_call_below_mps)


def worse_dose(given: Given, rules: AirRules) -> tuple[Ints8, Floats, Bools]:
    """The dose to places held, and one step milder to the others; the worse counts.

    Returns: verdict, equivalent distance [yd], whether the others tell; shapes (sit,).
    """
    asked = (True,) if given.held.all() else (True, False)
    far = [equivalent_distance_m(given.dose(held)) / M_PER_YD for held in asked]
    verdict = [grade(d, rules.wrong_within_yd, rules.clean_beyond_yd) for d in far]
    if len(asked) == 1:  # nothing is given to places that are not held
        return verdict[0], far[0], np.zeros(len(far[0]), bool)
    verdict[1] = milder(verdict[1])
    second = (verdict[1] > verdict[0]) | ((verdict[1] == verdict[0]) & (far[1] < far[0]))
    return np.where(second, verdict[1], verdict[0]), np.where(second, far[1], far[0]), second


def crossed_before_shot(
    scene: Scene, way: Way, stand: Stand, ends: tuple[str, ...]
) -> tuple[str, ...]:
    """Trails in a stand's own range whose part before the shot a way crosses or touches.

    Args: the scene; the way; the stand; the ends that deer come from.
    """

    def crossed():
        parts = scene.before_shot(stand, stand.range_yd, ends)
        path = shapely.LineString(way.path_m) if parts else None
        return tuple(n for n, part in parts.items() if shapely.intersects(path, part.lines).any())

    return scene.kept(("crossed", stand.id, way.lane.id, stand.range_yd, ends), crossed)


def _crossed(sits: Sits, way: Way, stand: Stand, end) -> tuple[str, ...]:
    return crossed_before_shot(sits.scene, way, sits.armed(stand), ENDS[end])


def ways_in(sits: Sits, stand: Stand, seated_s, which) -> list[Walks]:
    """Every way in, so timed that the hunter is set up when seated.

    Args: the sits; the stand; when seated in each [epoch s]; which sits. Shapes (sit,).
    """
    found = []
    for way in sits.scene.ways(stand, IN):
        start_s = seated_s - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        found.append(judge_walks(sits, stand, way, start_s, which))
    return found


def ways_out(sits: Sits, stand: Stand, ends_s, which) -> list[Walks]:
    """Every way out. Args: as `ways_in`, but when the hunter gets down."""
    ways = sits.scene.ways(stand, OUT)
    return [judge_walks(sits, stand, way, ends_s, which) for way in ways]


@dataclass(frozen=True, eq=False)
class Chosen:
    """The walk taken in each of some sits; shapes (sit,).

    `walks`: all there are, of the same `sits`; `at`: which of them is taken in each.
    """

    sits: Ints
    walks: list[Walks]
    at: Ints

    def _of(self, name: str):
        if len(self.walks) == 1:
            return getattr(self.walks[0], name)
        return np.stack([getattr(w, name) for w in self.walks])[self.at, np.arange(len(self.at))]

    @functools.cached_property
    def verdict(self) -> Ints8:
        """Verdict of the walk taken."""
        return self._of("verdict")

    @functools.cached_property
    def equivalent_yd(self) -> Floats:
        """How strongly it reaches, as a distance; NaN where it can't be called."""
        return self._of("equivalent_yd")

    @functools.cached_property
    def start_s(self) -> Floats:
        """When it begins. [epoch s]"""
        return self._of("start_s")

    @functools.cached_property
    def minutes(self) -> Ints:
        """How long it is."""
        return np.array([w.way.minutes for w in self.walks])[self.at]


def choose(walks: list[Walks]) -> Chosen | None:
    """Which of several ways is taken in each sit; None without any.

    Better verdict, then larger equivalent distance to 10 yards, fewer crossings,
    shorter, id. A way without a distance sorts last.
    Args: the ways, all walked in the same sits.
    """
    if not walks:
        return None
    if len(walks) == 1:
        return Chosen(walks[0].sits, walks, np.zeros(len(walks[0].sits), np.int64))

    def of_equals(i: int):
        way = walks[i].way
        return len(way.crosses), way.length_m, way.lane.id

    order = sorted(range(len(walks)), key=of_equals)
    tens = [np.floor(_shown(walks[i].equivalent_yd) / 10.0 + 0.5) for i in order]
    nearer = -np.nan_to_num(np.stack(tens), nan=-1.0)
    best = np.lexsort((nearer, np.stack([walks[i].verdict for i in order])), axis=0)[0]
    return Chosen(walks[0].sits, walks, np.array(order)[best])


def way_air(sits: Sits, stand: Stand, walks: Walks, i: int) -> WayAir:
    """One walk read out. Args: the sits; the stand; the way; its place among `walks.sits`."""
    crossed: tuple[str, ...] = ()
    if walks.way.direction == IN:
        crossed = _crossed(sits, walks.way, stand, walks.ends[i])
    return WayAir(
        way=walks.way,
        start_s=float(walks.start_s[i]),
        verdict=walks.verdict[i : i + 1],
        equivalent_yd=walks.equivalent_yd[i : i + 1],
        crossed_before_shot=crossed,
        second=bool(walks.second[i]),
        given=walks.given.taken(i),
    )


def _shown(distance_yd):
    """Distances as files carry them: whole yards, 10 to 3520; NaN where unknown."""
    return np.floor(np.clip(distance_yd, LEAST_SHOWN_YD, MOST_SHOWN_YD) + 0.5)


def shown_yd(distance_yd: float) -> int | None:
    """A distance as files carry it: whole yards, 10 to 3520; None where unknown."""
    return None if distance_yd != distance_yd else int(_shown(distance_yd))
