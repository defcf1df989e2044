"""Jobs of the season review on the list of work: put there, and gone when the map shows them."""

from typing import Any

import numpy as np

from core.chores.typed import with_one
from core.ground.layout import LonLat, Property
from core.ground.plan import Plane
from core.ground.yearly.work_rules import PlannedJob
from core.season.next_stand import NextStand
from core.season.saw_work import Job
from core.units import M_PER_YD

STANDS_THERE_M = 30.0 * M_PER_YD  # a stand this near a spot fills it; common practice
MOVED_M = 5.0 * M_PER_YD  # nearer, it is where it was


def job_of_spot(spot: NextStand, ground: Property, number: int = 1) -> PlannedJob:
    """A next stand as a job. Args: the spot; its ground; its number among those found."""
    return PlannedJob(
        f"hang a stand by {ground.name_of(spot.corridor)}, spot {number}",
        "stand",
        spot.adds_sits,
        spot.of_sits,
        spot.cut_yd,
        None,
        spot.lane,
        spot.lonlat,
    )


def job_of_saw(job: Job, ground: Property) -> PlannedJob:
    """A next way in or a move as a job. Args: the saw work; its ground."""
    at = ground.stand(job.stand).at if job.kind == "move" else None
    return PlannedJob(
        job.words, job.kind, job.gains_sits, job.of_sits, job.cut_yd, job.stand, job.lane, at
    )


def with_job(document: dict, job: PlannedJob) -> dict:
    """A document with a job on its list, once. Args: a property's document; the job."""
    told = {name: getattr(job, name) for name in PlannedJob.__slots__}
    plain: dict[str, Any] = {name: value for name, value in told.items() if value is not None}
    if job.at is not None:
        plain["at"] = [round(float(x), 7) for x in job.at]
    return with_one(document, "jobs", plain)


def jobs_to_do(ground: Property) -> list[PlannedJob]:
    """The jobs that the map does not show done. Args: the ground."""
    return [job for job in ground.work.jobs if not shown_done(job, ground)]


def shown_done(job: PlannedJob, ground: Property) -> bool:
    """Whether the map shows a job done: a stand at its spot, a way to its stand, or its
    stand in another place. A stand that is gone needs no work. Args: the job; the ground."""
    if job.kind == "stand":
        return job.at is not None and any(
            _apart_m(ground, job.at, stand.at) <= STANDS_THERE_M for stand in ground.stands
        )
    stand = next((s for s in ground.stands if s.id == job.stand), None)
    if stand is None:
        return True
    if job.kind == "move":
        return job.at is not None and _apart_m(ground, job.at, stand.at) > MOVED_M
    return any(lane.id == job.lane and stand.id in lane.stands for lane in ground.lanes)


def _apart_m(ground: Property, a: LonLat, b: LonLat) -> float:
    points = Plane(ground.center).points([a, b])
    return float(np.hypot(*(points[0] - points[1])))
