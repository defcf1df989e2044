"""The hourly table as plain data and as lines."""

import datetime
import math

from core.units import MPS_PER_MPH
from core.weather.hours import ROW_S, STATE_WORDS, Hours


def _known(value: float, digits: int) -> float | None:
    return None if math.isnan(value) else round(float(value), digits)


def _iso(at_s: int) -> str:
    return datetime.datetime.fromtimestamp(int(at_s), tz=datetime.UTC).isoformat()


def hours_dict(hours: Hours) -> dict:
    """The table for `wind --json`. Args: the table. Unknown is null."""
    return {
        "format": hours.format,
        "zone": hours.zone,
        "kind": hours.kind,
        "source": hours.source,
        "place": None
        if hours.spot is None
        else {"latitude": hours.spot[1], "longitude": hours.spot[0]},
        "notes": list(hours.notes),
        "hours": [
            {
                "start": _iso(s),
                "state": STATE_WORDS[int(hours.state[i])],
                "wind_from_deg": _known(hours.wind_from_deg[i], 1),
                "half_width_deg": _known(hours.half_width_deg[i], 2),
                "wind_speed_mps": _known(hours.speed_mps[i], 3),
                "wind_speed_low_mps": _known(hours.speed_low_mps[i], 3),
                "wind_speed_high_mps": _known(hours.speed_high_mps[i], 3),
                "gust_mps": _known(hours.gust_mps[i], 3),
                "block_h": _known(hours.block_h[i], 1),
                "cloud_frac": _known(hours.cloud_frac[i], 3),
                "temperature_c": _known(hours.temperature_c[i], 2),
                "rain_mm": _known(hours.rain_mm[i], 2),
                "rain_chance_frac": _known(hours.rain_chance_frac[i], 3),
                "thunder_frac": _known(hours.thunder_frac[i], 3),
                "fog": _known(hours.fog[i], 1),
            }
            for i, s in enumerate(hours.start_s)
        ],
    }


def hours_lines(hours: Hours) -> list[str]:
    """The table for people. Args: the table."""
    count = f"{len(hours)} {'hour' if len(hours) == 1 else 'hours'}"
    head = [f"{hours.source or hours.format}: {count}", *hours.notes]
    for i, s in enumerate(hours.start_s):
        gap = 0 if i == 0 else (int(s) - int(hours.start_s[i - 1])) // ROW_S - 1
        if gap > 0:
            head.append(f"... {gap} {'hour' if gap == 1 else 'hours'}: no data")
        head.append(_line(hours, i))
    return head


def _line(hours: Hours, i: int) -> str:
    at = datetime.datetime.fromtimestamp(int(hours.start_s[i]), tz=datetime.UTC)
    state = STATE_WORDS[int(hours.state[i])]
    low, high = hours.speed_low_mps[i] / MPS_PER_MPH, hours.speed_high_mps[i] / MPS_PER_MPH
    wind, gust, block = hours.wind_from_deg[i], hours.gust_mps[i], hours.block_h[i]
    said = "" if math.isnan(low) else f" {low:.0f} mph"
    if said and f"{high:.0f}" != f"{low:.0f}":
        said = f" {low:.0f} to {high:.0f} mph"
    said += "" if math.isnan(wind) else f" from {wind:.0f}°"
    said += "" if math.isnan(gust) else f", gusts {gust / MPS_PER_MPH:.0f}"
    said += f" ({block:.0f} h block)" if block > 1 else ""
    return f"{at:%Y-%m-%d %H:%M} UTC {state}{said}"
