"""What would change an answer, and how far it may be off: turns, spare degrees, doubt; and
the winds that a stand wants, while nobody has said one."""

import math
from collections.abc import Sequence

import numpy as np

from core.air.doubt import likely_factor
from core.angles import opposite_deg, point_name, signed_difference_deg
from core.answer.change import ranges_deg, spare_deg, works_by_degree
from core.answer.one_sit import StandSit
from core.answer.reached import reached_places, strongest_at, telling_case
from core.answer.without_wind import Wants
from core.judge.causes import SURE
from core.say.cautions import window_weather
from core.say.words import at_time, in_a_row, like_text, place_text, wind_words
from core.sit.prepare import Sit
from core.units import M_PER_YD
from core.weather.steady import steady_words

SLOPE_WINS_DEG = 60.0  # air that goes this far off the wind's way follows the slope
SHORT_RUN_DEG = 90  # winds that do not work, said instead of those that do
LONG_RUN_DEG = 180.0  # from here on two ends alone say too little
TURN_DEG = 22.5  # one point of sixteen

Run = tuple[float, float]  # clockwise from a direction to another [deg]


def spare_text(sit: Sit, works) -> str:
    """The winds that work, and how far this one may swing.

    Args: the sit; per whole degree whether the stand would be go. Shape (360,).
    Missing: empty where no hour has a direction, or closed hours leave none.
    """
    if math.isnan(sit.mean_wind_deg) or sit.clock.start_s is None:
        return ""
    works = np.asarray(works, bool)
    if works.all() or not works.any():
        return f"{'Any' if works.all() else 'No'} wind works at this speed."
    mean = sit.mean_wind_deg
    good = winds_text(works, mean)
    left, right = spare_deg(works, mean)
    if left is None or right is None:
        return f"Works with {good}."
    turns = [
        f"{value:.0f}° toward {point_name(mean + side * 45)}"
        for value, side in ((left, -1), (right, 1))
        if value < 180
    ]
    return f"Works with {good}. May swing {' or '.join(turns)}."


def winds_text(works, wind_from_deg: float = math.nan) -> str:
    """The winds that work: by what they leave out where that is shorter to say.

    Args: per whole degree whether the stand would be go. Shape (360,); the wind there is: one
    that does not work, and lies inside a point that is named, is told by its degrees.
    Returns: such as "wind from NW to N" or "any wind but SE"; "any wind", "no wind".
    """
    works = np.asarray(works, bool)
    if works.all() or not works.any():
        return "any wind" if works.all() else "no wind"
    if (~works).sum() <= SHORT_RUN_DEG:
        runs, _ = joined_runs(ranges_deg(~works))
        return f"any wind but {' or '.join(run_text(a, b) for a, b in runs)}"
    but = ""
    if not math.isnan(wind_from_deg) and not works[int(wind_from_deg + 0.5) % 360]:
        ends = {point_name(float(end)) for run in ranges_deg(works) for end in run}
        but = f", but not {wind_from_deg:.0f}°" if point_name(wind_from_deg) in ends else ""
    return f"wind from {runs_text(ranges_deg(works))}{but}"


def runs_text(runs: Sequence[Run]) -> str:
    """Runs of directions in words, each point named once. Args: clockwise, their ends [deg].

    Returns: such as "NW to N, E to SSE"; "E to SSE, but not all of SE", or "part of SE", where
    two runs part inside a point.
    """
    joined, parted = joined_runs(runs)
    names = [run_text(a, b) for a, b in joined]
    told = ", ".join(f"part of {name}" if name in parted else name for name in names)
    within = [point for point in parted if point not in names]
    return f"{told}, but not all of {in_a_row(within)}" if within else told


def joined_runs(runs: Sequence[Run]) -> tuple[list[Run], list[str]]:
    """Runs of directions, two that part inside one point of sixteen as one; those points.

    Args: clockwise, in order, their ends [deg].
    """
    joined: list[Run] = []
    parted: list[str] = []
    for run in runs:
        if joined and point_name(joined[-1][1]) == point_name(run[0]):
            parted.append(point_name(run[0]))
            joined[-1] = (joined[-1][0], run[1])
        else:
            joined.append(run)
    if len(joined) > 1 and point_name(joined[-1][1]) == point_name(joined[0][0]):
        parted.append(point_name(joined[0][0]))
        joined[0] = (joined.pop()[0], joined[0][1])
    return joined, parted


