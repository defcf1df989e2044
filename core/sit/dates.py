"""Local dates: the season and part that each lies in, their sun, legal light, closed hours.

One date is the case of one. Arrays of shape (day,).
"""

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.errors import BadRequest, NoSun
from core.ground.layout import Closed, Part, Property, Season
from core.sky.daylight import Day, Days, sun_days
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Ints = npt.NDArray[np.int64]
DateArray = npt.NDArray[np.datetime64]
Kind = tuple[Season | None, Part | None]

CYCLE_S = 1461 * 24 * SECONDS_PER_HOUR  # four years
CYCLE_YEARS = 4
EVENTS = ("civil_dawn_s", "sunrise_s", "noon_s", "sunset_s", "civil_dusk_s")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def covers(first: str, last: str, date: datetime.date) -> bool:
    """Whether a span of MM-DD days holds a date; spans may wrap the year."""
    day = f"{date.month:02d}-{date.day:02d}"
    return first <= day <= last if first <= last else day >= first or day <= last


def season_on(ground: Property, date: datetime.date, weapon: str | None) -> Season | None:
    """The first season that covers a date, of a weapon where one is named."""
    for season in ground.seasons:
        fits = weapon is None or season.weapon.casefold() == weapon.casefold()
        if fits and covers(season.first, season.last, date):
            return season
    return None


def seasons_on(ground: Property, date: datetime.date) -> list[Season]:
    """Every season that covers a date, in the file's order."""
    return [s for s in ground.seasons if covers(s.first, s.last, date)]


def weapons_on(ground: Property, date: datetime.date) -> list[str]:
    """What may be hunted with on a date, each weapon once, in the file's order of seasons."""
    names: dict[str, str] = {}
    for season in seasons_on(ground, date):
        names.setdefault(season.weapon.casefold(), season.weapon)
    return list(names.values())


def orange_for(ground: Property, date: datetime.date) -> list[str]:
    """The weapons whose seasons ask for orange on a date, whatever oneself hunts with."""
    wanting = {s.weapon.casefold(): s.weapon for s in seasons_on(ground, date)[::-1] if s.orange}
    return list(wanting.values())[::-1]


def check_weapon(ground: Property, weapon: str | None) -> None:
    """Refuses a weapon that no season of the property is for. Raises: BadRequest."""
    known = {s.weapon.casefold() for s in ground.seasons}
    if weapon and ground.seasons and weapon.casefold() not in known:
        raise BadRequest(
            f"no season of this property is for '{weapon}'",
            "the weapon",
            f"Use one of: {', '.join(sorted(s.weapon for s in ground.seasons))}.",
        )


def part_on(ground: Property, date: datetime.date) -> Part | None:
    """The first part of the season that covers a date."""
    return next((p for p in ground.parts if covers(p.first, p.last, date)), None)


@dataclass(frozen=True, eq=False)
class Dates:
    """Local dates with their sun; arrays of shape (day,).

    `kinds` are the seasons (None outside every one) and parts that dates lie in, `kind`
    which of them a date has; `year` is the one in which its season began.
    """

    date: DateArray
    days: Days
    kinds: tuple[Kind, ...]
    kind: Ints
    year: Ints
    worked_out: dict[Any, Any] = field(default_factory=dict)  # what is found of them once

    def __len__(self) -> int:
        return len(self.date)

    @property
    def has_sun(self) -> npt.NDArray[np.bool_]:
        """On which dates the sun both rises and sets. Shape (day,)."""
        return np.isfinite(self.days.sunrise_s) & np.isfinite(self.days.sunset_s)

    def take(self, which: npt.NDArray[np.bool_]) -> "Dates":
        """Some of the dates. Args: a mask."""
        sun = {name: getattr(self.days, name)[which] for name in EVENTS}
        days = Days(date=self.date[which], timezone=self.days.timezone, **sun)
        return Dates(self.date[which], days, self.kinds, self.kind[which], self.year[which])

    def season(self, i: int) -> Season | None:
        """The season of a date. Args: its place."""
        return self.kinds[self.kind[i]][0]

    def part(self, i: int) -> Part | None:
        """The part of the season of a date. Args: its place."""
        return self.kinds[self.kind[i]][1]

    def day(self, i: int) -> Day:
        """The sun of one date. Args: its place."""
        days = self.days
        return Day(
            date=self.date[i].item(),
            timezone=days.timezone,
            civil_dawn_s=float(days.civil_dawn_s[i]),
            sunrise_s=float(days.sunrise_s[i]),
            noon_s=float(days.noon_s[i]),
            sunset_s=float(days.sunset_s[i]),
            civil_dusk_s=float(days.civil_dusk_s[i]),
        )

    def weapons(self, at: Ints) -> tuple[str, ...]:
        """What is hunted with on some dates, "" outside every season. Args: their places."""
        seasons = (self.kinds[kind][0] for kind in np.unique(self.kind[at]))
        return tuple(dict.fromkeys("" if s is None else s.weapon for s in seasons))

    def of_part(self, ask: Callable[[Part | None], Any]):
        """What is said of the part that each date lies in; shape (day,). Args: who says it."""
        return np.array([ask(part) for _, part in self.kinds])[self.kind]

    @property
    def month(self) -> Ints:
        """The month of each date, 1 to 12."""
        return self.date.astype("datetime64[M]").astype(np.int64) % 12 + 1


