"""The page that goes along in a pocket: one HTML file without script, one printed sheet."""

import dataclasses
import datetime
import math
import re
from collections.abc import Sequence
from zoneinfo import ZoneInfo

from core.errors import NoForecast
from core.say.words import clock_text, noted
from core.show.palette import DARK, PRINT
from core.show.take_along.day_sheet import DaySheet
from core.show.take_along.icon import icon_address
from core.show.template import filled
from core.sit.scene import Scene
from core.weather.age import known_until_s
from core.weather.hours import Hours

LARGEST_PT, SMALLEST_PT = 8.4, 4.5
SHEET_HOLDS = 232_000.0  # letters times points squared


def refuse_empty(sheets: Sequence[DaySheet]) -> None:
    """Raises: NoForecast where the weather reaches no sit of any sheet. Args: the sheets."""
    found = [answer for sheet in sheets for answer in sheet.answers]
    faults = [answer for answer in found if isinstance(answer, NoForecast)]
    if len(faults) == len(found):
        raise faults[0]


def document(
    scene: Scene,
    weather: Hours,
    now_s: float,
    sheets: Sequence[DaySheet],
    when: str,
    index: Sequence[dict] = (),
) -> str:
    """A whole HTML document of some sheets.

    Args: the scene; the weather; when it is made [epoch s]; the sheets; the date or dates
    for its title; the rows of an index, none without one.
    """
    return filled(
        "pocket.html",
        name=scene.ground.name,
        date=when,
        made=made_line(scene, weather, now_s),
        noted=noted(weather.notes),
        type_pt=f"{min(print_pt(''.join([*s.sits, s.below])) for s in sheets):.1f}",
        sheets=sheets,
        index=index,
        icon=icon_address(),
        colours={"screen": dataclasses.asdict(DARK), "print": dataclasses.asdict(PRINT)},
    )


def print_pt(page: str) -> float:
    """The size of type with which a page's words fill one printed sheet. [pt]

    Args: HTML. Source: our own trials on letter paper, with a twentieth to spare; words take
    room by the square of their size.
    """
    shown = re.sub(r"<svg.*?</svg>|<[^>]*>", " ", page, flags=re.DOTALL)
    letters = len(re.sub(r"\s+", " ", shown))
    return min(LARGEST_PT, max(SMALLEST_PT, math.sqrt(SHEET_HOLDS / max(letters, 1))))


def made_line(scene: Scene, weather: Hours, now_s: float) -> str:
    """When the page was made, from which forecast, and its end. Args: as `document`."""
    timezone = scene.ground.timezone
    made_at = f"Made {_when(now_s, timezone)}"
    if weather.kind == "typical":
        return f"{made_at} from a typical day, not a forecast."
    if weather.kind == "typed":
        return f"{made_at} for a wind that was {weather.source or 'typed'}."
    source, end_s = weather.source or weather.format, known_until_s(weather)
    until = f"Its wind holds until {_when(end_s, timezone)}, and no longer." if end_s else ""
    if weather.updated_s is None:
        return f"{made_at} from {source}; when that was updated is not known. {until}"
    return f"{made_at} from {source}, updated {_when(weather.updated_s, timezone)}. {until}"


def _when(time_s: float, timezone: str) -> str:
    at = datetime.datetime.fromtimestamp(time_s, tz=ZoneInfo(timezone))
    return f"{at:%a} {at.day} {at:%b} {clock_text(time_s, timezone)}"
