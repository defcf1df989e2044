"""A day of one hunter on a pocket page: its morning and evening, and what holds for both."""

import dataclasses
import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from core.answer.chances import Misses
from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.answer.other_winds import LIGHT, STEADY, FirstChoice, other_winds
from core.chance.shares import with_chances
from core.errors import NoForecast
from core.say.above import above_second
from core.say.cautions import cautions
from core.say.chance.words import short_text
from core.say.find_the_tree import finding_lines, puff_text
from core.say.headline import head_of, sit_line
from core.say.hunters.others import others_out
from core.say.log.felt import felt_here, turn_lines
from core.say.log.lines import example_line
from core.say.pieces.told import until_line
from core.say.reason_texts import reason_line
from core.say.words import GROUPS_SAID, clock_text
from core.show.card import air_html, head_html, hours_html
from core.show.chance.ten_mornings import chance_html
from core.show.hours.dusk_clock import PAPER, dusk_clock
from core.show.map import sit_map
from core.show.palette import PAGE
from core.show.template import filled
from core.sit.clock import HALVES
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.hours import Hours

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_OTHERS, MOST_NAMED = 10, 30
MOST_PLACES = 3
POCKET_WIDTH = 280.0  # of a map in units: half a sheet of paper is narrow
MEANS = {
    CLEAN: "your air reaches no bed, food or trail that counts",
    JUST_OFF: "it comes near one, lies beside a trail before the shot, or on one of several",
    CANT_CALL: "nobody can say where it goes",
    WRONG: "it reaches a bed or food, or lies on every trail in range",
}
CAPTIONS = (
    "morning: minutes before legal light to leave the truck",
    "evening: when to leave the truck",
)


TOGETHER = "Proposed together with the seats of the others."


@dataclass(frozen=True)
class OwnSeat:
    """What a hunter has in a sit: who else sits where, by stand id; the id of the seat that was
    found for him among the others, or why he stays."""

    taken: dict[str, str]
    stand: str | None = None
    stays: str = ""


@dataclass(frozen=True)
class DaySheet:
    """A day of one hunter, ready to stand on a page; `answers` are its morning and evening,
    `stays` why the hunter stays at home in each, where another's seat is why."""

    date: datetime.date
    hunter: str | None
    answers: tuple[SitAnswer | NoForecast, ...]
    stays: tuple[str, ...]
    sits: tuple["Markup", ...]
    below: "Markup | str"

    @property
    def day(self) -> str:
        return f"{self.date:%A} {self.date.day} {self.date:%B %Y}"


def day_sheet(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    now_s: float,
    *,
    seats: Mapping[str, OwnSeat],
    name: str = "",
    hunter: str | None = None,
    misses: Misses | None = None,
    **who: Any,
) -> DaySheet:
    """A day for one hunter.

    Args: the scene; the weather; local date; when the page is made [epoch s]; the hunter's seat,
    by morning and evening; what tells its drawings from those of other days on the same page;
    how far forecasts miss here, None for what is usual; the hunter, weapon and log.
    Returns: a sheet that says what is missing where the weather reaches neither sit.
    Raises: as `prepare_sit`.
    """
    who = {**who, "hunter": hunter}
    answered = [_answered(scene, weather, date, sit, who, seats[sit]) for sit in HALVES]
    found = [
        _in_order(a, now_s, misses, seats[sit]) for a, sit in zip(answered, HALVES, strict=True)
    ]
    answers, moved = tuple(answer for answer, _ in found), [own for _, own in found]
    stays = tuple(_stays(a, hunter, seats[sit]) for a, sit in zip(answers, HALVES, strict=True))
    whole = [found for found in answers if isinstance(found, SitAnswer)]
    below: Markup | str = ""
    winds: list[list] = [[] for _ in HALVES]
    if whole:
        winds = [other_winds(scene, date, sit, taken=seats[sit].taken, **who) for sit in HALVES]
        below = _below_html(winds, whole)
    sits = [
        _sit_html(answer, stays[i], moved[i], f"{name}{i}", now_s, winds[i])
        for i, answer in enumerate(answers)
    ]
    return DaySheet(date, hunter, answers, stays, tuple(sits), below)


def _answered(
    scene: Scene, weather: Hours, date: datetime.date, sit: str, who: dict, seat: OwnSeat
) -> SitAnswer | NoForecast:
    """The answer of a sit by the forecast alone."""
    try:
        return answer_sit(prepare_sit(scene, weather, date, sit, **who), seat.taken)
    except NoForecast as fault:
        return fault


def _in_order(
    answer: SitAnswer | NoForecast, now_s: float, misses: Misses | None, seat: OwnSeat
) -> tuple[SitAnswer | NoForecast, bool]:
    """The answer with its chances, the seat that was found for the hunter before all others;
    and whether it was another that came first."""
    if isinstance(answer, NoForecast):
        return answer, False
    if answer.sit.weather.kind == "forecast":
        answer = with_chances([answer], now_s, misses)[0]
    own = [i for i in answer.order if answer.judged[i].stand.id == seat.stand]
    order = (*own, *(i for i in answer.order if i not in own))
    if order == answer.order:
        return answer, False
    return dataclasses.replace(answer, order=order, _read={}), True


def _stays(answer: SitAnswer | NoForecast, hunter: str | None, seat: OwnSeat) -> str:
    """Why a hunter stays in a sit that has a stand for him; empty where none is to go."""
    best = answer.best if isinstance(answer, SitAnswer) else None
    go = best is not None and best.group == GO
    return f"{hunter} stays: {seat.stays}" if seat.stays and go else ""


def _sit_html(
    answer: SitAnswer | NoForecast, stays: str, moved: bool, name: str, now_s: float, winds
) -> "Markup":
    if stays:
        return filled("pocket_stays.html", told=stays)
    if isinstance(answer, NoForecast):
        return filled("pocket_sit.html", fault=answer.text())
    if answer.best is None:
        return filled("pocket_sit.html", fault="", head="")
    sit, seat = answer.sit, answer.best
    told, out = _others(answer)
    head = head_of(sit, seat, now_s, answer.chances)
    if moved:
        head = dataclasses.replace(head, summary=f"{head.summary} {TOGETHER}")
    else:
        head = above_second(head, answer)
    head = dataclasses.replace(head, noted=())  # once, at the page's head
    return filled(
        "pocket_sit.html",
        fault="",
        head=head_html(head, sit_line(sit, short=True), paper=True, level=2),
        chance=chance_html(answer, seat, paper=True),
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
    line, likely = reason_line(answer.sit, seat), short_text(answer.chances, seat)
    line = " ".join(filter(None, [line, felt_here(answer.sit, seat)]))
    line = f"{likely}. {line}" if likely else line
    return f"{GROUPS_SAID[seat.group].lower()}, {line[0].lower()}{line[1:]}"


def _below_html(winds, whole: list[SitAnswer]) -> "Markup":
    """The tables for another wind at the truck, and the foot. Args: rows of each sit; the
    answers of the day."""
    answer = whole[0]
    ground = answer.sit.scene.ground
    return filled(
        "pocket_below.html",
        felt=turn_lines(ground),
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


def _cell(choice: FirstChoice, timezone: str, *, in_minutes: bool) -> dict:
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
