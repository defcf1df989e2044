"""Forecasts that were fetched against the wind that came: how far they could be trusted.

Every fetched forecast is kept (`core.weather.services.kept`, with the rule for dropping them).
The wind that came is a history file of a station nearby, or the station reports that
came with the forecasts.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from core.angles import separation_deg
from core.units import MPS_PER_MPH
from core.weather.hours import DIRECTED, MISSING, ROW_S, Hours, make_hours
from core.weather.services.kept import Kept, kept_files, read_kept
from core.weather.services.sources import NAMES, Place
from core.weather.services.station import Station

LEADS_H = ((0, 24), (24, 48), (48, 96), (96, 168))  # hours from the fetch to the wind
LEAD_WORDS = ("The same day", "A day ahead", "Two to four days ahead", "Four to seven days ahead")
CLOSE_DEG = 45.0
FEWEST = 20  # common practice, no source: of fewer hours nothing is said


@dataclass(frozen=True, slots=True)
class Honesty:
    """How one source's forecasts did at one lead, `lead` being a row of LEADS_H.

    `hours` had a direction in both; `unsteady` had one in the forecast only, because
    it was calm or variable. `close_frac` came from within 45 deg of the forecast, half
    of them within `median_deg`; `speed_over_mps` is how much more the forecast said.
    """

    source: str
    lead: int
    hours: int
    unsteady: int
    close_frac: float
    median_deg: float
    speed_over_mps: float


def all_kept(folder: Path, place: Place) -> list[Kept]:
    """Every forecast kept for a place that can be read, the oldest first.

    Args: the user's folder; (lon, lat), rounded. [deg]
    """
    found = (read_kept(path) for path in reversed(kept_files(folder, place)))
    return sorted((kept for kept in found if kept), key=lambda kept: kept.fetched_s)


def reported(kept: Sequence[Kept]) -> Hours:
    """The station reports that came with forecasts, one an hour. Args: forecasts.

    A report belongs to the nearest whole hour, as in history files.
    """
    by_hour: dict[int, Station] = {}
    for one in kept:
        if one.station is not None:
            by_hour.setdefault(round(one.station.at_s / ROW_S) * ROW_S, one.station)
    stations = list(by_hour.values())
    return make_hours(
        start_s=list(by_hour),
        state=[station.state for station in stations],
        wind_from_deg=[station.wind_from_deg for station in stations],
        half_width_deg=[station.half_width_deg for station in stations],
        speed_mps=[station.speed_mps for station in stations],
        kind="measured",
        format="station-reports",
        source="station reports that came with the forecasts",
    )


def honesty(kept: Sequence[Kept], measured: Hours) -> tuple[Honesty, ...]:
    """How forecasts did against the wind that came, by source and lead.

    Args: forecasts; hours of measured wind. An hour counts once at each lead, by the
    newest forecast of that lead. Hours that either lacks are left aside; hours whose
    forecast gives no direction too.
    """
    met: dict[tuple[str, int], dict[int, tuple[float, ...]]] = {}
    for one in sorted(kept, key=lambda each: each.fetched_s):
        _, rows, theirs = np.intersect1d(
            one.hours.start_s, measured.start_s, assume_unique=True, return_indices=True
        )
        for row, other in zip(rows, theirs, strict=True):
            lead = _lead((float(one.hours.start_s[row]) - one.fetched_s) / ROW_S)
            known = measured.state[other] != MISSING and one.hours.state[row] == DIRECTED
            if lead is not None and known:
                pairs = met.setdefault((one.source, lead), {})
                pairs[int(measured.start_s[other])] = _pair(one.hours, int(row), measured, other)
    return tuple(_summed(*key, np.array(list(met[key].values()))) for key in sorted(met))


def _lead(hours_ahead: float) -> int | None:
    # the hour that was under way at the fetch counts as the same day
    return next((i for i, (a, b) in enumerate(LEADS_H) if a - 1 < hours_ahead <= b - 1), None)


def _pair(forecast: Hours, row: int, measured: Hours, other: int) -> tuple[float, float]:
    """Degrees apart (NaN where the wind had no direction), and speed told less came."""
    apart = separation_deg(forecast.wind_from_deg[row], measured.wind_from_deg[other])
    return float(apart), float(forecast.speed_mps[row] - measured.speed_mps[other])


def _summed(source: str, lead: int, pairs) -> Honesty:
    apart = pairs[:, 0][~np.isnan(pairs[:, 0])]
    return Honesty(
        source=source,
        lead=lead,
        hours=len(apart),
        unsteady=len(pairs) - len(apart),
        close_frac=float(np.mean(apart <= CLOSE_DEG)) if len(apart) else math.nan,
        median_deg=float(np.median(apart)) if len(apart) else math.nan,
        speed_over_mps=float(np.mean(pairs[:, 1])),
    )


def honesty_words(found: Honesty) -> str:
    """One lead in a sentence or two. Args: how the forecasts did."""
    head = f"{LEAD_WORDS[found.lead]}, {NAMES[found.source]}"
    if found.hours < FEWEST:
        said = "1 hour" if found.hours == 1 else f"{found.hours} hours"
        return f"{head}: {said} to compare so far, too few to say."
    close = round(found.close_frac * found.hours)
    over = found.speed_over_mps / MPS_PER_MPH
    speed = (
        "as strong as told"
        if abs(over) < 0.5
        else (f"{abs(over):.0f} mph {'less' if over > 0 else 'more'} than told")
    )
    still = f" {found.unsteady} more hours had no one wind." if found.unsteady else ""
    return (
        f"{head}: in {close} of {found.hours} hours the wind came from within 45° of the "
        f"forecast, in half of them within {found.median_deg:.0f}°.{still} On the whole it "
        f"blew {speed}."
    )


def honesty_dict(found: Sequence[Honesty], measured: Hours) -> dict:
    """The comparison as plain values. Args: how the forecasts did; the wind that came."""
    return {
        "measured": measured.source,
        "leads": [
            {
                "source": one.source,
                "lead_h": list(LEADS_H[one.lead]),
                "hours": one.hours,
                "unsteady_hours": one.unsteady,
                "within_45_deg": _known(one.close_frac),
                "median_deg": _known(one.median_deg),
                "forecast_over_mps": _known(one.speed_over_mps),
                "words": honesty_words(one),
            }
            for one in found
        ],
    }


def _known(value: float) -> float | None:
    return None if math.isnan(value) else round(value, 3)
