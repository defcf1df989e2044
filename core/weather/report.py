"""The hourly table as plain data and as lines."""

import datetime
import math

from core.units import MPS_PER_MPH
from core.weather.hours import STATE_WORDS, Hours


def _known(value: float, digits: int) -> float | None:
    return None if math.isnan(value) else round(float(value), digits)


def hours_report(hours: Hours) -> dict:
    """The table for `wind --json`. Args: the table. Unknown is null."""
    return {
        "format": hours.format,
        "zone": hours.zone,
        "kind": hours.kind,
        "source": hours.source,
        "notes": list(hours.notes),
        "hours": [
            {
                "start": datetime.datetime.fromtimestamp(int(s), tz=datetime.UTC).isoformat(),
                "state": STATE_WORDS[int(hours.state[i])],
                "wind_from_deg": _known(hours.wind_from_deg[i], 1),
                "half_width_deg": _known(hours.half_width_deg[i], 2),
                "wind_speed_mps": _known(hours.speed_mps[i], 3),
                "gust_mps": _known(hours.gust_mps[i], 3),
                "cloud_frac": _known(hours.cloud_frac[i], 3),
                "temperature_c": _known(hours.temperature_c[i], 2),
            }
            for i, s in enumerate(hours.start_s)
        ],
    }


def hours_lines(hours: Hours) -> list[str]:
    """The table for people. Args: the table."""
    head = [f"{hours.source or hours.format}: {len(hours)} hours", *hours.notes]
    for i, s in enumerate(hours.start_s):
        at = datetime.datetime.fromtimestamp(int(s), tz=datetime.UTC)
        state = STATE_WORDS[int(hours.state[i])]
        speed, wind = hours.speed_mps[i], hours.wind_from_deg[i]
        said = "" if math.isnan(speed) else f" {speed / MPS_PER_MPH:.0f} mph"
        said += "" if math.isnan(wind) else f" from {wind:.0f}°"
        head.append(f"{at:%Y-%m-%d %H:%M} UTC {state}{said}")
    return head
