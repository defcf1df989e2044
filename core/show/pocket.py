"""The page that goes along in a pocket: one HTML file without script, one printed sheet."""

import dataclasses
import datetime
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.answer.other_winds import LIGHT, STEADY, Choice, other_winds
from core.errors import NoForecast
from core.say.above import above_second
from core.say.cautions import cautions
from core.say.find_the_tree import finding_lines, puff_text
from core.say.headline import head_of, reason_line, sit_line
from core.say.hunters.others import others_out
from core.say.log.lines import example_line
from core.say.pieces.told import until_line
from core.say.words import clock_text, noted
from core.show.card import air_html, head_html, hours_html
from core.show.hours.dusk_clock import PAPER, dusk_clock
from core.show.map import sit_map
from core.show.palette import DARK, PAGE, PRINT
from core.show.take_along.icon import icon_address
from core.show.template import filled
from core.sit.clock import HALVES
from core.sit.prepare import Log, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.age import known_until_s
from core.weather.hours import Hours

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_OTHERS, MOST_NAMED = 10, 30
MOST_PLACES = 3
LARGEST_PT, SMALLEST_PT = 8.4, 4.5
POCKET_WIDTH = 280.0  # of a map in units: half a sheet of paper is narrow
SHEET_HOLDS = 232_000.0  # letters times points squared
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


@dataclass(frozen=True)
class DaySheet:
    """A day of one hunter, ready to stand on a page; `answers` are its morning and evening."""

    date: datetime.date
    hunter: str | None
    answers: tuple[SitAnswer | NoForecast, ...]
    sits: tuple["Markup", ...]
    below: "Markup | str"

    @property
    def day(self) -> str:
        return f"{self.date:%A} {self.date.day} {self.date:%B %Y}"


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
    sheet = day_sheet(
        scene,
        weather,
        date,
        now_s,
        taken=dict.fromkeys(HALVES, taken),
        hunter=hunter,
        weapon=weapon,
        log=log,
    )
    refuse_empty([sheet])
    return document(scene, weather, now_s, [sheet], date.isoformat())


def day_sheet(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    now_s: float,
    *,
    taken: Mapping[str, dict[str, str] | None],
    name: str = "",
    hunter: str | None = None,
    **who: Any,
) -> DaySheet:
    """A day for one hunter.

    Args: as `pocket_page`; who sits where, by morning and evening; what tells its drawings
    from those of other days on the same page; the hunter, weapon and log.
    Returns: a sheet that says what is missing where the weather reaches neither sit.
    Raises: as `prepare_sit`.
    """
    who = {**who, "hunter": hunter}
    answers = tuple(_answer(scene, weather, date, sit, who, taken[sit]) for sit in HALVES)
    whole = [found for found in answers if isinstance(found, SitAnswer)]
    below: Markup | str = ""
    winds: list[list] = [[] for _ in HALVES]
    if whole:
        winds = [other_winds(scene, date, sit, taken=taken[sit], **who) for sit in HALVES]
        below = _below_html(winds, whole)
    sits = [_sit_html(answer, f"{name}{i}", now_s, winds[i]) for i, answer in enumerate(answers)]
    return DaySheet(date, hunter, answers, tuple(sits), below)


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
    """When the page was made, from which forecast, and its end. Args: as `pocket_page`."""
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


def _answer(scene, weather, date, sit: str, who: dict, taken) -> SitAnswer | NoForecast:
    try:
        return answer_sit(prepare_sit(scene, weather, date, sit, **who), taken)
    except NoForecast as fault:
        return fault


def _sit_html(answer: SitAnswer | NoForecast, name: str, now_s: float, winds) -> "Markup":
    if isinstance(answer, NoForecast):
        return filled("pocket_sit.html", fault=answer.text())
    if answer.best is None:
        return filled("pocket_sit.html", fault="", head="")
    sit, seat = answer.sit, answer.best
    told, out = _others(answer)
    head = above_second(head_of(sit, seat, now_s), answer)
    head = dataclasses.replace(head, noted=())  # once, at the page's head
    return filled(
        "pocket_sit.html",
        fault="",
        head=head_html(head, sit_line(sit, short=True), paper=True, level=2),
        hours=hours_html(sit, seat, paper=True),
        clock=dusk_clock(sit, seat, PAGE, name=f"c{name}", measure=PAPER),
        until=until_line(answer),
        map=sit_map(sit, seat, colours=PAGE, name=f"m{name}", width=POCKET_WIDTH),
        finding=finding_lines(sit, seat),
        example=example_line(seat.stand.name, sit.clock.sit),
        puff=puff_text(sit, seat, winds),
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


def _below_html(winds, whole: list[SitAnswer]) -> "Markup":
    """The tables for another wind at the truck, and the foot. Args: rows of each sit; the
    answers of the day."""
    answer = whole[0]
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
        others_out=others_out(whole),
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
