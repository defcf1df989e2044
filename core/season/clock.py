"""When the sits of many days are: the clocks of all mornings, or all evenings, at once.

The same windows, seats, weights and prime blocks as `core.sit.clock`, as arrays.
"""

import dataclasses
import datetime
import functools
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import Part, Property, Season
from core.sit.clock import (
    MORNING,
    SHORT_MIN,
    closed_s,
    covers,
    cut,
    legal_light_s,
    local_s,
    part_on,
    row_sums,
    season_on,
    weight_in,
)
from core.sky.daylight import Days, sun_days
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


Kind = tuple[Season, Part | None]


@dataclass(frozen=True, eq=False)
class Dates:
    """Local dates of a season with their sun; arrays of shape (day,).

    `kinds` are the season and the part that dates lie in, `kind` which of them.
    """

    date: npt.NDArray[np.datetime64]
    days: Days
    kinds: tuple[Kind, ...]
    kind: Ints
    year: Ints  # in which the season of the date began
    kept: dict[str, Any] = field(default_factory=dict)  # what was worked out of them

    def __len__(self) -> int:
        return len(self.date)

    def season(self, i: int) -> Season:
        """The season of a date. Args: its place."""
        return self.kinds[self.kind[i]][0]

    def of_part(self, ask: Callable[[Part | None], Any]):
        """What is said of the part that each date lies in; shape (day,). Args: who says it."""
        return np.array([ask(part) for _, part in self.kinds])[self.kind]


