"""A day's jobs as one walk: from a truck spot past every place and back by the shortest way."""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.chores.beside import features_by_id, shape_of
from core.chores.due import DONE, NOW, OVERDUE, Chore, resting
from core.chores.kinds import JOB
from core.chores.shortest_round import Ends, Step, lengths_from, shortest_round
from core.chores.walking import Leg, PathNet, Place, paths_of
from core.errors import BadRequest
from core.ground.layout import LonLat, Property
from core.ground.plan import Plane
from core.units import M_PER_YD, MPS_PER_MPH, SECONDS_PER_MINUTE

MOST_STOPS, MOST_JOBS = 15, 40  # what one sheet holds
SAME_SPOT_M = 10.0 * M_PER_YD


@dataclass(frozen=True, slots=True)
class Stop:
    """A place of the round: how one comes to it, how far one walks along it, what to do.

    `feature` is an id, empty for the spot of a stand that is to be hung. `from_end`: a trail
    or way is walked from its last vertex to its first.
    """

    feature: str
    chores: tuple[Chore, ...]
    leg: Leg
    along_m: float
    from_end: bool


@dataclass(frozen=True, slots=True)
class Round:
    """A day's walk. `nowhere` are jobs without a place of their own; `start` an id."""

    start: str
    stops: tuple[Stop, ...]
    back: Leg
    nowhere: tuple[Chore, ...]

    @property
    def length_m(self) -> float:
        """All that is walked, along the places too."""
        return sum(s.leg.length_m + s.along_m for s in self.stops) + self.back.length_m

    @property
    def straight_m(self) -> float:
        """What of it has no path drawn."""
        return sum(s.leg.straight_m for s in self.stops) + self.back.straight_m


@dataclass(frozen=True, slots=True)
class _Target:
    """Where a place is come to: its two ends, or one spot twice, and the walk along it."""

    feature: str
    chores: list[Chore]
    ends: tuple[Place, Place]
    along_m: float


def walk_minutes(length_m: float, ground: Property) -> int:
    """Minutes of a walk at the owner's pace, rounded up. Args: its length [m]; the ground."""
    pace_mps = ground.sit.walk_mph * MPS_PER_MPH
    return math.ceil(length_m / pace_mps / SECONDS_PER_MINUTE - 1e-9)


def truck_spots(ground: Property) -> dict[str, LonLat]:
    """Where a round may begin: truck spots, and truck ends of ways that lie by none. By id."""
    plane = Plane(ground.center)
    found = {m.id: m.points[0] for m in ground.marks if m.kind == "truck"}
    for lane in ground.lanes:
        at = shapely.Point(plane.points([lane.line[0]])[0])
        others = shapely.MultiPoint(plane.points(list(found.values())))
        if not found or at.distance(others) > SAME_SPOT_M:
            found[lane.id] = lane.line[0]
    return found


def due_jobs(found: Sequence[Chore], today: datetime.date) -> list[Chore]:
    """What is overdue or due now, and whose saw does not rest. Args: chores; the local date."""
    return [c for c in found if c.state in (OVERDUE, NOW) and not resting(c, today)]


def first_that_fit(jobs: Sequence[Chore]) -> list[Chore]:
    """The first jobs that one round takes. Args: jobs, the most pressing first."""
    places: set[str] = set()
    fit = []
    for job in jobs:
        place = job.feature or job.name
        if place in places or len(places) < MOST_STOPS:
            places.add(place)
            fit.append(job)
    return fit[:MOST_JOBS]


def jobs_named(found: Sequence[Chore], named: Sequence[str]) -> list[Chore]:
    """Chores by what they are called. Args: chores; keys such as cut:east-trail, or ids of
    places for all that is not done there. Raises: BadRequest for one that names nothing."""
    chosen = []
    for word in named:
        meant = [c for c in found if word == c.key or (word == c.feature and c.state != DONE)]
        if not meant:
            known = ", ".join(c.key for c in found[:6])
            raise BadRequest(f"'{word[:60]}' is no job here", "--job", f"Such as: {known}.")
        chosen += [c for c in meant if c not in chosen]
    return chosen


