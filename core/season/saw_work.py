"""Winter jobs: a lane cut here, a stand moved there, by the sits that a yard of cutting gains.

Only what the saw can change is tried: another lane's straight end to a stand that loses
sits to its way in, and a stand moved to a spot near it, kept on its own lanes.
"""

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from core.angles import point_name
from core.ground.layout import Lane, Property, Stand
from core.ground.plan import bearing_deg
from core.season.next_stand import APART_M, TREE, Tries
from core.season.review import SeasonAnswer
from core.season.spots import LONGEST_CUT_M, spots_for
from core.sit.scene import Scene
from core.units import M_PER_YD

MOST_JOBS = 10
LEAST_CUT_YD = 10  # a job of less is as much work to get ready for
LEAST_MOVE_M = 10.0 * M_PER_YD


@dataclass(frozen=True, eq=False)
class Job:
    """One job: what to do, how much to cut, and the sits its stand gains."""

    kind: str  # lane or move
    stand: str
    lane: str
    words: str
    cut_yd: int
    gains_sits: int
    of_sits: int

    @property
    def per_yard(self) -> float:
        return self.gains_sits / max(self.cut_yd, LEAST_CUT_YD)


def lost_to_ways(answer: SeasonAnswer) -> list[tuple[str, int]]:
    """Stands that lose sits to their way in alone, most first, as (id, sits).

    Args: the answer.
    """
    lost = [
        (stand.id, sum(int(h.by_stand[i].but_for_way.sum()) for h in answer.reviews))
        for i, stand in enumerate(answer.stands)
    ]
    return sorted((x for x in lost if x[1]), key=lambda x: -x[1])


@dataclass(frozen=True, eq=False)
class _Try:
    kind: str
    index: int  # of the stand in the file
    stand: Stand
    lanes: tuple[Lane, ...]
    lane: str
    cut_m: float
    words: str


def saw_work(answer: SeasonAnswer, most: int = MOST_JOBS, progress=None) -> list[Job]:
    """The jobs that gain most sits for a yard cut, at most one of a kind for a stand.

    Args: the answer; how many at most; told the share done, 0 to 1.
    """
    attempts = [*_lane_tries(answer), *_move_tries(answer)]
    if not attempts:
        return []
    tries = Tries(answer, _with_attempts(answer, attempts), progress)
    now = answer.go[tries.picked].sum(axis=0)
    by_key: dict[tuple[str, str], list[int]] = {}
    for i, attempt in enumerate(attempts):
        by_key.setdefault((attempt.kind, attempt.stand.id), []).append(i)
    best = (_best_of(attempts, some, tries, now) for some in by_key.values())
    return sorted((j for j in best if j is not None), key=lambda j: -j.per_yard)[:most]


def _best_of(attempts: list[_Try], some: list[int], tries: Tries, now) -> Job | None:
    """The job of one kind for one stand that gains most for a yard; None without a gain."""
    best: Job | None = None
    could = [_job(attempts[i], tries.by_air[:, i], now) for i in some]
    for i, bound in sorted(zip(some, could, strict=True), key=lambda x: -x[1].per_yard):
        if bound.per_yard <= (best.per_yard if best else 0.0):
            break  # walks never add a sit
        job = _job(attempts[i], tries.go(i), now)
        if job.gains_sits > 0 and (best is None or job.per_yard > best.per_yard):
            best = job
    return best


def _job(attempt: _Try, go, now) -> Job:
    gain = int(go.sum()) - int(now[attempt.index])
    return Job(
        attempt.kind,
        attempt.stand.id,
        attempt.lane,
        attempt.words,
        round(attempt.cut_m / M_PER_YD),
        gain,
        len(go),
    )


def _with_attempts(answer: SeasonAnswer, attempts: list[_Try]) -> Property:
    """The property with a stand for each attempt, and lanes of its own for each."""
    stands, lanes = [], []
    for i, attempt in enumerate(attempts):
        stands.append(dataclasses.replace(attempt.stand, id=f"try-{i}"))
        lanes += [
            dataclasses.replace(lane, id=f"{i}-{lane.id}", stands=(f"try-{i}",))
            for lane in attempt.lanes
        ]
    return dataclasses.replace(answer.scene.ground, stands=tuple(stands), lanes=tuple(lanes))


def _own_lanes(scene: Scene, stand: Stand) -> tuple[Lane, ...]:
    return tuple(lane for lane in scene.ground.lanes if stand.id in lane.stands)


def _lane_tries(answer: SeasonAnswer) -> Iterator[_Try]:
    """Another lane carried on to each stand that loses sits to its way in."""
    scene = answer.scene
    in_beds = _beds(scene)
    for name, _ in lost_to_ways(answer):
        stand = scene.ground.stand(name)
        index = scene.index(stand)
        own = _own_lanes(scene, stand)
        for lane in scene.ground.lanes:
            if lane.way == "out" or stand.id in lane.stands:
                continue
            end = _end(scene, lane, scene.stands_m[index], in_beds)
            if end is not None:
                yield _Try(
                    "lane",
                    index,
                    stand,
                    (*own, lane),  # as it may be walked: the way out decides too
                    lane.id,
                    end,
                    f"carry {lane.name or lane.id} on to {stand.name or stand.id}",
                )


def _move_tries(answer: SeasonAnswer) -> Iterator[_Try]:
    """Each open stand at the spots near it, on the lanes it has."""
    scene = answer.scene
    in_beds, spots = _beds(scene), list(spots_for(scene))
    places = np.array([s.at_m for s in spots]).reshape(-1, 2)
    for index, stand in enumerate(scene.ground.stands):
        own, at_m = _own_lanes(scene, stand), scene.stands_m[index]
        far = np.hypot(*(places - at_m).T)
        for i in np.flatnonzero((far >= LEAST_MOVE_M) & (far <= APART_M)):
            ends = [_end(scene, lane, places[i], in_beds) for lane in own if lane.way != "out"]
            known = [e for e in ends if e is not None]
            if stand.closed or not known:
                continue
            lon, lat = scene.plane.to_lonlat(*places[i])
            where = point_name(float(bearing_deg(at_m, places[i])))
            yards = round(float(far[i]) / M_PER_YD)
            yield _Try(
                "move",
                index,
                dataclasses.replace(stand, at=(float(lon), float(lat))),
                own,
                spots[i].lane,
                min(known),
                f"move {stand.name or stand.id} {yards} yd {where} ({TREE})",
            )


def _beds(scene: Scene):
    pairs = zip(scene.areas, scene.polygons, strict=True)
    return shapely.unary_union([p for a, p in pairs if a.kind == "bedding"])


def _end(scene: Scene, lane: Lane, at_m, in_beds) -> float | None:
    """Length of the straight end from a lane to a place; None past a bed or too long. [m]"""
    end = shapely.shortest_line(scene.lane_lines[lane.id], shapely.Point(at_m))
    if end.length > LONGEST_CUT_M or (not in_beds.is_empty and end.intersects(in_beds)):
        return None
    return float(end.length)
