"""Season winds: every morning and evening of a season, in every year of a history.

Each stand is judged in each sit by the whole chain of the home page. `judge_season`
gives a `SeasonAnswer`; `season_report` and `gaps` read it.
"""

import datetime
import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.errors import BadRequest, NoForecast, NoSun
from core.ground.layout import Property, Stand
from core.season.one_stand import StandSeason, stand_season
from core.sit.clock import HALVES, clocks
from core.sit.dates import Dates, season_dates
from core.sit.prepare import TABLE, Sits, has_hours, prepare_sits
from core.sit.rows import origin_s
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.hours import Hours

Progress = Callable[[float], None]


@dataclass(frozen=True, eq=False)
class SitsReview:
    """All sits of one kind, such as the mornings: each stand's, in the order of `stands`."""

    sits: Sits
    by_stand: tuple[StandSeason, ...]

    @property
    def sit(self) -> str:
        return self.sits.clock.sit

    @property
    def group(self) -> npt.NDArray[np.int8]:
        """Group of each sit at each stand. Shape (sit, stand)."""
        if not self.by_stand:
            return np.zeros((len(self.sits), 0), np.int8)
        return np.stack([s.group for s in self.by_stand], axis=1)

    @property
    def serves(self) -> npt.NDArray[np.bool_]:
        """Whether each stand is go for a shot, not only to watch. Shape (sit, stand)."""
        if not self.by_stand:
            return self.group == GO
        return (self.group == GO) & ~np.stack([s.watch for s in self.by_stand], axis=1)

    @property
    def year(self) -> npt.NDArray[np.int64]:
        """The year in which the season of each sit began. Shape (sit,)."""
        return self.sits.clock.dates.year[self.sits.clock.at]

    @property
    def month(self) -> npt.NDArray[np.int64]:
        return self.sits.clock.dates.month[self.sits.clock.at]


@dataclass(frozen=True, eq=False)
class SeasonAnswer:
    """A whole season review.

    `unknown` counts sits without any hour of wind, `sunless` dates on which the sun does
    not rise and set: both are left out.
    """

    scene: Scene
    stands: tuple[Stand, ...]
    weather: Hours
    reviews: tuple[SitsReview, ...]
    unknown: int
    sunless: int = 0

    @property
    def n_sits(self) -> int:
        return sum(len(h.sits) for h in self.reviews)

    @functools.cached_property
    def go(self) -> npt.NDArray[np.bool_]:
        """Whether each stand is go in each sit, mornings first. Shape (sit, stand)."""
        return np.concatenate([h.group for h in self.reviews]) == GO

    @functools.cached_property
    def serves(self) -> npt.NDArray[np.bool_]:
        """`go` without seats that the owner only watches from: those fill no hole."""
        return np.concatenate([h.serves for h in self.reviews])

    @property
    def one_year(self) -> bool:
        """Whether there is no spread between years to tell of."""
        return self.weather.kind == "typical" or len(self.years) < 2

    @property
    def years(self) -> tuple[int, ...]:
        """Years whose season the history has most of."""
        years = np.concatenate([h.year for h in self.reviews])
        found, count = np.unique(years, return_counts=True)
        most = count.max(initial=0)
        return tuple(int(y) for y, n in zip(found, count, strict=True) if 2 * n >= most)


