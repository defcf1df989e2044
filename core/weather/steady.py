"""How steady the wind's direction is through a sit."""

import math

import numpy as np

from core.angles import components_mps, point_name, separation_deg, wind_from_components
from core.weather.hours import DIRECTED, MISSING, Hours

# how far the winds of a sit may lie from their mean, half-widths aside; common
# practice, no source: one point of sixteen is steady, a quarter turn is all round
STEADY_DEG, SHIFTING_DEG = 22.5, 67.5


def steadiness(hours: Hours) -> dict[str, float | str | int | None]:
    """How steady the direction is through the rows of a sit.

    Args: the rows of the sit, as `Hours.at_rows` gives them.
    Returns: `word`, one of steady, shifting, all round, unknown; `share`, 0 to 1, the
    length of the mean of the directions as unit vectors, where an hour that is calm or
    variable counts as none; `swing_deg`, the greatest distance of an hour from the mean
    direction; `mean_from_deg`; `directed`, `hours` and `missing`, numbers of hours.
    Missing: missing hours are left out and counted; with no directed hour, or with a
    third of the hours missing, the word is unknown and the numbers None.
    Source: [epa2000] unit-vector mean.
    """
    known = hours.state != MISSING
    directed = hours.state == DIRECTED
    counts = {"directed": int(directed.sum()), "hours": len(hours), "missing": int((~known).sum())}
    blank: dict[str, float | str | int | None] = {
        "word": "unknown",
        "share": None,
        "swing_deg": None,
        "mean_from_deg": None,
    }
    if not directed.any() or counts["missing"] * 3 >= counts["hours"]:
        return blank | counts
    wind = hours.wind_from_deg[directed]
    east, north = components_mps(np.ones(len(wind)), wind)
    mean = float(wind_from_components(east.sum(), north.sum()))
    share = math.hypot(float(east.sum()), float(north.sum())) / int(known.sum())
    if share < 1e-9:
        return blank | counts | {"word": "all round", "share": 0.0}
    swing = float(np.max(separation_deg(wind, mean)))
    return counts | {
        "word": _word(swing, counts["directed"] / int(known.sum())),
        "share": round(share, 3),
        "swing_deg": round(swing, 1),
        "mean_from_deg": round(mean, 1),
    }


def _word(swing_deg: float, directed_share: float) -> str:
    """Half of the hours without a direction is no steady wind, however the rest lie."""
    if swing_deg > SHIFTING_DEG or directed_share <= 0.5:
        return "all round"
    return "steady" if swing_deg <= STEADY_DEG and directed_share >= 0.9 else "shifting"


def steady_words(hours: Hours) -> str:
    """The same in a short sentence for a screen. Args: the rows of the sit."""
    told = steadiness(hours)
    if told["word"] == "unknown":
        return "Too few hours tell a direction."
    still = int(told["hours"]) - int(told["missing"]) - int(told["directed"])  # type: ignore[arg-type]
    tail = f" {still} of {told['hours']} hours have none." if still else ""
    if told["mean_from_deg"] is None:
        return f"The wind goes all round.{tail}"
    point = point_name(float(told["mean_from_deg"]))
    return {
        "steady": f"Steady from {point}: within {told['swing_deg']:.0f}°.{tail}",
        "shifting": f"Shifting about {point}: up to {told['swing_deg']:.0f}° off.{tail}",
        "all round": f"No steady wind: up to {told['swing_deg']:.0f}° off {point}.{tail}",
    }[str(told["word"])]
