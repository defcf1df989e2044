"""How rested each stand is in some sits, by the log."""

import datetime
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.ground.layout import Stand
from core.ground.place import Shapes, shapes
from core.keep.rest import last_sat, loads, uses
from core.sit.minutes import EVENING
from core.sit.prepare import Sits
from core.sit.scene import Scene

Floats = npt.NDArray[np.float64]
LEAST_REST = 0.4
REST_DAYS = 3.0  # where no part of the season says otherwise
TELLING_SHARE = 1e-4  # a load that fell to this tells nothing


@dataclass(frozen=True, eq=False)
class Rested:
    """One stand in some sits; shapes (sit,).

    `share`: how rested, 0.4 to 1. `sat_days`: days since it was sat, NaN where the log has no
    sit of it.
    """

    share: Floats
    sat_days: Floats


def rest_share(load: float = 0.0) -> float:
    """How rested a stand is, 0.4 to 1, from its load. No log: 1."""
    return max(LEAST_REST, 1.0 / (1.0 + load))


def rested(sits: Sits, stand: Stand) -> Rested:
    """How rested a stand is in each sit. Args: the sits, with or without a log; the stand."""
    if sits.log is None:
        return Rested(np.ones(len(sits)), np.full(len(sits), np.nan))
    by_day = sits.kept("rested", lambda: _by_day(sits))
    told = [by_day[day] for day in sits.clock.at.tolist()]
    return Rested(
        np.array([rest_share(load[stand.id]) for load, _ in told]),
        np.array([sat.get(stand.id, np.nan) for _, sat in told], float),
    )


def log_since(ground, date: datetime.date) -> datetime.date:
    """The first day of the log that can still tell at a date. Args: the property; the date."""
    longest = max([REST_DAYS, *(part.rest_days for part in ground.parts)])
    return date - datetime.timedelta(days=max(60, round(-np.log(TELLING_SHARE) * longest)))


def _by_day(sits: Sits) -> dict[int, tuple[dict[str, float], dict[str, int]]]:
    """Loads, and days since each stand was sat, by the place of the date in the clock."""
    found, dates, log = {}, sits.clock.dates, sits.log or ()
    shared = shared_with(sits.scene)
    evening = sits.clock.sit == EVENING
    for day in np.unique(sits.clock.at).tolist():
        date, part = dates.date[day].item(), dates.part(day)
        rest_days = part.rest_days if part else REST_DAYS
        used = uses(log, date, evening=evening)
        found[day] = (
            loads(used, date, rest_days, shared),
            last_sat(log, date, evening=evening),
        )
    return found


def shared_with(scene: Scene) -> dict[str, tuple[str, ...]]:
    """What each stand shares: its nearest bed and food, its ways, the trails in its range,
    and the stands with which it has one of the first three in common.

    Args: the scene. Common practice, no source.
    """
    return scene.kept("shared", lambda: _shared_with(scene))


def _shared_with(scene: Scene) -> dict[str, tuple[str, ...]]:
    own: dict[str, set[str]] = {stand.id: set() for stand in scene.ground.stands}
    for kind in ("bedding", "food"):
        areas = [
            (a.id, p) for a, p in zip(scene.areas, scene.polygons, strict=True) if a.kind == kind
        ]
        if areas:
            nearest = _nearest(scene.stands_m, shapes(p for _, p in areas))
            for stand, i in zip(scene.ground.stands, nearest, strict=True):
                own[stand.id].add(areas[i][0])
    for lane in scene.ground.lanes:
        for stand_id in set(lane.stands) & set(own):
            own[stand_id].add(lane.id)
    users: dict[str, set[str]] = {}
    for stand_id, places in own.items():
        for place in places:
            users.setdefault(place, set()).add(stand_id)
    return {
        stand.id: tuple(
            sorted(
                set(scene.corridors_in_range(stand, stand.range_yd))
                | own[stand.id]
                | {other for place in own[stand.id] for other in users[place]} - {stand.id}
            )
        )
        for stand in scene.ground.stands
    }


def _nearest(points_m: Floats, areas: Shapes) -> list[int]:
    """Which area lies nearest to each point. Args: points, shape (n, 2) [m]; the areas."""
    far_m = shapely.distance(shapely.points(points_m)[:, None], np.asarray(areas)[None])
    return far_m.argmin(axis=1).tolist()
