"""When sits are: legal light, windows, closed hours, seats, and the rows that are judged.

Many sits of one kind at once, as arrays of shape (sit,); one sit is the case of one.
`SitClock` is one of them read out, for whatever tells of a single sit.
"""

import dataclasses
import datetime
import functools
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.errors import BadRequest
from core.ground.layout import Part, Property, Season
from core.sit.dates import Dates, closed_s, cut, dates_on, legal_light_s, local_s
from core.sit.minutes import (
    ALL_DAY,
    EVENING,
    MORNING,
    SHORT_MIN,
    RowsIn,
    WindowRows,
    by_row,
    hours_of,
    row_sums,
)
from core.sky.daylight import Day
from core.units import SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

SITS = (MORNING, EVENING, ALL_DAY)
HALVES = (MORNING, EVENING)
DEFAULT_SEASON = Season(weapon="", first="01-01", last="12-31")
NEVER_S = -(2**62)  # no closed hours end before a window


@dataclass(frozen=True, eq=False)
class SitClock:
    """The hours of one sit. Instants are epoch seconds.

    `start_s` and `end_s` are those of the piece that is judged; both None when
    closed hours leave no minute. Arrays have the shape (row,): rows that touch
    the piece, their minutes inside it, the sum of the weights of those minutes,
    and their minutes inside the first and the last prime block.
    """

    date: datetime.date
    sit: str
    day: Day
    season: Season | None
    part: Part | None
    legal_start_s: int
    legal_end_s: int
    start_s: int | None
    end_s: int | None
    seated_s: int
    not_before_s: int | None  # the end of closed hours before the piece
    left_pieces: tuple[tuple[int, int], ...]
    row_start_s: Ints
    minutes: Floats
    weight: Floats
    prime_first_min: Floats
    prime_last_min: Floats

    @property
    def outside(self) -> bool:
        """Whether the date lies outside every season."""
        return self.season is None

    @property
    def all_day_part(self) -> bool:
        return self.part.all_day if self.part else False

    @property
    def deciding(self) -> Bools:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN


@dataclass(frozen=True, eq=False)
class Clock:
    """The clocks of many sits of one kind; shapes (sit,), those of `rows` (sit, row).

    `at`: which of the dates each is on. `whole_start_s`, `whole_end_s`: the window before
    closed hours; `start_s`, `end_s`: the piece of it that is judged. A sit that closed hours
    leave without a minute has `open` False and a piece of no length. `opened_s`: when closed
    hours before the piece end, `NEVER_S` without.
    """

    ground: Property
    dates: Dates
    sit: str
    at: Ints
    legal_start_s: Ints
    legal_end_s: Ints
    whole_start_s: Ints
    whole_end_s: Ints
    open: Bools
    start_s: Ints
    end_s: Ints
    seated_s: Ints
    opened_s: Ints
    rows: WindowRows

    def __len__(self) -> int:
        return len(self.at)

    @functools.cached_property
    def sunrise_s(self) -> Floats:
        return self.dates.days.sunrise_s[self.at]

    @functools.cached_property
    def noon_s(self) -> Floats:
        return self.dates.days.noon_s[self.at]

    @functools.cached_property
    def sunset_s(self) -> Floats:
        return self.dates.days.sunset_s[self.at]

    @functools.cached_property
    def all_day_part(self) -> Bools:
        """Whether deer walk all day in the part that each sit lies in."""
        return self.dates.of_part(lambda part: bool(part and part.all_day))[self.at]

    @functools.cached_property
    def outside(self) -> Bools:
        """Whether each sit lies outside every season."""
        outside = np.array([season is None for season, _ in self.dates.kinds])
        return outside[self.dates.kind][self.at]

    def rows_of(self, start_s, end_s) -> WindowRows:
        """Rows of the windows with these starts and ends. Args: [epoch s], (sit, row)."""
        window = (self.start_s[:, None], self.end_s[:, None])
        legal = (self.legal_start_s[:, None], self.legal_end_s[:, None])
        more = (_sun_of(self.dates, self.at[:, None]), legal, self.sit, self.all_day_part[:, None])
        sums = row_sums((start_s, end_s), window, *more)
        return WindowRows(*(by_row(values) for values in (start_s, end_s, *sums)))

    def take(self, which) -> "Clock":
        """Some of the sits. Args: their places, or a mask."""
        names = {f.name for f in dataclasses.fields(self)} - {"ground", "dates", "sit", "rows"}
        picked: dict[str, Any] = {name: getattr(self, name)[which] for name in names}
        return dataclasses.replace(self, **picked, rows=self.rows.take(which))

    def one(self, i: int) -> SitClock:
        """One of the sits, read out. Args: its place."""
        day, is_open = int(self.at[i]), bool(self.open[i])
        piece = (int(self.start_s[i]), int(self.end_s[i]))
        closed = _closed_on(self.ground, self.dates, day)
        pieces = cut((int(self.whole_start_s[i]), int(self.whole_end_s[i])), closed)
        opened = int(self.opened_s[i])
        rows, n = self.rows, int(self.rows.inside[i].sum())
        return SitClock(
            date=self.dates.date[day].item(),
            sit=self.sit,
            day=self.dates.day(day),
            season=self.dates.season(day),
            part=self.dates.part(day),
            legal_start_s=int(self.legal_start_s[i]),
            legal_end_s=int(self.legal_end_s[i]),
            start_s=piece[0] if is_open else None,
            end_s=piece[1] if is_open else None,
            seated_s=int(self.seated_s[i]),
            not_before_s=None if opened == NEVER_S else opened,
            left_pieces=tuple(p for p in pieces if p != piece),
            row_start_s=rows.start_s[i, :n],
            minutes=rows.minutes[i, :n],
            weight=rows.weight[i, :n],
            prime_first_min=rows.prime_first_min[i, :n],
            prime_last_min=rows.prime_last_min[i, :n],
        )


