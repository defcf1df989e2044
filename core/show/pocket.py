"""The page that goes along in a pocket: one HTML file without script, one printed sheet."""

import dataclasses
import datetime
import math
import re
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.answer.other_winds import LIGHT, STEADY, Choice, other_winds
from core.errors import NoForecast
from core.say.cautions import cautions
from core.say.find_the_tree import finding_lines
from core.say.headline import head_of, reason_line, sit_line
from core.say.words import clock_text, noted
from core.show.card import air_html, head_html, hours_html
from core.show.map import sit_map
from core.show.palette import DARK, PRINT
from core.show.template import filled
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import Log, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.hours import Hours

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_OTHERS, MOST_NAMED = 10, 30
MOST_PLACES = 3
LARGEST_PT, SMALLEST_PT = 8.4, 4.5
SHEET_HOLDS = 300_000.0  # letters times points squared
MEANS = {
    CLEAN: "your air reaches no bed or food that counts",
    JUST_OFF: "it comes near one, or lies on a trail before the shot",
    CANT_CALL: "nobody can say where it goes",
    WRONG: "it reaches one",
}
CAPTIONS = (
    "morning: minutes before legal light to leave the truck",
    "evening: when to leave the truck",
)


def pocket_page(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    now_s: float,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    taken: dict[str, str] | None = None,
    log: Log | None = None,
) -> str:
    """The date's morning and evening on one page.

    Args: the scene; the weather; local date; when the page is made [epoch s]; hunter,
    weapon and log as in `prepare_sit`; who sits where.
    Returns: a whole HTML document; a sit that the weather does not reach is said to be
    missing. Raises: as `prepare_sit`; NoForecast where the weather reaches neither sit.
    """
    who: dict[str, Any] = {"hunter": hunter, "weapon": weapon, "log": log}
    answers = [_answer(scene, weather, date, sit, who, taken) for sit in (MORNING, EVENING)]
    faults = [found for found in answers if isinstance(found, NoForecast)]
    if len(faults) == len(answers):
        raise faults[0]
    whole = [found for found in answers if isinstance(found, SitAnswer)]
    winds = [other_winds(scene, date, sit, taken=taken, **who) for sit in (MORNING, EVENING)]
    sits = [_sit_html(answer, i, now_s) for i, answer in enumerate(answers)]
    below = _below_html(winds, whole[0])
    return filled(
        "pocket.html",
        name=scene.ground.name,
        date=date.isoformat(),
        day=f"{date:%A} {date.day} {date:%B %Y}",
        made=made_line(scene, weather, now_s),
        noted=noted(weather.notes),
        type_pt=f"{print_pt(''.join([*sits, below])):.1f}",
        sits=sits,
        below=below,
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
    """When the page was made, and from which forecast. Args: as `pocket_page`."""
    timezone = scene.ground.timezone
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(timezone))
    made_at = f"Made {made:%a} {made.day} {made:%b} {clock_text(now_s, timezone)}"
    if weather.kind == "typical":
        return f"{made_at} from a typical day, not a forecast."
    if weather.kind == "typed":
        return f"{made_at} for a wind that was {weather.source or 'typed'}."
    source = weather.source or weather.format
    if weather.updated_s is None:
        return f"{made_at} from {source}; when that was updated is not known."
    updated = datetime.datetime.fromtimestamp(weather.updated_s, tz=ZoneInfo(timezone))
    return (
        f"{made_at} from {source}, updated {updated:%a} {updated.day} {updated:%b} "
        f"{clock_text(weather.updated_s, timezone)}."
    )


def _answer(scene, weather, date, sit: str, who: dict, taken) -> SitAnswer | NoForecast:
    try:
        return answer_sit(prepare_sit(scene, weather, date, sit, **who), taken)
    except NoForecast as fault:
        return fault


def _sit_html(answer: SitAnswer | NoForecast, index: int, now_s: float) -> "Markup":
    if isinstance(answer, NoForecast):
        return filled("pocket_sit.html", fault=answer.text())
    if answer.best is None:
        return filled("pocket_sit.html", fault="", head="")
    sit, seat = answer.sit, answer.best
    told, out = _others(answer)
    head = dataclasses.replace(head_of(sit, seat, now_s), noted=())  # once, at the page's head
    return filled(
        "pocket_sit.html",
        fault="",
        head=head_html(head, sit_line(sit, short=True), paper=True, level=2),
        hours=hours_html(sit, seat, paper=True),
        dark_map=sit_map(sit, seat, colours=DARK, name=f"dark{index}"),
        print_map=sit_map(sit, seat, colours=PRINT, name=f"print{index}"),
        finding=finding_lines(sit, seat),
        air=air_html(sit, seat, paper=True, most=MOST_PLACES, far=False),
        others=told,
        out=out,
        most_others=MOST_OTHERS,
        most_named=MOST_NAMED,
    )


def _others(answer: SitAnswer) -> tuple[list[dict], list[str]]:
    """The other stands, each with its reason; those to stay out of by name alone."""
    rest = answer.stands[1:]
    told = [
        {"verdict": s.verdict, "name": s.stand.name, "told": _told(answer, s)}
        for s in rest
        if s.group != STAY
    ]
    return told, [s.stand.name for s in rest if s.group == STAY]


def _told(answer: SitAnswer, seat: StandSit) -> str:
    line = reason_line(answer.sit, seat)
    return f"go, {line[0].lower()}{line[1:]}" if seat.group == GO else line


def _below_html(winds, answer: SitAnswer) -> "Markup":
    """The tables for another wind at the truck, and the foot. Args: rows of each sit; an
    answer of the day."""
    ground = answer.sit.scene.ground
    return filled(
        "pocket_below.html",
        tables=[
            _wind_table(rows, caption, ground.timezone)
            for rows, caption in zip(winds, CAPTIONS, strict=True)
        ],
        light=LIGHT,
        steady=STEADY,
        meanings=MEANS,
        others_out=[f"{s.taken_by} sits at {s.stand.name}." for s in answer.stands if s.taken_by],
        phones=[f"{p.name} {p.phone}" for p in ground.people if p.phone],
        cautions=cautions(answer.sit, answer.best) if answer.best else [],
    )


def _wind_table(rows, caption: str, timezone: str) -> dict:
    in_minutes = caption == CAPTIONS[0]
    return {
        "caption": caption,
        "rows": [
            {
                "point": point,
                "light": _cell(light, timezone, in_minutes=in_minutes),
                "steady": _cell(steady, timezone, in_minutes=in_minutes),
            }
            for point, light, steady in rows
        ],
    }


def _cell(choice: Choice, timezone: str, *, in_minutes: bool) -> dict:
    if not choice.stand:
        out = "stay out (can't call)" if choice.group == CANT else "stay out"
        return {"stand": "", "words": out}
    when = "" if choice.leave_s is None else clock_text(choice.leave_s, timezone)
    if in_minutes and choice.minutes_before_light is not None:
        when = f"{choice.minutes_before_light} min"
    return {
        "stand": choice.stand,
        "lane": choice.lane,
        "verdict": choice.verdict or CLEAN,
        "when": when,
    }
