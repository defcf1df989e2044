"""The season on one sheet: for each of 16 winds the first and the second choice.

One date stands for the season; each wind is held through the whole sit. Times are told
as minutes to legal light, so that they hold, nearly, on the other dates.
"""

import datetime
from dataclasses import dataclass

from core.angles import POINTS_16
from core.answer.one_sit import SitAnswer, StandSit
from core.answer.other_winds import LIGHT, STEADY, answers_in_winds
from core.errors import BadRequest
from core.ground.layout import Property
from core.sit.clock import HALVES, SitClock
from core.sit.dates import closed_on, covers
from core.sit.minutes import EVENING
from core.sit.scene import Scene
from core.sit.verdicts import CANT, GO
from core.units import SECONDS_PER_MINUTE

STRENGTHS = (LIGHT, STEADY)
MOST_CHOICES = 2


@dataclass(frozen=True, slots=True)
class StandChoice:
    """A stand that is go in one wind, its way in, and when to leave the truck."""

    stand: str
    lane: str
    minutes: int | None  # before legal light begins, in the evening before it ends
    verdict: int


@dataclass(frozen=True, slots=True)
class Cell:
    """What one wind leaves: choices, best first; without one, whether it can be called."""

    choices: tuple[StandChoice, ...]
    cant_call: bool


@dataclass(frozen=True, slots=True)
class VisorRow:
    """One wind; its cells by sit and strength, in the order of `HEADS`."""

    point: str
    cells: tuple[Cell, ...]


HEADS = tuple((sit, strength) for sit in HALVES for strength in STRENGTHS)


def visor_rows(
    scene: Scene,
    date: datetime.date,
    weapon: str | None = None,
    hunter: str | None = None,
    points: tuple[str, ...] = POINTS_16,
    taken: dict[str, str] | None = None,
) -> list[VisorRow]:
    """The sheet's rows, north first.

    Args: the scene; the date that stands for the season; weapon and hunter as in
    `prepare_sit`; the compass points wanted; the stands taken as in `answer_sits`.
    Raises: BadRequest where the date is in no season; as `prepare_sit`.
    """
    columns: list[list[Cell]] = []
    for sit in HALVES:
        winds = [f"{point} {strength}" for strength in STRENGTHS for point in points]
        answers = answers_in_winds(
            scene, date, sit, winds, weapon=weapon, hunter=hunter, taken=taken
        )
        cells = [_cell(answer) for answer in answers]
        columns += [cells[i : i + len(points)] for i in range(0, len(cells), len(points))]
    return [VisorRow(point, tuple(cells)) for point, *cells in zip(points, *columns, strict=True)]


def _cell(answer: SitAnswer) -> Cell:
    if answer.sit.clock.outside:
        raise BadRequest(
            f"{answer.sit.clock.date.isoformat()} is in no season of this property",
            "the date of the sheet",
            "Choose a date inside the season.",
        )
    groups = answer.groups
    n_good = min(MOST_CHOICES, int((groups == GO).sum()))
    good = tuple(_choice(answer.sit.clock, answer.at(rank)) for rank in range(n_good))
    return Cell(good, not good and bool((groups == CANT).any()))


def _choice(clock: SitClock, own: StandSit) -> StandChoice:
    lane = own.way_in.way.lane if own.way_in else None
    minutes = None
    if own.leave_truck_s is not None:
        light_s = clock.legal_end_s if clock.sit == EVENING else clock.legal_start_s
        minutes = round((light_s - own.leave_truck_s) / SECONDS_PER_MINUTE)
    return StandChoice(
        own.stand.name or own.stand.id, (lane.name or lane.id) if lane else "", minutes, own.verdict
    )


def middle_of_season(ground: Property, year: int) -> datetime.date:
    """A date near the middle of the property's first season that begins in a year.

    Args: the property; the year. Without a season it is the middle of November.
    Returns: the nearest date without closed hours, where there is one.
    """
    if not ground.seasons:
        return datetime.date(year, 11, 15)
    season = ground.seasons[0]
    first = datetime.date(year, *_month_day(season.first))
    days = [first + datetime.timedelta(days=i) for i in range(366)]
    inside = [d for d in days if covers(season.first, season.last, d)]
    middle = len(inside) // 2
    nearest = sorted(inside, key=lambda d: abs((d - inside[middle]).days))
    return next((d for d in nearest if not closed_on(season, d)), inside[middle])


def _month_day(text: str) -> tuple[int, int]:
    month, day = (int(x) for x in text.split("-"))
    return month, 28 if (month, day) == (2, 29) else day