def clocks(ground: Property, dates: Dates, sit: str, at=None, origin_s: int = 0) -> Clock:
    """The clocks of one kind of sit.

    Args: the property; its dates; morning, evening or all-day; which of the dates, all of
    them by default, repeats allowed, shape (sit,); an instant at which an hour of the
    weather begins [epoch s].
    Raises: BadRequest for an unknown sit; NoSun where the sun does not rise or set on one
    of the dates.
    """
    if sit not in SITS:
        raise BadRequest(f"'{sit}' is no sit", "the sit", f"Use one of {', '.join(SITS)}.")
    legal = _legal(ground, dates)
    whole = _windows(ground, dates, sit, legal)
    start, end, seated, opened, is_open = _pieces(ground, dates, whole)
    row = hours_of((start, end), origin_s)
    each = np.arange(len(dates))[:, None]
    all_day = dates.of_part(lambda part: bool(part and part.all_day))
    sums = row_sums(
        row,
        (start[each], end[each]),
        _sun_of(dates, each),
        (legal[0][each], legal[1][each]),
        sit,
        all_day[each],
    )
    whole_clock = Clock(
        ground,
        dates,
        sit,
        np.arange(len(dates)),
        *legal,
        *whole,
        is_open,
        start,
        end,
        seated,
        opened,
        WindowRows(*row, *sums),
    )
    return whole_clock.take(slice(None) if at is None else np.asarray(at, np.int64))


def sit_clock(
    ground: Property, date: datetime.date, sit: str, weapon: str | None = None
) -> SitClock:
    """The window of one sit and the rows it touches.

    Args: the property; local date; morning, evening or all-day; a weapon, or None
    for the first season that covers the date.

    Raises: BadRequest for an unknown sit; NoSun without sunrise or sunset.
    """
    return clocks(ground, dates_on(ground, [date], weapon), sit).one(0)


def _legal(ground: Property, dates: Dates) -> tuple[Ints, Ints]:
    """Legal light of each date; outside every season by the offsets of the first."""
    start = np.zeros(len(dates), np.int64)
    end = start.copy()
    usual = ground.seasons[0] if ground.seasons else DEFAULT_SEASON
    for kind, (season, _) in enumerate(dates.kinds):
        at = np.flatnonzero(dates.kind == kind)
        start[at], end[at] = legal_light_s(_sun_of(dates, at), season or usual)
    return start, end


def _windows(ground: Property, dates: Dates, sit: str, legal) -> tuple[Ints, Ints]:
    """The window of each date, before closed hours."""
    start, end = legal
    if sit == MORNING:
        ends = [local_s(ground.timezone, d, ground.sit.morning_end) for d in dates.date.tolist()]
        return start, np.maximum(np.array(ends, np.int64), start)
    if sit == EVENING:
        return end - round(ground.sit.evening_h * 60) * SECONDS_PER_MINUTE, end
    return start, end


def _closed_on(ground: Property, dates: Dates, i: int) -> list[tuple[int, int]]:
    """Closed hours of one of the dates, in order; none outside every season. [epoch s]"""
    season = dates.season(i)
    return closed_s(season.closed if season else (), ground.timezone, dates.date[i].item())


def _pieces(ground: Property, dates: Dates, whole: tuple[Ints, Ints]):
    """What closed hours leave of each window, the piece with the greater weight.

    Returns: start, end, seated, end of the closed hours before, and whether any minute is
    left; shapes (day,).
    """
    settle_s = round(ground.sit.settle_min * SECONDS_PER_MINUTE)
    start, end = whole[0].copy(), whole[1].copy()
    seated = start - settle_s
    opened = np.full(len(dates), NEVER_S)
    is_open = end > start
    some_closed = np.array([bool(season and season.closed) for season, _ in dates.kinds], bool)
    for i in np.flatnonzero(some_closed[dates.kind]):
        closed = _closed_on(ground, dates, int(i))
        pieces = cut((int(whole[0][i]), int(whole[1][i])), closed)
        if pieces:
            weights = [round(float(RowsIn(p, p).weight(_sun_of(dates, i))), 6) for p in pieces]
            start[i], end[i] = pieces[weights.index(max(weights))]
        is_open[i] = bool(pieces)
        opened[i] = max((b for a, b in closed if a < b <= start[i]), default=NEVER_S)
        seated[i] = max(start[i] - settle_s, opened[i])
    return start, np.where(is_open, end, start), seated, opened, is_open


@dataclass(frozen=True, eq=False, slots=True)
class _Sun:
    """The sun's times of a date, or of each of many; shapes as they are taken."""

    date: Any
    sunrise_s: Any
    sunset_s: Any


def _sun_of(dates: Dates, at) -> _Sun:
    """The sun of some dates. Args: the dates; their places, any shape."""
    return _Sun(dates.date[at], dates.days.sunrise_s[at], dates.days.sunset_s[at])
