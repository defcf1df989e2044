"""Directions and speeds of a table in the units and words that people write."""

import numpy as np
from truth_draft import UNITS_MPS, Draft

POINTS = (
    "N",
    "NNE",
    "NE",
    "ENE",
    "E",
    "ESE",
    "SE",
    "SSE",
    "S",
    "SSW",
    "SW",
    "WSW",
    "W",
    "WNW",
    "NW",
    "NNW",
)

FROM_HEADERS = (
    "wind direction",
    "wind dir",
    "wdir",
    "Wind Direction",
    "WD",
    "wind from",
    "winddirection",
    "wind direction from",
    "direction wind comes from",
)
FROM_TAILS = (
    "",
    "",
    "",
    " (0 to 360)",
    " 0-360",
    " relative to true north",
    " to the nearest 10 degrees",
    " (clockwise from true north)",
    ", referred to true north",
    " (0 = calm, 1 to 360)",
    " true",
    " (10 min mean)",
    " rounded to tens",
    " smoothed",
    " site 7",
)
TO_HEADERS = (
    "wind direction toward",
    "blowing to",
    "wind blowing to",
    "direction to which the wind blows",
    "wind direction (toward)",
    "wind towards",
    "wind_to",
    "wind dir (blowing to)",
    "air to",
    "direction the wind is going to",
    "wind heading toward",
)
ODD_TAILS = (" into", " (to)", " to from", " to or from")
DEG_TAILS = ("", "", " (deg)", "_deg", " [degrees]", " (°)", " (degT)", " (° true)")


def write_direction(d: Draft) -> None:
    rng = d.rng
    toward = rng.random() < 0.25
    unit = rng.choice(("deg",) * 8 + ("labels", "labels", "tens", "tens", "rad", "turns", "points"))
    shown = (d.wind_from_deg + 180) % 360 if toward else d.wind_from_deg
    cells, shown = DIRECTION_CELLS[unit](d, shown)
    d.wind_from_deg = (shown + 180) % 360 if toward else shown
    header = rng.choice(TO_HEADERS if toward else FROM_HEADERS)
    if not toward and unit in ("deg", "labels"):
        header += rng.choice(FROM_TAILS)
    if rng.random() < 0.06:
        header = rng.choice(("wind direction", "wind dir")) + rng.choice(ODD_TAILS)
        d.said["doubtful"] = header
    header += _direction_unit(d, unit)
    if rng.random() < 0.4:
        header = header.replace(" ", "_") if "(" not in header and "," not in header else header
    d.answers["direction_sense"] = "toward" if toward else "from"
    d.said["direction"] = f"{unit} {'toward' if toward else 'from'}"
    d.add("from", header, cells)
    if rng.random() < 0.04:
        d.above.append(
            "Directions are those toward which the wind blows."
            if toward
            else "Directions are those from which the wind blows."
        )


def _direction_unit(d: Draft, unit: str) -> str:
    rng = d.rng
    told = {
        "tens": (" (tens of degrees)", " (10s of degrees)", " [tens of deg]", " (deg x 10)"),
        "rad": (" (rad)", " [radians]", "_rad"),
        "turns": (" (turns)", " (fraction of a turn)"),
        "points": (" (sector 0-15)", " sector", " (16 points)"),
        "labels": ("",),
    }
    if unit == "deg":
        if rng.random() < 0.07:
            d.hopeless = "from magnetic north"
            return rng.choice((" (°M)", " (deg mag)", " magnetic", "_mag", " (deg M)", " (°m)"))
        return rng.choice(DEG_TAILS)
    d.answers["direction_unit"] = {"points": "sixteenths"}.get(unit, unit)
    return rng.choice(told[unit]) if rng.random() < 0.4 else ""


