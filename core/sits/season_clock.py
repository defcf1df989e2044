"""When the sits of many days are: the clocks of all mornings, or all evenings, at once.

The same windows, seats, weights and prime blocks as `core.sits.clock`, as arrays.
"""

import dataclasses
import datetime
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import Part, Property, Season
from core.sits.clock import (
    EVENING,
    MORNING,
    PRIME_EVENING_S,
    PRIME_MORNING_S,
    SHORT_MIN,
    closed_s,
    cut,
    legal_light_s,
    local_s,
    minute_weight,
    part_on,
    season_on,
)
from core.sky.daylight import Days, sun_days
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Dates:
    """Local dates with their sun, season and part; arrays and tuples of shape (day,)."""

    date: npt.NDArray[np.datetime64]
    days: Days
    seasons: tuple[Season, ...]
    parts: tuple[Part | None, ...]
    year: Ints  # in which the season of the date began
    kept: dict[str, Any] = field(default_factory=dict)  # what was worked out of them

    def __len__(self) -> int:
        return len(self.date)

    def take(self, index) -> "Dates":
        """Some of the dates. Args: their places, in order."""
        names = [
            f.name for f in dataclasses.fields(self.days) if f.name not in ("date", "timezone")
        ]
        sun = {name: getattr(self.days, name)[index] for name in names}
        return Dates(
            self.date[index],
            dataclasses.replace(self.days, date=self.date[index], **sun),
            tuple(self.seasons[i] for i in index),
            tuple(self.parts[i] for i in index),
            self.year[index],
        )


@dataclass(frozen=True, eq=False)
class SeasonClock:
    """The clocks of one kind of sit on many days; what `judge_sit` needs of a clock.

    Shapes (sit,) and (sit, row): rows are the UTC hours that a window touches, in
    order, and where a window has fewer, rows of no minutes at its end. A sit that
    closed hours leave without a minute has `open` False.
    """

    sit: str
    at: Ints  # index into the dates
    sunrise_s: Floats
    sunset_s: Floats
    all_day_part: Bools
    legal_start_s: Ints
    legal_end_s: Ints
    open: Bools
    start_s: Ints
    end_s: Ints
    seated_s: Ints
    row_start_s: Ints
    minutes: Floats
    weight: Floats
    prime_first_min: Floats
    prime_last_min: Floats

    @property
    def deciding(self) -> Bools:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN

    def __len__(self) -> int:
        return len(self.at)

    def take(self, which) -> "SeasonClock":
        """Some of the sits. Args: their places, or a mask."""
        names = {f.name for f in dataclasses.fields(self)} - {"sit"}
        return dataclasses.replace(self, **{name: getattr(self, name)[which] for name in names})


def season_dates(
    ground: Property, first: datetime.date, last: datetime.date, weapon: str | None = None
) -> Dates:
    """The dates between two that lie in a season of the property.

    Args: the ground; first and last local date; a weapon, or None for every season.
    """
    by_day: dict[tuple[int, int], tuple[Season | None, Part | None]] = {}
    kept, seasons, parts, years = [], [], [], []
    for step in range((last - first).days + 1):
        date = first + datetime.timedelta(days=step)
        key = (date.month, date.day)
        if key not in by_day:
            by_day[key] = season_on(ground, date, weapon), part_on(ground, date)
        season, part = by_day[key]
        if season is not None:
            wraps = season.first > season.last and f"{date:%m-%d}" <= season.last
            kept.append(date)
            seasons.append(season)
            parts.append(part)
            years.append(date.year - wraps)
    return dates_of(ground, kept, seasons, parts, years)


def dates_of(
    ground: Property,
    dates: Sequence[datetime.date],
    seasons: Sequence[Season],
    parts: Sequence[Part | None],
    years: Sequence[int],
) -> Dates:
    """Dates with their sun, from what is known of each of them.

    Args: the property; dates, the seasons and parts of each, the years they began.
    """
    days_array = np.array(list(dates), dtype="datetime64[D]")
    days = sun_days(ground.center[1], ground.center[0], ground.timezone, days_array)
    return Dates(days_array, days, tuple(seasons), tuple(parts), np.array(years, np.int64))


def season_clock(ground: Property, dates: Dates, sit: str, at=None) -> SeasonClock:
    """The clocks of one kind of sit.

    Args: the property; its dates; morning or evening; which of the dates, all of
    them by default, repeats allowed. Shape (sit,).
    Raises: NoSun where the sun does not rise or set on one of them.
    """
    at = np.arange(len(dates)) if at is None else np.asarray(at, np.int64)
    whole_start, whole_end, legal_start, legal_end, extra = _windows(ground, dates, sit)
    start, end, seated, is_open = _pieces(ground, dates, whole_start, whole_end)
    rows = _rows(dates, sit, start, end, legal_start, legal_end)
    picked = [values[at] for values in rows]
    return SeasonClock(
        sit=sit, at=at, sunrise_s=dates.days.sunrise_s[at], sunset_s=dates.days.sunset_s[at],
        all_day_part=extra[at], legal_start_s=legal_start[at], legal_end_s=legal_end[at],
        open=is_open[at], start_s=start[at], end_s=end[at], seated_s=seated[at],
        row_start_s=picked[0], minutes=picked[1], weight=picked[2],
        prime_first_min=picked[3], prime_last_min=picked[4],
    )  # fmt: skip