def dates_on(
    ground: Property, dates: Sequence[datetime.date] | DateArray, weapon: str | None = None
) -> Dates:
    """Some local dates, in a season or not.

    Args: the property; the dates, any order; a weapon, or None for every season.
    """
    date = np.asarray(dates, "datetime64[D]")
    return _dates(ground, date, *_kinds(ground, date, weapon))


def season_dates(
    ground: Property,
    first: datetime.date,
    last: datetime.date,
    weapon: str | None = None,
    span: tuple[str, str] | None = None,
) -> Dates:
    """The dates between two that lie in a season of the property.

    Args: the ground; first and last local date; a weapon, or None for every season;
    first and last MM-DD of a part of it, or None.
    """
    date = np.arange(np.datetime64(first), np.datetime64(last) + 1)
    kinds, kind, began = _kinds(ground, date, weapon, span)
    in_season = np.array([season is not None for season, _ in kinds], bool)[kind]
    return _dates(ground, date[in_season], kinds, kind[in_season], began[in_season])


def _dates(ground: Property, date: DateArray, kinds: list[Kind], kind: Ints, began: Ints) -> Dates:
    days = sun_days(ground.center[1], ground.center[0], ground.timezone, date)
    year = date.astype("datetime64[Y]").astype(np.int64) + 1970
    return Dates(date, days, tuple(kinds), kind, year - began)


def _kinds(
    ground: Property, date: DateArray, weapon: str | None, span: tuple[str, str] | None = None
):
    """Season and part of each date, and how many years ago its season began.

    Days of the year are looked at once, whatever the year. Without a span every date has
    the season that covers it; those outside a span count as outside every season.
    """
    month = date.astype("datetime64[M]")
    key = month.astype(np.int64) % 12 * 31 + (date - month).astype(np.int64)
    _, an_example, of_day = np.unique(key, return_index=True, return_inverse=True)
    kinds: list[Kind] = []
    kind, began = [], []
    for day in date[an_example].tolist():
        season = season_on(ground, day, weapon)
        if span is not None and not covers(*span, day):
            season = None
        found = (season, part_on(ground, day))
        if found not in kinds:
            kinds.append(found)
        kind.append(kinds.index(found))
        began.append(
            season is not None and season.first > season.last and f"{day:%m-%d}" <= season.last
        )
    return kinds, np.array(kind, np.int64)[of_day], np.array(began, np.int64)[of_day]


def later_s(time_s: Ints, dates: DateArray) -> Ints:
    """How much later instants are than the same day and hour in the four years meant.

    Sun and light repeat every four years but for a trifle, so four years stand for many:
    those in the middle of some dates. Fewer years than that stand for themselves.
    Args: instants [epoch s], any shape; the dates. Returns: whole times four years. [s]
    """
    years = np.concatenate([dates.min(keepdims=True), dates.max(keepdims=True)])
    first, last = _year(years.astype("datetime64[s]").astype(np.int64))
    if last - first < CYCLE_YEARS:
        return np.zeros(np.shape(time_s), np.int64)
    middle = (first + last) // 2 - 1
    return (_year(time_s) - middle) // CYCLE_YEARS * CYCLE_S


def _year(time_s: Ints) -> Ints:
    return time_s.astype("datetime64[s]").astype("datetime64[Y]").astype(np.int64) + 1970


def local_s(timezone: str, date: datetime.date, clock: str) -> int:
    """Epoch seconds of a local HH:MM on a date."""
    hour, minute = (int(x) for x in clock.split(":"))
    if hour == 24:
        date, hour = date + datetime.timedelta(days=1), 0
    at = datetime.datetime(date.year, date.month, date.day, hour, minute, tzinfo=ZoneInfo(timezone))
    return int(at.timestamp())


def legal_light_s(day, season: Season):
    """Legal start rounded up to the minute, legal end rounded down. [epoch s]

    Args: day, anything with a date, sunrise and sunset, or those of many dates; the
    season whose rule it is. Returns: whole numbers, of the shape of the sunrise.
    Raises: NoSun where the sun does not rise or set that day.
    """
    sunless = np.isnan(day.sunrise_s) | np.isnan(day.sunset_s)
    if np.any(sunless):
        date = np.atleast_1d(np.array(day.date, "datetime64[D]"))[np.atleast_1d(sunless)][0]
        raise NoSun(
            f"the sun does not rise and set on {date} here",
            "the date",
            "Choose a date with a sunrise and a sunset.",
        )
    minute = SECONDS_PER_MINUTE
    start = np.ceil((day.sunrise_s - season.before_sunrise_min * minute) / minute) * minute
    end = np.floor((day.sunset_s + season.after_sunset_min * minute) / minute) * minute
    return start.astype(np.int64), end.astype(np.int64)


def closed_s(closed: tuple[Closed, ...], timezone: str, date) -> list[tuple[int, int]]:
    """Closed hours of a local date, in order. [epoch s]"""
    today = WEEKDAYS[date.weekday()]
    return sorted(
        (local_s(timezone, date, c.from_time), local_s(timezone, date, c.to_time))
        for c in closed
        if today in c.days
    )


def closed_on(season: Season | None, date: datetime.date) -> bool:
    """Whether a season closes any hours of a date. Args: the season, None outside; the date."""
    return season is not None and any(WEEKDAYS[date.weekday()] in c.days for c in season.closed)


def cut(whole: tuple[int, int], closed: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """What closed hours leave of a window, in order."""
    pieces, at = [], whole[0]
    for start, end in closed:
        if end <= at or start >= whole[1]:
            continue
        if start > at:
            pieces.append((at, start))
        at = max(at, end)
    if at < whole[1]:
        pieces.append((at, whole[1]))
    return pieces