def _deg_cells(d: Draft, deg):
    step = d.rng.choice((10, 10, 1, 5))
    shown = np.round(deg / step) * step % 360
    shown = np.where(shown == 0, 360, shown)
    form = d.rng.choice(("{:.0f}", "{:03.0f}", "{:.1f}"))
    return [form.format(x) for x in shown], shown


def _tens_cells(d: Draft, deg):
    tens = np.round(deg / 10)
    tens = np.where(tens == 0, 36, tens)
    form = d.rng.choice(("{:02.0f}", "{:.0f}"))
    return [form.format(x) for x in tens], tens * 10


def _rad_cells(_: Draft, deg):
    return [f"{x:.4f}" for x in np.radians(deg)], deg


def _turn_cells(_: Draft, deg):
    return [f"{x:.4f}" for x in deg / 360], deg


def _point_cells(_: Draft, deg):
    point = np.round(deg / 22.5) % 16
    return [f"{x:.0f}" for x in point], point * 22.5


def _label_cells(d: Draft, deg):
    point = np.round(deg / 22.5).astype(int) % 16
    d.near_deg = 0.1
    return [POINTS[p] for p in point], point * 22.5


DIRECTION_CELLS = {
    "deg": _deg_cells,
    "tens": _tens_cells,
    "rad": _rad_cells,
    "turns": _turn_cells,
    "points": _point_cells,
    "labels": _label_cells,
}


SPEED_HEADERS = ("wind speed", "wspd", "Wind Speed", "speed", "windspeed", "wind_speed", "ws")
SPELLED = {
    "mph": ("mph", "mi/h", "MPH"),
    "kt": ("kt", "knots", "kn", "kts"),
    "m/s": ("m/s", "mps", "m s-1"),
    "km/h": ("km/h", "kmh", "kph"),
}


def write_speed(d: Draft) -> None:
    """A column of speeds, and where its unit is told."""
    rng = d.rng
    unit = rng.choice(list(UNITS_MPS))
    kinds = ("header", "header", "header", "bracket", "bracket", "bracket", "above")
    kind = rng.choice((*kinds, "column", "cell", "below", "untold", "scaled", "conflict"))
    form = rng.choice(("{:.0f}", "{:.1f}"))
    cells = [form.format(x) for x in d.speed_mps]
    header, spelled = rng.choice(SPEED_HEADERS), rng.choice(SPELLED[unit])
    d.answers["speed_unit"] = unit
    d.said["speed"] = f"{kind} {unit}"
    if kind == "cell":
        cells = [f"{c} {spelled}" for c in cells]
    elif kind == "scaled":
        cells = [f"{x * 10:.0f}" for x in d.speed_mps]
        d.hopeless = d.hopeless or "scaled speeds"
    elif kind == "above":
        said = rng.choice(("Wind speed in {}", "Units: {}", "wind: {}", "Speeds are in {}"))
        d.above.append(said.format(spelled))
    elif kind == "below":
        d.below[header] = spelled
    header += _unit_tail(d, kind, unit, spelled)
    d.speed_mps = d.speed_mps * UNITS_MPS[unit]
    d.add("speed", header, cells)
    if kind in ("column", "conflict"):
        d.add("", rng.choice(("unit", "units", "wind units")), [spelled] * len(cells))


def _unit_tail(d: Draft, kind: str, unit: str, spelled: str) -> str:
    """What the header says of the unit; another than the rows say, in a conflict."""
    if kind == "header":
        return "_" + spelled.replace("/", "").replace(" ", "").replace("-", "").lower()
    if kind == "bracket":
        return d.rng.choice((f" ({spelled})", f" [{spelled}]"))
    if kind == "scaled":
        tails = (f"{unit}*10", f"{unit} x10", f"{unit}×10", f"0.1 {unit}", f"tenths of {spelled}")
        return "_" + d.rng.choice(tails)
    if kind == "conflict":
        others = [u for u in UNITS_MPS if u != unit]
        return f" ({d.rng.choice(SPELLED[d.rng.choice(others)])})"
    return ""