@dataclass(frozen=True, eq=False)
class SeasonClock:
    """The clocks of one kind of sit on many days; what `judge_sit` needs of a clock.

    Shapes (sit,) and (sit, row), the rows kept one behind another: the UTC hours that a
    window touches, in order, and where a window has fewer, rows of no minutes at its
    end. A sit that closed hours leave without a minute has `open` False.
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

    @functools.cached_property
    def deciding(self) -> Bools:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN

    @functools.cached_property
    def inside(self) -> Bools:
        """Rows with any minute inside."""
        return self.minutes > 0

    @functools.cached_property
    def prime(self) -> Bools:
        """Deciding rows that touch a prime block."""
        return (self.prime_first_min + self.prime_last_min > 0) & self.deciding

    def __len__(self) -> int:
        return len(self.at)

    def take(self, which) -> "SeasonClock":
        """Some of the sits. Args: their places, or a mask."""
        names = {f.name for f in dataclasses.fields(self)} - {"sit"}
        return dataclasses.replace(self, **{n: _some(getattr(self, n), which) for n in names})


def _some(values, which):
    """Some sits of an array (sit,) or (sit, row), laid out so that sums over rows are quick."""
    return np.asfortranarray(values[which])


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
    month = date.astype("datetime64[M]")
    key = month.astype(np.int64) % 12 * 31 + (date - month).astype(np.int64)
    _, an_example, of_day = np.unique(key, return_index=True, return_inverse=True)
    kinds: list[Kind] = []
    kind, began = [], []
    for day in date[an_example].tolist():
        season = season_on(ground, day, weapon)
        if season is None or not (span is None or covers(*span, day)):
            kind.append(-1)
            began.append(0)
            continue
        found = (season, part_on(ground, day))
        if found not in kinds:
            kinds.append(found)
        kind.append(kinds.index(found))
        began.append(season.first > season.last and f"{day:%m-%d}" <= season.last)
    inside = np.array(kind)[of_day] >= 0
    kept, of_day = date[inside], of_day[inside]
    return Dates(
        kept,
        sun_days(ground.center[1], ground.center[0], ground.timezone, kept),
        tuple(kinds),
        np.array(kind)[of_day],
        kept.astype("datetime64[Y]").astype(np.int64) + 1970 - np.array(began, int)[of_day],
    )


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
    picked = [_some(values, at) for values in rows]
    return SeasonClock(
        sit=sit,
        at=at,
        sunrise_s=dates.days.sunrise_s[at],
        sunset_s=dates.days.sunset_s[at],
        all_day_part=extra[at],
        legal_start_s=legal_start[at],
        legal_end_s=legal_end[at],
        open=is_open[at],
        start_s=start[at],
        end_s=end[at],
        seated_s=seated[at],
        row_start_s=picked[0],
        minutes=picked[1],
        weight=picked[2],
        prime_first_min=picked[3],
        prime_last_min=picked[4],
    )


def _windows(ground: Property, dates: Dates, sit: str):
    """Window and legal light of each date, and whether deer walk all day."""
    legal_start = np.zeros(len(dates), np.int64)
    legal_end = legal_start.copy()
    for kind, (season, _) in enumerate(dates.kinds):
        at = np.flatnonzero(dates.kind == kind)
        legal_start[at], legal_end[at] = legal_light_s(_sun_of(dates, at), season)
    all_day = dates.of_part(lambda part: bool(part and part.all_day))
    if sit == MORNING:
        ends = [local_s(ground.timezone, d, ground.sit.morning_end) for d in dates.date.tolist()]
        end = np.array(ends, np.int64)
        return legal_start, np.maximum(end, legal_start), legal_start, legal_end, all_day
    start = legal_end - round(ground.sit.evening_h * 60) * SECONDS_PER_MINUTE
    return start, legal_end, legal_start, legal_end, all_day


def _pieces(ground: Property, dates: Dates, whole_start: Ints, whole_end: Ints):
    """What closed hours leave of each window, the piece with the greater weight.

    Returns: start, end, seated, and whether any minute is left; shapes (day,).
    """
    settle_s = round(ground.sit.settle_min * SECONDS_PER_MINUTE)
    start, end = whole_start.copy(), whole_end.copy()
    seated = start - settle_s
    is_open = end > start
    some_closed = np.array([bool(season.closed) for season, _ in dates.kinds])[dates.kind]
    for i in np.flatnonzero(some_closed):
        closed = closed_s(dates.season(int(i)).closed, ground.timezone, dates.date[i].item())
        pieces = cut((int(whole_start[i]), int(whole_end[i])), closed)
        if pieces:
            weights = [round(float(weight_in(p, p, _sun_of(dates, i))), 6) for p in pieces]
            start[i], end[i] = pieces[weights.index(max(weights))]
        is_open[i] = bool(pieces)
        opened = max((b for a, b in closed if a < b <= start[i]), default=0)
        seated[i] = max(start[i] - settle_s, opened)
    end = np.where(is_open, end, start)
    return start, end, seated, is_open


@dataclass(frozen=True, eq=False, slots=True)
class _Sun:
    """The sun's times of a date, or of each of many; shapes as they are taken."""

    date: Any
    sunrise_s: Any
    sunset_s: Any


def _sun_of(dates: Dates, at) -> _Sun:
    """The sun of some dates. Args: the dates; their places, any shape."""
    return _Sun(dates.date[at], dates.days.sunrise_s[at], dates.days.sunset_s[at])


def _rows(dates: Dates, sit: str, start: Ints, end: Ints, legal_start: Ints, legal_end: Ints):
    """Rows of each window: starts, minutes, weights, minutes in the prime blocks."""
    first_hour = start // SECONDS_PER_HOUR
    n_rows = max(1, int(((end - 1) // SECONDS_PER_HOUR - first_hour).max(initial=0)) + 1)
    row_start = (first_hour[:, None] + np.arange(n_rows)) * SECONDS_PER_HOUR
    no_prime = dates.of_part(lambda part: bool(part and part.all_day))
    day = np.arange(len(dates))[:, None]
    window, legal = (start[day], end[day]), (legal_start[day], legal_end[day])
    return row_start, *row_sums(row_start, window, _sun_of(dates, day), legal, sit, no_prime[day])
