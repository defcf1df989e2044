"""Two seats on one morning: what makes one hunter spoil or endanger the other's sit.

All that is found here keeps two seats apart in a proposal; what is not found is no
clearance. Distances that decide are settings of the property, common practice, no source.
"""

import functools
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.angles import signed_difference_deg
from core.answer.one_sit import StandSit
from core.ground.place import receptors
from core.ground.plan import Zone, bearing_deg, zone_of_lines, zones_as_one
from core.sit.before import ENDS
from core.sit.prepare import Sit
from core.sit.scene import Scene
from core.sit.strength import likes_yd
from core.sit.trails import approach_verdict
from core.sit.verdicts import WRONG
from core.sit.ways import WayAir
from core.units import M_PER_YD, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]

# what keeps two seats apart, in the order in which it is said
TOO_NEAR, IN_RANGE, IN_LINE = "too-near", "in-range", "in-line"
AIR_ON_SEAT, AIR_ON_TRAIL = "air-on-seat", "air-on-trail"
PAST_SEAT, THROUGH_TRAIL = "past-seat", "through-trail"
FOUND = (TOO_NEAR, IN_RANGE, IN_LINE, AIR_ON_SEAT, AIR_ON_TRAIL, PAST_SEAT, THROUGH_TRAIL)

IN_LINE_DEG, IN_LINE_TO_YD = 10.0, 300.0  # common practice, no source


@dataclass(frozen=True, slots=True)
class PairFinding:
    """One thing that one hunter does to the other.

    `kind`: of `FOUND`; `trail`: id of the trail it is about, or empty; `yards`: how far
    apart, how near past, or what the air is like; `time_s`: when a walk passes [epoch s].
    """

    kind: str
    trail: str = ""
    yards: float = math.nan
    time_s: float = math.nan


@dataclass(frozen=True, eq=False)
class Seated:
    """One hunter in one seat: the sit it is of, and the stand in it."""

    sit: Sit
    own: StandSit

    @property
    def scene(self) -> Scene:
        return self.sit.scene

    @functools.cached_property
    def at_m(self) -> Floats:
        """Where the seat is, local metres. Shape (2,)."""
        return self.scene.stands_m[self.scene.index(self.own.stand)]

    @functools.cached_property
    def up_s(self) -> float:
        """When the hunter comes to the tree; NaN where no walk is known. [epoch s]"""
        walk = self.own.way_in
        return math.nan if walk is None else walk.start_s + walk.way.minutes * SECONDS_PER_MINUTE

    @functools.cached_property
    def down_s(self) -> float:
        """When the sit ends. [epoch s]"""
        if self.own.leave_by_s is not None:
            return float(self.own.leave_by_s)
        clock = self.sit.clock
        return float(clock.legal_end_s if clock.end_s is None else clock.end_s)

    @functools.cached_property
    def trails(self) -> dict[str, Zone]:
        """The trails waited on: of each the part that deer walk before the shot, by id."""
        met = {end for row in self.sit.clock.row_start_s for end in self.sit.ends_at(row)}
        ends = next((e for e in ENDS if set(e) == met), ENDS[-1])
        return self.scene.before_shot(self.own.stand, self.own.range_yd, ends)

    @functools.cached_property
    def trail_lines(self) -> dict[str, shapely.MultiLineString]:
        """The same as geometries."""
        return {k: shapely.multilinestrings(list(zone.lines)) for k, zone in self.trails.items()}

    @functools.cached_property
    def zones(self) -> list[tuple[str, Zone]]:
        """What another's air must not lie on: the seat, under no id, and the trails."""
        return [("", zone_of_lines([self.at_m[None]])), *self.trails.items()]

    def shots_deg(self) -> list[tuple[str, float]]:
        """Bearings to the nearest point of each trail in range, with its id."""
        places = self.scene.places(self.own.stand)
        bearings = [(trail, places[trail].bearing_deg) for trail in self.own.corridors]
        return [(trail, bearing) for trail, bearing in bearings if not math.isnan(bearing)]


def apart_yd(one: Seated, other: Seated) -> float:
    """Straight distance between two seats. [yd]"""
    return math.dist(one.at_m, other.at_m) / M_PER_YD


def findings(one: Seated, other: Seated) -> list[PairFinding]:
    """What the first does to the second, in the order of `FOUND`; none is no clearance.

    Args: two seats of different hunters.
    """
    return sorted(_each(one, other), key=lambda f: FOUND.index(f.kind))


def spoils(one: Seated, other: Seated) -> bool:
    """Whether either does anything to the other. Args: two seats of different hunters."""
    return any(True for _ in itertools.chain(_each(one, other), _each(other, one)))