def _windows(ground: Property, dates: Dates, sit: str):
    """Window and legal light of each date: four times, and whether deer walk all day."""
    suns = zip(dates.date.tolist(), dates.days.sunrise_s, dates.days.sunset_s, strict=True)
    legal = [
        legal_light_s(_Sun(date, rise, set_), season)
        for (date, rise, set_), season in zip(suns, dates.seasons, strict=True)
    ]
    legal_start, legal_end = np.array(legal, np.int64).reshape(-1, 2).T
    minute = SECONDS_PER_MINUTE
    all_day = np.array([bool(p and p.all_day) for p in dates.parts], bool)
    if sit == MORNING:
        ends = [local_s(ground.timezone, d, ground.sit.morning_end) for d in dates.date.tolist()]
        end = np.array(ends, np.int64)
        return legal_start, np.maximum(end, legal_start), legal_start, legal_end, all_day
    start = legal_end - round(ground.sit.evening_h * 60) * minute
    return start, legal_end, legal_start, legal_end, all_day


def _pieces(ground: Property, dates: Dates, whole_start: Ints, whole_end: Ints):
    """What closed hours leave of each window, the piece with the greater weight.

    Returns: start, end, seated, and whether any minute is left; shapes (day,).
    """
    settle_s = round(ground.sit.settle_min * SECONDS_PER_MINUTE)
    start, end = whole_start.copy(), whole_end.copy()
    seated = start - settle_s
    is_open = end > start
    for i, season in enumerate(dates.seasons):
        if not season.closed:
            continue
        closed = closed_s(season.closed, ground.timezone, dates.date[i].item())
        pieces = cut((int(whole_start[i]), int(whole_end[i])), closed)
        if pieces:
            weights = [_weight_of(dates, i, piece) for piece in pieces]
            start[i], end[i] = pieces[weights.index(max(weights))]
        is_open[i] = bool(pieces)
        opened = max((b for a, b in closed if a < b <= start[i]), default=0)
        seated[i] = max(start[i] - settle_s, opened)
    end = np.where(is_open, end, start)
    return start, end, seated, is_open


@dataclass(frozen=True, eq=False, slots=True)
class _Sun:
    """The sun's times of a date, or of each of many instants."""

    date: datetime.date | None
    sunrise_s: Any
    sunset_s: Any


def _weight_of(dates: Dates, i: int, piece: tuple[int, int]) -> float:
    middles = np.arange(*piece, SECONDS_PER_MINUTE) + SECONDS_PER_MINUTE / 2
    sun = _Sun(None, dates.days.sunrise_s[i], dates.days.sunset_s[i])
    return round(float(minute_weight(middles, sun).sum()), 6)


def _rows(dates: Dates, sit: str, start: Ints, end: Ints, legal_start: Ints, legal_end: Ints):
    """Rows of each window: starts, minutes, weights, minutes in the prime blocks."""
    first_hour = start // SECONDS_PER_HOUR
    n_rows = max(1, int(((end - 1) // SECONDS_PER_HOUR - first_hour).max(initial=0)) + 1)
    row_start = (first_hour[:, None] + np.arange(n_rows)) * SECONDS_PER_HOUR
    n_minutes = (end - start) // SECONDS_PER_MINUTE
    day = np.repeat(np.arange(len(start)), n_minutes)
    into = np.arange(len(day)) - np.repeat(np.cumsum(n_minutes) - n_minutes, n_minutes)
    minute_s = start[day] + into * SECONDS_PER_MINUTE
    middle_s = minute_s + SECONDS_PER_MINUTE / 2
    key = day * n_rows + minute_s // SECONDS_PER_HOUR - first_hour[day]
    prime = np.array([not (p and p.all_day) for p in dates.parts], bool)[day]
    first = prime & (sit == MORNING) & (middle_s < legal_start[day] + PRIME_MORNING_S)
    last = prime & (sit == EVENING) & (middle_s >= legal_end[day] - PRIME_EVENING_S)
    sun = _Sun(None, dates.days.sunrise_s[day], dates.days.sunset_s[day])

    def summed(weights):
        counted = np.bincount(key, weights=weights, minlength=len(start) * n_rows)
        return counted.reshape(len(start), n_rows).astype(float)

    return (
        row_start,
        summed(None),
        summed(minute_weight(middle_s, sun)),
        summed(first.astype(float)),
        summed(last.astype(float)),
    )
