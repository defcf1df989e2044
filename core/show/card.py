"""Parts of the answer as HTML, for the home screen and for pages to print or carry.

No scripts, nothing from outside. The looks are classes: the screen's style sheet and the
pocket page each dress them; `paper` takes the marks that the page itself holds.
"""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from core.angles import point_name
from core.answer.one_sit import SitAnswer, StandSit, place_ids
from core.answer.reached import air_from_deg, as_reached, telling_case, worst_case
from core.ground.place import relation
from core.say.headline import AnswerHead
from core.say.log.felt import felt_here
from core.say.pieces.stretches import TURNS, swings
from core.say.reason_texts import reason_line
from core.say.words import GROUPS_SAID, VERDICTS_SAID, at_time, clock_digits, like_text, place_text
from core.show.template import filled
from core.sit.prepare import Sit
from core.sit.verdicts import CANT_CALL, CLEAN, GO
from core.sit.ways import MOST_SHOWN_YD

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_FAR = 12  # places named that hardly any air reaches; the rest are counted
HARDLY = "hardly any"
MUCH_THE_SAME = 1.25  # hours within this factor of the worst are not told apart
KIND_SAID = {"bedding": "bed", "food": "food", "corridor": "trail", "lane": "lane"}


class HourMark(NamedTuple):
    """One hour of a sit, or a piece of one: its verdict, its start, the point its wind is
    from, or that the slope's air turns in it."""

    verdict: int
    clock: str
    wind: str


class AirRow(NamedTuple):
    """One place: its verdict, name and kind, relation and distance, how much air, its id."""

    verdict: int
    name: str
    lies: str
    told: str
    id: str


def unbroken(words: str) -> str:
    """Words that stay on one line: "8:00 am", "12 yd". Args: any text."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def head_html(head: AnswerHead, place: str, *, paper: bool = False, level: int = 1) -> "Markup":
    """The head of an answer: group, stand, times, way in, wind, what goes wrong.

    Args: the head's words; a line above (property and sit); whether it is for paper; the
    level of its heading.
    """
    return filled(
        "head.html", head=head, place=place, paper=paper, level=level, is_go=head.group == GO
    )


def hours_html(sit: Sit, seat: StandSit, *, paper: bool = False, like: bool = False) -> "Markup":
    """The hours of the sit in a row, turning pieces on their own: mark, clock, wind.

    Args: the sit; the stand in it; whether it is for paper; whether it is told below what
    "like so many yards" means.
    """
    return filled("hours.html", hours=_hour_marks(sit, seat), paper=paper, like=like)


def _hour_marks(sit: Sit, seat: StandSit) -> list[HourMark]:
    marks: list[HourMark] = []
    for i, row in enumerate(seat.hours.air.row):
        wind = float(sit.rows.weather.wind_from_deg[row])
        point = "–" if np.isnan(wind) else point_name(wind)
        point = TURNS if swings(sit, seat, i) else point
        clock = clock_digits(int(seat.rows.start_s[i]), sit.timezone)
        told = HourMark(int(seat.hours.verdict[i]), clock, point)
        # a piece of under 15 minutes decides nothing: it is told only where it is otherwise
        alike = bool(marks) and (told.verdict, told.wind) == (marks[-1].verdict, marks[-1].wind)
        if seat.rows.deciding[i] or not alike:
            marks.append(told)
    return marks


def air_rows(sit: Sit, seat: StandSit) -> list[AirRow]:
    """Where the air goes, place by place, the most reached first.

    Args: the sit; the stand in it.
    Returns: verdict, name and kind, relation and distance, "like N yards" with the hour
    where the hours differ. Places that count in no hour of the sit are left out; a trail that
    is walked from both ends has one row, that of the worse.
    """
    places = sit.scene.places(seat.stand)
    rows = []
    for i, name in enumerate(place_ids(sit, seat)):
        case = worst_case(seat, i)
        if case is None:
            continue
        place, like = places[name], float(seat.hours.equivalent_yd[case, i])
        wind = air_from_deg(seat, case)
        where = relation(wind, as_reached(sit, seat, case, place)) or "around you"
        where = "" if where == "none" else f"{where}, "
        kind = KIND_SAID[place.kind]
        label = sit.scene.ground.name_of(name)
        told = (
            "not known"
            if np.isnan(like)
            else (
                HARDLY
                if like > MOST_SHOWN_YD
                else f"like {like_text(like)}{_when(sit, seat, case, i)}"
            )
        )
        verdict = int(seat.hours.place_verdict[case, i])
        if place.kind == "corridor":  # another one may be free: no worse than what it makes
            verdict = min(verdict, int(seat.hours.verdict[case]))
        label = label if label.casefold().endswith(kind) else f"{label}, {kind}"
        row = AirRow(
            verdict,
            label,
            f"{where}{unbroken(place_text(place.distance_m))}",
            told,
            name,
        )
        rows.append((-verdict, np.inf if np.isnan(like) else like, row))
    ordered = [row for _, _, row in sorted(rows)]
    first = {row.id: row for row in reversed(ordered)}
    return [row for row in ordered if first[row.id] is row]


def told_places(answer: SitAnswer, seat: StandSit) -> dict[str, str]:
    """What a tap on the map tells, by the id of the place or the stand.

    Args: the answer; the stand that the map is of.
    """
    sit = answer.sit
    names = [*(a.id for a in sit.scene.areas), *sit.scene.corridor_lines]
    told = {n: f"{sit.scene.ground.name_of(n)}: no air counts there in this sit." for n in names}
    for row in air_rows(sit, seat):
        word = VERDICTS_SAID[row.verdict]
        told[row.id] = f"{row.name}: {row.lies}; your air is {row.told} ({word})."
    for other in answer.stands:
        line = f"{reason_line(sit, other)} {felt_here(sit, other)}".rstrip()
        told[other.stand.id] = f"{other.stand.name}: {GROUPS_SAID[other.group].lower()}. {line}"
    return told


def map_hour_text(sit: Sit, seat: StandSit) -> str:
    """Which hour the map shows, and which the table beside it. Args: the sit; the stand in it."""
    case = telling_case(seat)
    if case is None:
        return ""
    clock = at_time(sit, int(seat.rows.start_s[case]))
    some = " that can be called" if (seat.hours.verdict == CANT_CALL).any() else ""
    return f"The map shows {clock}, the worst hour{some}; the table each place at its own worst."


def _when(sit: Sit, seat: StandSit, case: int, place: int) -> str:
    """The hour in which a place is worst, where the hours differ or the map's tells another."""
    hours, drawn = seat.hours, telling_case(seat)
    like = np.where(hours.counts[:, place], hours.equivalent_yd[:, place], np.inf)
    as_drawn = drawn is None or like_text(like[drawn]) == like_text(like[case])
    if as_drawn and (like <= like[case] * MUCH_THE_SAME).all():
        return ""
    return f", {unbroken(at_time(sit, int(seat.rows.start_s[case])))}"


def air_html(
    sit: Sit, seat: StandSit, *, paper: bool = False, most: int = 0, far: bool = True
) -> "Markup":
    """The table of where the air goes.

    Args: as `air_rows`; whether it is for paper; rows at most, 0 for all; whether the places
    that hardly any air reaches are named.
    """
    rows = air_rows(sit, seat)
    near = [row for row in rows if row.told != HARDLY]
    return filled(
        "air.html",
        closed=seat.seated_s is None,
        near=near[:most] if most else near,
        far=[row for row in rows if row.told == HARDLY],
        names_far=far,
        most_far=MOST_FAR,
        clean=CLEAN,
        paper=paper,
    )