def _each(one: Seated, other: Seated) -> Iterator[PairFinding]:
    """What the first does to the second, what is quickly found first."""
    yards = apart_yd(one, other)
    if yards < one.scene.ground.sit.apart_yd:
        yield PairFinding(TOO_NEAR, yards=yards)
    if yards <= one.own.range_yd and not no_shoot_between(one, other):
        yield PairFinding(IN_RANGE, yards=yards)
    for trail in shots_at(one, other):
        yield PairFinding(IN_LINE, trail, yards)
    yield from _walk_in(one, other)
    yield from _walk_out(one, other)
    yield from _air(one, other)


def shots_at(one: Seated, other: Seated) -> list[str]:
    """Trails to which a shot of the first points at the second, out to where it may carry."""
    if not 0 < apart_yd(one, other) <= max(IN_LINE_TO_YD, one.own.range_yd):
        return []
    toward = float(bearing_deg(one.at_m, other.at_m))
    return [
        trail
        for trail, shot in one.shots_deg()
        if abs(float(signed_difference_deg(shot, toward))) <= IN_LINE_DEG
    ]


def no_shoot_between(one: Seated, other: Seated) -> bool:
    """Whether an area into which the owner lets nobody shoot lies between two seats."""
    scene = one.scene
    areas = scene.kept(
        "no-shoot",
        lambda: [
            scene.area_of(mark)
            for mark in scene.ground.marks
            if mark.kind == "no-shoot" and mark.geometry == "Polygon"
        ],
    )
    line = shapely.LineString([one.at_m, other.at_m])
    return any(area.intersects(line) for area in areas)


# --- air ---


def air_like_yd(one: Seated, other: Seated) -> dict[str, float]:
    """How strongly one hunter's air reaches another's seat and trails while both sit.

    Returns: the worst hour of each trail by its id, of the seat under "", as "like N yards"
    [yd]; nothing where no hour is shared.
    """
    rows, seated_s = one.own.rows, other.own.seated_s
    both = np.asarray(one.own.judged.stretch[0], bool) & (rows.start_s < other.down_s)
    if seated_s is not None:
        both &= rows.end_s > seated_s
    if not both.any():
        return {}
    names, zones = zip(*other.zones, strict=True)
    like_yd = likes_yd(
        receptors(one.at_m, zones_as_one(zones)), one.own.hours.air.take(np.flatnonzero(both))
    )
    worst = np.nan_to_num(like_yd, nan=np.inf).min(axis=0)
    return {name: float(worst[i]) for i, name in enumerate(names)}


def _air(one: Seated, other: Seated) -> list[PairFinding]:
    """Where the first one's air lies on what the second watches, by the rule for one's own."""
    rules = one.scene.ground.air
    found = []
    for name, yards in air_like_yd(one, other).items():
        away = one.scene.places(other.own.stand)[name].distance_m / M_PER_YD if name else 0.0
        if int(approach_verdict(yards, away, rules)) == WRONG:
            found.append(PairFinding(AIR_ON_TRAIL if name else AIR_ON_SEAT, name, yards))
    return found


# --- walks, in the order in which they are walked ---


def _walk_in(one: Seated, other: Seated) -> list[PairFinding]:
    """The first one's way in: past the second who sits already, or over his trail."""
    walk = one.own.way_in
    if walk is None:
        return []
    past = _past(walk, other)
    found = [past] if past is not None and past.time_s >= other.up_s else []
    return found + [PairFinding(THROUGH_TRAIL, trail) for trail in _crossed(walk, other)]


def _walk_out(one: Seated, other: Seated) -> list[PairFinding]:
    """The first one's way out, while the second still sits."""
    walk = one.own.way_out
    if walk is None or walk.start_s >= other.down_s:
        return []
    past = _past(walk, other)
    found = [past] if past is not None and past.time_s < other.down_s else []
    return found + [PairFinding(THROUGH_TRAIL, trail) for trail in _crossed(walk, other)]


def _past(walk: WayAir, other: Seated) -> PairFinding | None:
    """Where and when a walk comes near a seat; None where it does not."""
    path, seat = shapely.LineString(walk.way.path_m), shapely.Point(other.at_m)
    yards = path.distance(seat) / M_PER_YD
    if yards >= other.scene.ground.sit.pass_yd:
        return None
    part = path.project(seat) / path.length if path.length else 0.0
    time_s = walk.start_s + part * walk.way.minutes * SECONDS_PER_MINUTE
    return PairFinding(PAST_SEAT, yards=yards, time_s=time_s)


def _crossed(walk: WayAir, other: Seated) -> list[str]:
    path = shapely.LineString(walk.way.path_m)
    return [trail for trail, lines in other.trail_lines.items() if path.intersects(lines)]