def run_text(from_deg: float, to_deg: float) -> str:
    """A run of directions in words, clockwise, a long one by its middle. Args: its ends [deg]."""
    a, b = point_name(from_deg), point_name(to_deg)
    span = (to_deg - from_deg) % 360
    if span >= LONG_RUN_DEG:
        return f"{a} round by {point_name(from_deg + span / 2)} to {b}"
    return a if a == b and span < 45 else f"{a} to {b}"


def what_would_change(sit: Sit, seat: StandSit) -> list[str]:
    """The winds that work, the degrees to spare, and turns that the forecast holds.

    Args: the sit; the stand in it.
    """
    lines = [spare_text(sit, works_by_degree(sit, seat)), turn_text(sit)]
    if not sit.weather.held:
        lines.append(steady_words(window_weather(sit)))
    return [text for text in lines if text]


def turn_text(sit: Sit) -> str:
    """To what the wind turns in the sit, and when; empty where it holds.

    Args: the sit.
    """
    weather, rows = sit.rows.weather, np.arange(len(sit.rows.start_s))[sit.window]
    rows = rows[sit.rows.directed[rows]]
    if not len(rows):
        return ""
    wind = weather.wind_from_deg[rows]
    off = np.abs(signed_difference_deg(wind, wind[0]))
    turned = np.flatnonzero(off >= TURN_DEG)
    if not len(turned):
        return ""
    at = at_time(sit, int(sit.rows.start_s[rows[turned[0]]]))
    return (
        f"The wind turns from {point_name(float(wind[0]))} to "
        f"{point_name(float(wind[turned[0]]))} at {at}."
    )


def slope_text(sit: Sit, seat: StandSit) -> str:
    """That the slope's own air beats the wind at a stand, and when; empty where it does not.

    Args: the sit; the stand in it.
    """
    air = seat.hours.air
    turned = np.abs(signed_difference_deg(air.air_to_deg, opposite_deg(air.wind_from_deg)))
    told = (np.nan_to_num(turned) >= SLOPE_WINS_DEG) & (seat.hours.cause == SURE)
    cases = np.flatnonzero(told)
    if seat.stand.downhill_deg is None or not len(cases):
        return ""
    first = int(cases[0])
    return (
        f"The slope's own air beats the wind ({wind_words(sit.rows.weather, int(air.row[first]))}) "
        f"at {at_time(sit, int(seat.rows.start_s[first]))}: your air goes "
        f"{point_name(float(air.air_to_deg[first]))}."
    )


def doubt_text(sit: Sit, seat: StandSit) -> str:
    """How far off "like N yards" is likely to be, for the place that is reached most.

    Args: the sit; the stand in it. Missing: empty where no place is reached.
    """
    case = telling_case(seat)
    reached = [] if case is None else reached_places(sit, seat, case)
    if case is None or not reached:
        return ""
    strongest = strongest_at(sit, seat, case, reached[0].id)
    like = reached[0].equivalent_yd
    head = f"{sit.scene.ground.name_of(reached[0].id)}, like {like_text(like)}:"
    if not strongest.in_the_middle:
        return (
            f"{head} how far off that is, nobody has tested: it lies to the side of your air. "
            "The field test there is was straight downwind."
        )
    air_class = int(seat.hours.air.stability[case])
    factors = likely_factor(strongest.distance_m / M_PER_YD, air_class)
    low, high = (like_text(like * factor) for factor in factors)
    return (
        f"{head} that may be {low} to {high}. So it was in 8 of 10 cases of a field test over "
        "open grass, straight downwind in a steady wind. Woods, slopes, gusts and deer were not "
        "tested."
    )


def wants_line(wants: Wants) -> str:
    """The winds that a stand wants. Args: what is known of it."""
    return winds_text(wants.works) + ("" if wants.works.any() else " of this strength")


def ways_line(sit: Sit, wants: Wants) -> str:
    """When to leave by which way. Args: the sit; what is known of the stand."""
    if not wants.ways:
        return "No way in drawn."
    told = (
        f"leave {at_time(sit, way.leave_s)} by {way.name} "
        f"({place_text(way.length_m)}, {way.minutes} min)"
        for way in wants.ways
    )
    line = "; ".join(told)
    return f"{line[0].upper()}{line[1:]}."
