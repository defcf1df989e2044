"""How somebody who has never seen the place finds the tree, and gets out again."""

import itertools
import math
from collections.abc import Sequence

import numpy as np
import shapely

from core.angles import point_name
from core.answer.landmarks import landmarks
from core.answer.one_sit import StandSit
from core.answer.other_winds import FirstChoice
from core.ground.plan import bearing_deg
from core.say.headline import truck_name
from core.say.words import VERDICTS_SAID, at_time
from core.sit.prepare import Sit
from core.units import M_PER_YD

SEATS_SAID = {
    "hang-on": "hang-on stand",
    "ladder": "ladder stand",
    "climber": "climber",
    "saddle": "saddle",
    "tripod": "tripod",
    "box": "box blind",
    "ground-blind": "ground blind",
}
COVERS_SAID = {"open": "in the open", "edge": "at an edge", "timber": "in timber"}
LEG_OFF_M = 20.0  # a leg may stray this far from the drawn line
ROUND_TO_YD = 10


def walk_legs(path_m) -> list[tuple[str, int]]:
    """A walk as a few straight legs. Args: its points [m], shape (point, 2).

    Returns: point of the compass and length in tens of yards, in the order walked.
    """
    path_m = np.asarray(path_m, float)
    if len(path_m) < 2:
        return []
    corners = np.asarray(shapely.LineString(path_m).simplify(LEG_OFF_M).coords)
    legs: list[tuple[str, int]] = []
    for a, b in itertools.pairwise(corners):
        point = point_name(float(bearing_deg(a, b)))
        yards = math.dist(a, b) / M_PER_YD
        legs.append((point, max(ROUND_TO_YD, round(yards / ROUND_TO_YD) * ROUND_TO_YD)))
    return legs


def finding_lines(sit: Sit, seat: StandSit) -> list[str]:
    """What a guest needs to find a stand: the seat, the walk, the place on a map.

    Args: the sit; the stand in it.
    Missing: without a way in, the seat and its place; without a way out, none is told.
    """
    stand = seat.stand
    up = f", {stand.height_ft:.0f} ft up" if stand.height_ft > 0 else ""
    lon, lat = stand.at
    lines = [
        f"{stand.name}: {SEATS_SAID[stand.seat]}{up}, {COVERS_SAID[stand.cover]}.",
        f"Latitude {lat:.5f}, longitude {lon:.5f}.",
    ]
    if seat.way_in is not None:
        legs = walk_legs(seat.way_in.way.path_m)
        told = ", then ".join(f"{point} {yards} yd" for point, yards in legs)
        lane = seat.way_in.way.lane
        foot = f" Underfoot: {lane.footing}." if lane.footing else ""
        east, north = seat.way_in.way.path_m[0]
        truck_lon, truck_lat = sit.scene.plane.to_lonlat(east, north)
        start = f"{truck_name(sit, seat)} ({float(truck_lat):.5f}, {float(truck_lon):.5f})"
        lines.insert(1, f"From {start} by {lane.name or lane.id}: {told}.{foot}")
    lines += [f"The owner notes: {stand.notes}"] if stand.notes else []
    return lines + [line for line in [out_line(sit, seat)] if line]


def out_line(sit: Sit, seat: StandSit) -> str:
    """How long to stay, and the way out; empty without a way out or without hours.

    Args: the sit; the stand in it.
    """
    end_s = sit.clock.end_s if seat.leave_by_s is None else seat.leave_by_s
    if seat.way_out is None or end_s is None:
        return ""
    way, at = seat.way_out.way, at_time(sit, end_s)
    minutes = f"{way.minutes} minute{'' if way.minutes == 1 else 's'}"
    air = VERDICTS_SAID[int(seat.way_out.verdict[0])]
    return f"Stay until {at}. Way out: {way.lane.name or way.lane.id}, {minutes}, {air}."


def puff_text(
    sit: Sit, seat: StandSit, rows: Sequence[tuple[str, FirstChoice, FirstChoice]]
) -> str:
    """What a puff of powder at the truck says: towards which place it drifts, and the stand then.

    Args: the sit; the stand whose way in begins at the truck; the first choice in each of
    eight winds, as `other_winds` gives them.
    Missing: empty without a way in, or where no named place is seen from there.
    """
    if seat.way_in is None:
        return ""
    seen = landmarks(sit.scene, seat.way_in.way.path_m[0])
    if not seen:
        return ""
    told: dict[str, list[str]] = {}
    for one in seen:
        _, light, steady = rows[one.wind]
        told.setdefault(_choice_text(light, steady), []).append(one.name)
    ways = "; ".join(f"towards {' or '.join(names)}: {stand}" for stand, names in told.items())
    return (
        f"At {truck_name(sit, seat)} a puff drifts {ways}; it hangs: {_choice_text(*rows[-1][1:])}."
    )


def _choice_text(light: FirstChoice, steady: FirstChoice) -> str:
    first, second = (c.stand or "stay out" for c in (light, steady))
    return first if first == second else f"{first}, in a steady wind {second}"