def judge_season(
    scene: Scene,
    weather: Hours,
    *,
    span: tuple[str, str] | None = None,
    weapon: str | None = None,
    kinds: Sequence[str] = HALVES,
    progress: Progress | None = None,
) -> SeasonAnswer:
    """Judges every stand in every sit of the season.

    Args:
        scene: of the property.
        weather: the hourly table of the history.
        span: first and last MM-DD of a part of the season; None for all of it.
        weapon: of a season; None for every season of the property.
        kinds: of sits: morning, evening, all-day.
        progress: told the share done, 0 to 1, after each stand.

    Missing: a sit of which the table has no hour at all is left out and counted, and so
    is a date on which the sun does not rise and set.
    Raises: BadRequest for a span or weapon that holds no date; NoForecast where
    the table has no hour of any sit; NoSun where no date has a sunrise and a sunset.
    """
    every = dates_in(scene.ground, weather, span, weapon)
    dates = _with_sun(every)
    made = [season_sits(scene, weather, dates, sit) for sit in kinds]
    if not sum(len(sits) for sits in made):
        raise NoForecast(
            "it has no hour of any sit of this season",
            weather.source or weather.format,
            "Give a history that covers the season's months.",
        )
    stands = scene.ground.stands
    judged = []
    for done, stand in enumerate(stands, 1):  # kinds of sits share a stand's tables
        judged.append([stand_season(sits, stand) for sits in made])
        if progress:
            progress(done / len(stands))
    found = [SitsReview(sits, tuple(s[i] for s in judged)) for i, sits in enumerate(made)]
    unknown = len(dates) * len(made) - sum(len(sits) for sits in made)
    sunless = len(every) - len(dates)
    return SeasonAnswer(scene, stands, weather, tuple(found), unknown, sunless)


def _with_sun(dates: Dates) -> Dates:
    """Those of some dates on which the sun rises and sets. Raises: NoSun without any."""
    if dates.has_sun.all():
        return dates
    if not dates.has_sun.any():
        raise NoSun(
            "the sun does not both rise and set on any date of the season here",
            "the season",
            "Choose dates with a sunrise and a sunset.",
        )
    return dates.take(dates.has_sun)


def season_sits(
    scene: Scene, weather: Hours, dates: Dates, sit: str, at=None, strengths: int = TABLE
) -> Sits:
    """The sits of one kind on some dates, those that the weather has any hour of.

    Args: the scene; the hourly table; the dates; the kind of sit; which of the dates, all by
    default; where strengths come from.
    """
    clock = clocks(scene.ground, dates, sit, at, origin_s(weather))
    known = has_hours(clock, weather)
    return prepare_sits(
        scene, weather, clock if known.all() else clock.take(known), strengths=strengths
    )


def dates_in(
    ground: Property, weather: Hours, span: tuple[str, str] | None, weapon: str | None
) -> Dates:
    """The dates of a history that lie in the season.

    Args: ground; weather, the hourly table; span and weapon as in `judge_season`.
    Raises: BadRequest for an unknown weapon or a span without a date of the season.
    """
    _check_weapon(ground, weapon)
    if not len(weather) or weather.held:
        raise NoForecast("it has no hours of its own", weather.source, "Give an hourly history.")
    zone = ZoneInfo(ground.timezone)
    first, last = (
        datetime.datetime.fromtimestamp(int(weather.start_s[i]), tz=zone).date() for i in (0, -1)
    )
    days = None if span is None else (_day(span[0]), _day(span[1]))
    dates = season_dates(ground, first, last, weapon, days)
    if not len(dates):
        raise BadRequest(
            f"no date of the season lies in {' to '.join(span) if span else 'the history'}",
            "the season",
            "Choose dates inside the season.",
        )
    return dates


def _check_weapon(ground: Property, weapon: str | None) -> None:
    known = sorted({s.weapon for s in ground.seasons})
    if weapon and weapon.casefold() not in {w.casefold() for w in known}:
        raise BadRequest(
            f"no season of this property is for '{weapon}'",
            "the weapon",
            f"Use one of: {', '.join(known)}.",
        )


def _day(text: str) -> str:
    """MM-DD, checked. Raises: BadRequest."""
    try:
        month, day = text.split("-")
        datetime.date(2000, int(month), int(day))
    except ValueError:
        raise BadRequest(f"'{text}' is no day of the year", "the dates", "Write 11-01.") from None
    return f"{int(month):02d}-{int(day):02d}"


def land_notes(scene: Scene) -> tuple[str, ...]:
    """How a season uses the heights of a ground; nothing without them. Args: the scene."""
    if scene.heights is None:
        return ()
    from core.land.derived import follows_the_ground  # loaded where there are heights

    if not follows_the_ground(scene.heights, scene.ground):
        return ()
    return (
        "heights: a season takes sun, lee and the air's direction at each stand from them, and "
        "goes straight on from there",
    )
