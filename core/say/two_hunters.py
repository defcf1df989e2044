"""Two hunters on one ground: what to know of each other. No warning is never clearance."""

import math

import numpy as np

from core.air.drift import equivalent_distance_m
from core.air.slopes import LEAST_CARRY_MPS
from core.angles import signed_difference_deg
from core.answer.one_sit import Sit, StandSit
from core.ground.layout import Stand
from core.ground.plan import bearing_deg, joined, receptors
from core.say.words import like_text
from core.sit.exposure import zone_strengths
from core.sit.scene import Scene
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
    scene = sit.scene
    a, b = (scene.stands_m[scene.index(s.stand)] for s in (mine, other))
    apart_yd = float(np.hypot(*(a - b))) / M_PER_YD
    said = []
    if apart_yd < CLOSE_YD:
        said.append(f"{name} sits {apart_yd:.0f} yd from you, at {other.stand.name}.")
    for seat, at, to, who in ((mine, a, b, "your"), (other, b, a, f"{name}'s")):
        said += _in_line(sit, seat, at, to, apart_yd, who, name)
    shared = {w.way.lane.id for w in (mine.way_in, mine.way_out) if w} & {
        w.way.lane.id for w in (other.way_in, other.way_out) if w
    }
    said += [
        f"You share {scene.ground.name_of(x)} with {name}: agree on who walks when."
        for x in sorted(shared)
    ]
    said += _air_on_trails(sit, mine, other, f"Your air lies on {name}'s")
    said += _air_on_trails(sit, other, mine, f"{name}'s air lies on your")
    return said


def _in_line(sit: Sit, seat: StandSit, at, to, apart_yd: float, who: str, name: str) -> list[str]:
    """A seat near the bearing of the other's shot, out to the distance it may carry."""
    if apart_yd > IN_LINE_TO_YD or apart_yd == 0:
        return []
    toward = float(bearing_deg(at, to))
    hit = [
        sit.scene.ground.name_of(trail)
        for trail, shot in shots_deg(sit.scene, seat.stand, seat.range_yd)
        if abs(float(signed_difference_deg(shot, toward))) <= IN_LINE_DEG
    ]
    target = name if who == "your" else "you"
    return [
        f"In line: {who} shot to {trail} points at {target}, {apart_yd:.0f} yd off."
        for trail in hit
    ]


def _air_on_trails(sit: Sit, from_: StandSit, to: StandSit, head: str) -> list[str]:
    """The air of one hunter on the trails that the other watches, where it is wrong."""
    ends = sit.ends_at(from_.seated_s)
    zones = sit.scene.before_shot(to.stand, to.range_yd, ends)
    air = from_.hours.air
    if not zones or not len(air.row):
        return []
    at = sit.scene.stands_m[sit.scene.index(from_.stand)]
    strengths = zone_strengths(
        receptors(at, joined(list(zones.values()))),
        air_to_deg=air.air_to_deg[:, None],
        half_width_deg=air.half_width_deg[:, None],
        stability=air.stability[:, None],
        carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],
        sigma_rad=air.sigma_rad[:, None],
        height_m=air.height_m,
    )
    like = equivalent_distance_m(np.nan_to_num(strengths.max(axis=(0, 1)))) / M_PER_YD
    limit = sit.scene.ground.air.wrong_within_yd
    return [
        f"{head} trail {sit.scene.ground.name_of(trail)}, like {like_text(float(yd))}."
        for trail, yd in zip(zones, like, strict=True)
        if yd < limit
    ]
