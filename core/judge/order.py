"""The order of the stands of a sit, group by group, and how rested each is by the log."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.ground.layout import Property, Stand
from core.ground.place import Shapes, shapes
from core.judge.stand import LAST, WATCH, StandSits
from core.keep.rest import last_sat, loads, uses
from core.sit.minutes import EVENING
from core.sit.prepare import Sits
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, GROUP_WORDS, STAY, WRONG

Floats = npt.NDArray[np.float64]

BAND = 0.05
# values of the ways, and of what is wanted: common practice, no source
WAY_IN_SHARE = np.array([1.0, 0.8, 0.8, 0.0])
WAY_IN_WRONG_SHARE = 0.2  # only to order the stands that are out
WAY_OUT_SHARE = np.array([1.0, 0.9, 0.8, 0.6])
WANTED_SHARE = {"best": 1.0, "good": 0.7, "watch": 0.4, "not-now": 0.4}
UNSET_WANTED, UNSET_WATCH, NO_SHOT_WANTED = 0.7, 0.4, 0.4
LEAST_REST = 0.4
REST_DAYS = 3.0  # where no part of the season says otherwise
TELLING_SHARE = 1e-4  # a load that fell to this tells nothing


@dataclass(frozen=True, eq=False)
class Seat:
    """What is known of a stand in some sits before its air is: `wanted`, the owner's words,
    shape (sit,)."""

    stand: Stand
    range_yd: float
    wanted: npt.NDArray[np.object_]


def orders(sits: Sits, stands: Sequence[StandSits]) -> tuple[Floats, list[list[int]]]:
    """Scores of the stands of each sit, (sit, stand), and their order, best first.

    Args: the sits; every stand judged in them, in the file's order.
    """
    if not stands:
        return np.zeros((len(sits), 0)), [[] for _ in range(len(sits))]
    rest = [rested(sits, s.stand).share for s in stands]
    scores = np.stack([score_of(sits, *both) for both in zip(stands, rest, strict=True)], axis=1)
    group = np.stack([s.group for s in stands], axis=1)
    at_end = np.stack([s.any_of(LAST) for s in stands], axis=1)
    # in stay out nobody shoots: there the sums alone order
    no_shot_here = np.stack([after_shots(sits, s) for s in stands], axis=1)
    behind = np.where(group == STAY, at_end, no_shot_here)
    in_range = [len(sits.scene.corridors_in_range(s.stand, s.range_yd)) for s in stands]
    each = []
    for i in range(len(sits)):
        members: dict[tuple[int, bool], list] = {}
        for k, s in enumerate(stands):
            entry = (scores[i, k], in_range[k], rest[k][i], s.stand.name, s.stand.id, k)
            members.setdefault((int(group[i, k]), bool(behind[i, k])), []).append(entry)
        keys = [(g, last) for g in range(len(GROUP_WORDS)) for last in (False, True)]
        each.append([k for key in keys for k in in_order(members.get(key, []))])
    return scores, each


def no_shot(sits: Sits, own: Seat | StandSits):
    """Sits in which this hunter has no shot from a stand. Shape (sit,)

    No day trail and no food lies within the smaller range of stand and hunter, while the
    stand's own range has one, or the owner wants nothing of it.
    Args: the sits; the stand in them.
    """
    stand = own.stand
    if shot_within(sits, stand, own.range_yd):
        return np.zeros(len(sits), bool)
    unset = np.array([word is None for word in own.wanted.tolist()], bool)
    return unset | shot_within(sits, stand, sits.armed(stand).range_yd)


def shot_within(sits: Sits, stand: Stand, range_yd: float) -> bool:
    """Whether a day trail or food lies within a range. Args: the sits; the stand; it [yd]."""
    trails = sits.scene.corridors_in_range(stand, range_yd)
    return bool(trails) or bool(sits.scene.food_in_range(stand, range_yd))


def after_shots(sits: Sits, own: Seat | StandSits):
    """Sits in which a stand comes after every one with a shot. Shape (sit,)

    It has none for this hunter, another stand of the ground has one, and the owner does not
    ask for watching there. Args: the sits; the stand in them.
    """
    if shot_within(sits, own.stand, own.range_yd) or not _any_shot(sits):
        return np.zeros(len(sits), bool)
    return np.array([word != WATCH for word in own.wanted.tolist()], bool)


def _any_shot(sits: Sits) -> bool:
    def found() -> bool:
        stands = sits.ground.stands
        return any(shot_within(sits, s, sits.range_yd(s)) for s in stands)

    return sits.kept("any shot", found)


def score_of(sits: Sits, own: StandSits, rest: Floats) -> Floats:
    """Air x way x wanted x rest. It only orders; it is never shown as a number. (sit,)

    Args: as `factors`.
    """
    return np.prod(list(factors(sits, own, rest).values()), axis=0)


def factors(sits: Sits, own: StandSits, rest: Floats) -> dict[str, Floats]:
    """What the order multiplies: air, way in, way out, wanted, rest; shapes (sit,).

    Args: the sits; the stand in them; how rested it is, shape (sit,).
    """
    cant = np.full(len(sits), CANT_CALL)
    way_in = cant if own.way_in is None else own.way_in.verdict
    way_out = cant if own.way_out is None else own.way_out.verdict
    stay = own.group == STAY
    share_in = np.where(stay & (way_in == WRONG), WAY_IN_WRONG_SHARE, WAY_IN_SHARE[way_in])
    air = np.where(stay, own.judged.window_share, own.judged.air_share)
    return {
        "air": np.asarray(air, float),
        "way_in": share_in,
        "way_out": WAY_OUT_SHARE[way_out],
        "wanted": wanted_shares(sits, own),
        "rest": rest,
    }


def wanted_shares(sits: Sits, own: Seat | StandSits) -> Floats:
    """What the owner's word for a stand is worth in each of some sits; shape (sit,).

    Args: the sits; the stand in them.
    """
    scene, stand = sits.scene, own.stand
    food = sits.clock.sit == EVENING and scene.food_in_range(stand, own.range_yd)
    shot = scene.corridors_in_range(stand, own.range_yd) or food
    unset = UNSET_WANTED if shot else UNSET_WATCH
    wanted = np.array([WANTED_SHARE.get(word, unset) for word in own.wanted.tolist()], float)
    return np.where(no_shot(sits, own), np.minimum(wanted, NO_SHOT_WANTED), wanted)


def in_order(scored: list[tuple[float, int, float, str, str, int]]) -> list[int]:
    """Order of stands by score, in bands of 5 %.

    Args: (score, corridors in range, rest share, name, id, key) of each.

    Returns: the keys. Within 5 % of the best: more corridors, longer rested,
    name, id; then the rest likewise.
    """
    left = sorted(scored, key=lambda s: (-s[0], s[3], s[4]))
    order: list[int] = []
    while left:
        floor = left[0][0] * (1.0 - BAND) - 1e-12
        band = [s for s in left if s[0] >= floor]
        left = left[len(band) :]
        band.sort(key=lambda s: (-s[1], -s[2], s[3], s[4]))
        order += [s[5] for s in band]
    return order


# --- rest ---


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


def log_since(ground: Property, date: datetime.date) -> datetime.date:
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
