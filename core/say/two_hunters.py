"""Two hunters on one ground: what to know of each other. No warning is never clearance."""

import math

import numpy as np

from core.air.drift import equivalent_distance_m
from core.air.slopes import LEAST_CARRY_MPS
from core.angles import signed_difference_deg
from core.answer.one_sit import StandSit
from core.ground.layout import Stand
from core.ground.plan import bearing_deg, joined, receptors
from core.say.words import like_text
from core.sit.prepare import Sit
from core.sit.scene import Scene
from core.sit.strength import zone_strengths
from core.units import M_PER_YD

CLOSE_YD = 150.0  # common practice, no source
IN_LINE_DEG, IN_LINE_TO_YD = 10.0, 300.0  # common practice, no source
NOT_CLEARANCE = "No warning is not clearance: agree on where each sits and where nobody shoots."


def shots_deg(scene: Scene, stand: Stand, range_yd: float) -> list[tuple[str, float]]:
    """Bearings from a seat to its shots: the nearest point of each trail in range.

    Args: the scene; the stand; its range [yd]. Returns: ids of the trails, bearings [deg].
    """
    places = scene.places(stand)
    return [
        (name, places[name].bearing_deg)
        for name in scene.corridors_in_range(stand, range_yd)
        if not math.isnan(places[name].bearing_deg)
    ]


def together(sit: Sit, mine: StandSit, other: StandSit, name: str) -> list[str]:
    """What two hunters must know when one sits here and the other there.

    Args: the sit; my stand in it; the other's; the other's name.
    Returns: sentences; none where nothing was found, which is no clearance.
    """
    ground, yards = sit.scene.ground, apart_yd(sit, mine, other)
    lines = []
    if yards < CLOSE_YD:
        lines.append(f"{name} sits {yards:.0f} yd from you, at {other.stand.name}.")
    for seat, target, whose, who in (
        (mine, other, "your", name),
        (other, mine, f"{name}'s", "you"),
    ):
        lines += [
            f"In line: {whose} shot to {ground.name_of(x)} points at {who}, {yards:.0f} yd off."
            for x in shots_at(sit, seat, target)
        ]
    shared = {w.way.lane.id for w in (mine.way_in, mine.way_out) if w} & {
        w.way.lane.id for w in (other.way_in, other.way_out) if w
    }
    lines += [
        f"You share {ground.name_of(x)} with {name}: agree on who walks when."
        for x in sorted(shared)
    ]
    lines += _air_on_trails(sit, mine, other, f"Your air lies on {name}'s")
    lines += _air_on_trails(sit, other, mine, f"{name}'s air lies on your")
    return lines


def apart_yd(sit: Sit, one: StandSit, other: StandSit) -> float:
    """Straight distance between two stands of a sit. [yd]"""
    return math.dist(*_places_m(sit, one, other)) / M_PER_YD


def _places_m(sit: Sit, *stands: StandSit) -> list:
    return [sit.scene.stands_m[sit.scene.index(s.stand)] for s in stands]


def shots_at(sit: Sit, seat: StandSit, target: StandSit) -> list[str]:
    """Trails to which a shot from one seat points at another, out to where it may carry.

    Args: the sit; the seat that shoots; the other. Returns: ids of the trails.
    """
    if not 0 < apart_yd(sit, seat, target) <= IN_LINE_TO_YD:
        return []
    toward = float(bearing_deg(*_places_m(sit, seat, target)))
    return [
        trail
        for trail, shot in shots_deg(sit.scene, seat.stand, seat.range_yd)
        if abs(float(signed_difference_deg(shot, toward))) <= IN_LINE_DEG
    ]


def _air_on_trails(sit: Sit, from_: StandSit, to: StandSit, head: str) -> list[str]:
    """The air of one hunter on the trails that the other watches, where it is wrong."""
    ends = sit.ends_at(from_.seated_s or sit.clock.seated_s)
    before = sit.scene.before_shot(to.stand, to.range_yd, ends)
    air = from_.hours.air
    if not before or not len(air.row):
        return []
    at = sit.scene.stands_m[sit.scene.index(from_.stand)]
    strengths = zone_strengths(
        receptors(at, joined(list(before.values()))),
        air_to_deg=air.air_to_deg[:, None],
        half_width_deg=air.doubt_deg[:, None],
        stability=air.stability[:, None],
        carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],
        sigma_rad=air.sigma_rad[:, None],
        height_m=air.height_m,
    )
    like = equivalent_distance_m(np.nan_to_num(strengths.max(axis=(0, 1)))) / M_PER_YD
    limit = sit.scene.ground.air.wrong_within_yd
    return [
        f"{head} trail {sit.scene.ground.name_of(trail)}, like {like_text(float(yd))}."
        for trail, yd in zip(before, like, strict=True)
        if yd < limit
    ]