def round_of(ground: Property, jobs: Sequence[Chore], start: str | None = None) -> Round:
    """The shortest walk past the places of some jobs.

    Args: the ground; the jobs, the most pressing first; the id of the truck spot, by default
    the one of the shortest walk. Returns: the round; jobs of one place are one stop.
    Raises: BadRequest without a place to begin, for an unknown one, for too many stops.
    """
    trucks = _starts(ground, start)
    targets, nowhere = _targets(ground, jobs)
    _refuse_too_many(len(targets), MOST_STOPS, "places")
    _refuse_too_many(len(jobs), MOST_JOBS, "jobs")
    spots = [Plane(ground.center).points([at])[0] for at in trucks.values()]
    walks = PathNet(paths_of(ground), [*spots, *(end for t in targets for end in t.ends)])
    n = len(trucks)
    ends = [(n + 2 * i, n + 2 * i + 1) for i in range(len(targets))]
    best, order = _best_start(walks.lengths_m, ends, n)
    stops, here = [], best
    for i, first in order:
        leg = walks.leg(here, ends[i][first])
        target, here = targets[i], ends[i][1 - first]
        stops.append(Stop(target.feature, tuple(target.chores), leg, target.along_m, bool(first)))
    return Round(list(trucks)[best], tuple(stops), walks.leg(here, best), nowhere)


def _best_start(lengths_m, ends: list[Ends], n: int) -> tuple[int, list[Step]]:
    """The truck spot of the shortest walk, of several as short the first, and its order.

    Args: lengths between spots; ends of the stops; how many of the spots, the first, are for
    trucks. Every one is tried.
    """
    walked = np.round(lengths_from(lengths_m, ends, range(n)), 3)
    start = int(walked.argmin())
    return start, shortest_round(lengths_m, ends, start)


def _refuse_too_many(n: int, most: int, what: str) -> None:
    if n > most:
        raise BadRequest(
            f"{n} {what} are too many for one round", "the round", f"Choose up to {most} of them."
        )


def _starts(ground: Property, start: str | None) -> dict[str, LonLat]:
    spots = truck_spots(ground)
    if not spots:
        raise BadRequest(
            "no truck spot and no way in is drawn", "the round", "Draw one on the map."
        )
    if start is None:
        return spots
    if start in spots:
        return {start: spots[start]}
    for lane in ground.lanes:
        if lane.id == start:
            return {start: lane.line[0]}
    known = ", ".join(list(spots)[:12])
    raise BadRequest(f"'{start[:40]}' is no truck spot", "--from", f"Spots here: {known}.")


def _targets(ground: Property, jobs: Sequence[Chore]) -> tuple[list[_Target], tuple[Chore, ...]]:
    """Places in the order of their first jobs, and jobs that have none."""
    plane, features = Plane(ground.center), features_by_id(ground)
    net = shapely.MultiLineString(list(paths_of(ground).values()))
    found: dict[str, _Target] = {}
    nowhere = []
    for job in jobs:
        key = job.feature or job.name
        if key in found:
            found[key].chores.append(job)
        elif job.feature in features:
            shape = shape_of(features[job.feature], plane)
            found[key] = _Target(job.feature, [job], *_ends(shape, net))
        elif (spot := _spot(ground, job)) is not None:
            at = shapely.Point(plane.points([spot])[0])
            found[key] = _Target("", [job], *_ends(at, net))
        else:
            nowhere.append(job)
    return list(found.values()), tuple(nowhere)


def _spot(ground: Property, job: Chore) -> LonLat | None:
    """Where a stand is to be hung."""
    planned = ground.work.jobs if job.kind == JOB else ()
    return next((p.at for p in planned if p.name == job.name), None)


def _ends(shape: shapely.Geometry, net: shapely.Geometry) -> tuple[tuple[Place, Place], float]:
    """The ends of a line and its length; of an area, its place nearest to a path."""
    if shape.geom_type == "LineString":
        return (shape.coords[0], shape.coords[-1]), float(shape.length)
    at = shape.coords[0] if shape.geom_type == "Point" else _edge_place(shape, net)
    return (at, at), 0.0


def _edge_place(area: shapely.Polygon, net: shapely.Geometry) -> Place:
    edge = area.exterior
    if net.is_empty:
        return edge.coords[0]
    return shapely.shortest_line(edge, net).coords[0]
