"""The usual cautions, and what the weather of a sit adds to them. Shown, never ranked."""

import numpy as np

from core.answer.one_sit import StandSit
from core.judge.stand_rows import land_at
from core.say.hunters.orange import orange_text
from core.sit.prepare import Sit
from core.units import MPS_PER_MPH
from core.weather.hours import Hours

HIGH_FT = 16.0
THUNDER_FROM = 0.15  # chance from which it is said; common practice, no source
HEAVY_RAIN_MM = 7.6  # in an hour; a weather service's "heavy rain", 0.30 in; from memory

ALWAYS = (
    "Full-body harness, tied in from the ground up and down again; a strap to relieve your legs.",
    "Three points of contact. Haul the weapon up unloaded, with nothing nocked.",
    "Look over straps, steps and the tree before you climb.",
    "Be sure of the target and of what is beyond it, from above too.",
    "On the walk in the dark show a light, there and back.",
    "Children never sit or walk alone.",
    "Somebody knows where you sit, when you are back, and what to do if you are not.",
    "No warning here is not clearance: this page never says that a shot is safe or that "
    "nobody is there.",
    "Local rules and licensed practice come first.",
)


def cautions(sit: Sit, seat: StandSit) -> list[str]:
    """What to say with every answer, the particular first.

    Args: the sit; the stand in it.
    """
    lines = weather_cautions(window_weather(sit), sit.weather.kind)
    stand = seat.stand
    if stand.height_ft > HIGH_FT:
        lines.append(
            f"This seat is {stand.height_ft:.0f} ft up: official advice is to stay at "
            f"{HIGH_FT:.0f} ft and under."
        )
    if orange := orange_text(sit):
        lines.append(orange)
    if stand.seat in ("box", "ground-blind"):
        lines.append("No fuel heater in a closed blind.")
    by = {w.way.lane.by for w in (seat.way_in, seat.way_out) if w is not None}
    if "boat" in by:
        lines.append("By boat: life jacket on; cold water kills fast.")
    lines += [*_of_the_land(sit, seat), *_of_the_hunter(sit, seat)]
    return [*lines, ALWAYS[0], haul_line(weapon_words(sit)), *ALWAYS[2:]]


def _of_the_land(sit: Sit, seat: StandSit) -> list[str]:
    """That wind may part from a gentler fall where trees stand on it; heights know no trees."""
    own_land, air = land_at(sit.scene, seat.stand), seat.hours.air
    if own_land is None or seat.stand.cover != "timber":
        return []
    from core.land.lee import WOODS_DEG  # what only heights need is loaded here

    speed = sit.rows.speed_mps[air.row]
    where = air.wind_from_deg, air.half_width_deg, air.stability, speed
    if not (own_land.in_lee(*where, WOODS_DEG) & ~own_land.in_lee(*where)).any():
        return []
    return [
        f"The ground upwind falls {WOODS_DEG:.0f} degrees or more: in woods the wind may roll back "
        "here. Watch it with a puff."
    ]


def _of_the_hunter(sit: Sit, seat: StandSit) -> list[str]:
    """What a beginner, and one who climbs no higher, is told."""
    hunter = sit.hunter
    lines: list[str] = []
    if hunter is None:
        return lines
    if hunter.beginner:
        lines.append(f"{hunter.name} is a beginner: a grown hunter sits or waits within call.")
    if hunter.climbs_ft is not None and seat.stand.height_ft > hunter.climbs_ft:
        lines.append(
            f"{hunter.name} climbs to {hunter.climbs_ft:.0f} ft; this seat is "
            f"{seat.stand.height_ft:.0f} ft up."
        )
    return lines


def weapon_words(sit: Sit) -> str:
    """What is hunted with in a sit, by its season; empty outside every one. Args: the sit."""
    return sit.clock.season.weapon if sit.clock.season else ""


def haul_line(weapon: str) -> str:
    """How the weapon goes up to the seat. Args: its name, by the owner's own word.

    Source: common practice of hunter education, no source.
    """
    low, climb = weapon.casefold(), "Three points of contact."
    if "cross" in low:
        return f"{climb} Haul the crossbow up uncocked, with no bolt on it."
    if "muzzle" in low:
        return f"{climb} Haul the muzzleloader up unprimed, its muzzle down."
    if any(word in low for word in ("gun", "rifle")):
        return f"{climb} Haul the gun up unloaded, its action open, never pointing at you."
    return ALWAYS[1]


def window_weather(sit: Sit) -> Hours:
    """The weather of the sit's own hours. Args: the sit."""
    return sit.rows.weather.take(np.arange(len(sit.rows.start_s))[sit.window])


def warnings(sit: Sit, seat: StandSit) -> list[str]:
    """What the weather of a sit threatens, for the head of its answer.

    Args: the sit; the stand in it. Missing: what the source does not tell is not here.
    """
    weather, limit = window_weather(sit), seat.stand.max_gust_mph
    strongest = np.nan_to_num(weather.gust_mps).max(initial=0.0) / MPS_PER_MPH
    over = limit is not None and strongest > limit
    gusts = (
        [f"Gusts to {strongest:.0f} mph: over this seat's limit of {limit:.0f}."] if over else []
    )
    return gusts + weather_warnings(weather)


def weather_warnings(weather: Hours) -> list[str]:
    """Thunder, heavy rain and ice, as far as the source tells. Args: the hours."""
    lines = []
    if (np.nan_to_num(weather.thunder_frac) >= THUNDER_FROM).any():
        lines.append("Thunder may come in this sit: get down before it does.")
    if (np.nan_to_num(weather.rain_mm) >= HEAVY_RAIN_MM).any():
        lines.append("Heavy rain in this sit: it washes a trail away, worst near dark.")
    if (np.nan_to_num(weather.temperature_c, nan=9.0) <= 0.0).any():
        lines.append("Freezing: ice on steps and platform.")
    return lines


def weather_cautions(weather: Hours, kind: str) -> list[str]:
    """Fog, and what the source does not tell.

    Args: the hours; the kind of their source.
    Missing: a forecast without thunder or gusts is said to lack them, never to be fair.
    """
    if kind == "typed" or not len(weather):
        return ["Thunder, gusts, rain and fog: not known here; look at the sky yourself."]
    lines = []
    if np.isnan(weather.thunder_frac).all():
        lines.append("Thunder: not in this forecast.")
    if np.isnan(weather.gust_mps).all():
        lines.append("Gusts: not in this forecast.")
    if (np.nan_to_num(weather.fog) > 0).any():
        lines.append("Fog: see the whole of the target, and beyond it.")
    return lines
