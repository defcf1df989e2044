"""When to go in, in words: hours, the wind in them, what the air reaches, what ends them."""

import datetime
import math
from zoneinfo import ZoneInfo

import numpy as np

from core.angles import mean_direction_deg, point_name
from core.chores.going import Visit
from core.chores.spraying import SprayWindow
from core.chores.visit import AIR, BETTER, DARK, END, UNSURE, WALK_IN, WALK_OUT, Window
from core.ground.layout import Property
from core.say.cautions import weather_cautions
from core.say.words import VERDICTS_SAID, clock_text, in_a_row, like_text
from core.sit.verdicts import CLEAN
from core.sit.ways import MOST_SHOWN_YD
from core.units import MPS_PER_MPH
from core.weather.hours import Hours

NOT_JUDGED = "Noise and boots are not judged: only where your air goes."
NONE_FOUND = "No daylight hours of this forecast keep your air off held beds and plots there."
JUST_OFF_ONLY = "Not clear of them: your air reaches a held bed or plot, though thinly"
ON_THE_WAY = {
    WALK_IN: "your air on the way in",
    WALK_OUT: "your air on the way out",
}
RAIN_CHANCE = 0.5  # from which rain is said to be likely; common practice, no source


def window_title(window: Window | SprayWindow, ground: Property) -> str:
    """When it is, as Tue 10 Nov, 8:00 am to 4:00 pm. Args: the window; the ground."""
    first = datetime.datetime.fromtimestamp(window.start_s, ZoneInfo(ground.timezone))
    said = f"{first:%a} {first.day} {first:%b}, {clock_text(window.start_s, ground.timezone)}"
    return f"{said} to {clock_text(window.end_s, ground.timezone)}"


def window_reasons(window: Window, visit: Visit, weather: Hours) -> list[str]:
    """Why then, the air first. Args: the window; the visit; the forecast."""
    ground, hours = visit.scene.ground, weather.take(np.array(window.rows))
    said = [_air_said(window, ground), _not_held_said(window, ground), _wind_said(hours)]
    if visit.way is None:
        said.append("No way in is drawn: the walk is not judged.")
    else:
        said.append(f"By {ground.name_of(visit.way.lane.id)}, {visit.way.minutes} min each way.")
    said.append(_end_said(window, ground))
    rain = _rain_said(hours)
    return [line for line in [*said, rain, *weather_cautions(hours, weather.kind)] if line]


def _air_said(window: Window, ground: Property) -> str:
    word = VERDICTS_SAID[window.verdict].capitalize()
    if not window.place or window.like_yd > MOST_SHOWN_YD:
        return f"{word}: your air reaches no held bed or plot."
    near = f"{ground.name_of(window.place)}, like {like_text(window.like_yd)}"
    air = ON_THE_WAY.get(window.by, "your air")
    if window.verdict == CLEAN:
        return f"{word}: of held places {air} comes nearest to {near}."
    return f"{word}: {air} reaches {near}."


def _not_held_said(window: Window, ground: Property) -> str:
    """What lies in the air and does not count, as nothing is there then."""
    names = [ground.name_of(id_) for id_ in window.not_held if id_ != window.place]
    if not names:
        return ""
    lies = "lies in it but is" if len(names) == 1 else "lie in it but are"
    return f"{in_a_row(names)} {lies} not held then."


def _wind_said(hours: Hours) -> str:
    low, high = (f(hours.speed_mps) / MPS_PER_MPH for f in (np.nanmin, np.nanmax))
    spread = f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
    mean = mean_direction_deg(hours.wind_from_deg)
    point = "" if math.isnan(mean) else f"{point_name(mean)} "
    return f"Wind {point}{spread} mph."


def _end_said(window: Window, ground: Property) -> str:
    where = ground.name_of(window.ended_place) if window.ended_place else "a place"
    return {
        AIR: f"Later your air reaches {where}.",
        WALK_IN: f"Later your air on the way in reaches {where}.",
        WALK_OUT: f"Later your air on the way out reaches {where}.",
        UNSURE: "Later the air is too light or too unsteady to call.",
        DARK: "It ends with the light.",
        BETTER: "Later your air is clear of it.",
        END: "It ends with the forecast.",
    }[window.ended_by]


def _rain_said(hours: Hours) -> str:
    if np.isnan(hours.rain_mm).all() and np.isnan(hours.rain_chance_frac).all():
        return "Rain: not in this forecast."
    wet = (np.nan_to_num(hours.rain_mm) > 0) | (
        np.nan_to_num(hours.rain_chance_frac) >= RAIN_CHANCE
    )
    return "Rain is likely: the time for work that is heard." if wet.any() else ""


def clear_of_held(found: list[Window]) -> tuple[list[Window], list[Window]]:
    """Windows in which no air lies on a held place, and those that are just-off. Args: all."""
    clear = [w for w in found if w.verdict == CLEAN]
    return clear, [w for w in found if w.verdict != CLEAN]


def visit_lines(visit: Visit, weather: Hours, found: list[Window]) -> list[str]:
    """The windows as lines, the best first. Args: the visit; the forecast; the windows."""
    clear, others = (
        [
            f"{window_title(w, visit.scene.ground)}. {' '.join(window_reasons(w, visit, weather))}"
            for w in some
        ]
        for some in clear_of_held(found)
    )
    less = [f"{JUST_OFF_ONLY}:", *others] if others else []
    return [*(clear or [NONE_FOUND]), *less, NOT_JUDGED]


def visit_report(visit: Visit, weather: Hours, found: list[Window]) -> dict:
    """The windows as plain data. Args: as `visit_lines`."""
    zone = ZoneInfo(visit.scene.ground.timezone)

    def plain(window: Window) -> dict:
        start, end = (
            datetime.datetime.fromtimestamp(time_s, zone).isoformat()
            for time_s in (window.start_s, window.end_s)
        )
        return {
            "start": start,
            "end": end,
            "verdict": VERDICTS_SAID[window.verdict],
            "reasons": window_reasons(window, visit, weather),
        }

    clear, others = clear_of_held(found)
    return {
        "place": visit.name,
        "way_in": visit.way.lane.id if visit.way else None,
        "windows": [plain(w) for w in clear],
        "just_off": [plain(w) for w in others],
        "note": NOT_JUDGED,
    }
