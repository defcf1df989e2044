"""When a sit is: season, legal light, window, prime block, weights, closed hours."""

import datetime
import math
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from core.errors import BadRequest, NoSun
from core.ground.layout import Closed, Part, Property, Season
from core.sky.daylight import Day, sun_day
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Floats = npt.NDArray[np.float64]

MORNING, EVENING, ALL_DAY = "morning", "evening", "all-day"
SITS = (MORNING, EVENING, ALL_DAY)
HALVES = (MORNING, EVENING)
PRIME_MORNING_S, PRIME_EVENING_S = 7200, 5400
EDGE_OF_DAY_S, LAST_LIGHT_S = 5400, 1800  # minutes this near sunrise or sunset count more
SHORT_MIN = 15
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
DEFAULT_SEASON = Season(weapon="", first="01-01", last="12-31")


@dataclass(frozen=True, eq=False)
class SitClock:
    """The hours of one sit. Instants are epoch seconds; rows are UTC hours.

    `start_s` and `end_s` are those of the piece that is judged; both None when
    closed hours leave no minute. Arrays have the shape (row,): rows that touch
    the piece, their minutes inside it, the sum of the weights of those minutes,
    and their minutes inside the first and the last prime block.
    """

    date: datetime.date
    sit: str
    day: Day
    season: Season | None
    outside: bool
    part: Part | None
    legal_start_s: int
    legal_end_s: int
    start_s: int | None
    end_s: int | None
    seated_s: int
    not_before_s: int | None  # the end of closed hours before the piece
    left_pieces: tuple[tuple[int, int], ...]
    row_start_s: npt.NDArray[np.int64]
    minutes: Floats
    weight: Floats
    prime_first_min: Floats
    prime_last_min: Floats

    @property
    def all_day_part(self) -> bool:
        return self.part.all_day if self.part else False

    @property
    def deciding(self) -> npt.NDArray[np.bool_]:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN


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


def part_on(ground: Property, date: datetime.date) -> Part | None:
    """The first part of the season that covers a date."""
    return next((p for p in ground.parts if covers(p.first, p.last, date)), None)


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


def sit_clock(
    ground: Property, date: datetime.date, sit: str, weapon: str | None = None
) -> SitClock:
    """The window of a sit and the rows it touches.

    Args: the property; local date; morning, evening or all-day; a weapon, or None
    for the first season that covers the date.

    Raises: BadRequest for an unknown sit; NoSun without sunrise or sunset.
    """
    if sit not in SITS:
        raise BadRequest(f"'{sit}' is no sit", "the sit", f"Use one of {', '.join(SITS)}.")
    day = sun_day(ground.center[1], ground.center[0], ground.timezone, date)
    season = season_on(ground, date, weapon)
    rule = season or (ground.seasons[0] if ground.seasons else DEFAULT_SEASON)
    start_s, end_s = legal_light_s(day, rule)
    legal = (int(start_s), int(end_s))
    whole = _window(ground, date, sit, legal)
    closed = closed_s(season.closed if season else (), ground.timezone, date)
    pieces = cut(whole, closed)
    part = part_on(ground, date)
    judged = [_rows(day, sit, piece, legal, part) for piece in pieces]
    best = max(range(len(pieces)), key=lambda i: (round(judged[i][2].sum(), 6), -i), default=None)
    start, end = (None, None) if best is None else pieces[best]
    rows = _rows(day, sit, (0, 0), legal, part) if best is None else judged[best]
    first = whole[0] if start is None else start
    opened = max((b for a, b in closed if a < b <= first), default=None)
    seated = first - round(ground.sit.settle_min * SECONDS_PER_MINUTE)
    return SitClock(
        date=date,
        sit=sit,
        day=day,
        season=season,
        outside=season is None,
        part=part,
        legal_start_s=legal[0],
        legal_end_s=legal[1],
        start_s=start,
        end_s=end,
        seated_s=seated if opened is None else max(seated, opened),
        not_before_s=opened,
        left_pieces=tuple(p for i, p in enumerate(pieces) if i != best),
        row_start_s=rows[0],
        minutes=rows[1],
        weight=rows[2],
        prime_first_min=rows[3],
        prime_last_min=rows[4],
    )


def _window(ground: Property, date, sit: str, legal: tuple[int, int]) -> tuple[int, int]:
    if sit == MORNING:
        return legal[0], local_s(ground.timezone, date, ground.sit.morning_end)
    if sit == EVENING:
        return legal[1] - round(ground.sit.evening_h * 60) * SECONDS_PER_MINUTE, legal[1]
    return legal


def closed_s(closed: tuple[Closed, ...], timezone: str, date) -> list[tuple[int, int]]:
    """Closed hours of a local date, in order. [epoch s]"""
    today = WEEKDAYS[date.weekday()]
    return sorted(
        (local_s(timezone, date, c.from_time), local_s(timezone, date, c.to_time))
        for c in closed
        if today in c.days
    )


def closed_on(season: Season, date: datetime.date) -> bool:
    """Whether a season closes any hours of a date. Args: the season; the date."""
    return any(WEEKDAYS[date.weekday()] in c.days for c in season.closed)


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


def minutes_in(row, window, from_s=-math.inf, until_s=math.inf):
    """Minutes of a window in a row that have their middle between two instants. Elementwise.

    Args: start and end of the row, and of the window, whole minutes; the instants,
    all times by default. [epoch s]
    """
    start_s, end_s = window
    n_minutes = (end_s - start_s) // SECONDS_PER_MINUTE

    def before(time_s):
        return np.clip(np.ceil((time_s - start_s) / SECONDS_PER_MINUTE - 0.5), 0, n_minutes)

    first = np.maximum(before(row[0]), before(from_s))
    return np.maximum(np.minimum(before(row[1]), before(until_s)) - first, 0.0)


def weight_in(row, window, day):
    """Sum of what the minutes of a window in a row count. Elementwise.

    A minute counts 1, within 90 minutes of the day's edge 1.5, in the last half
    hour 2. Args: as `minutes_in`; day, anything with sunrise and sunset [epoch s].
    Source: common practice; crepuscular movement is supported, see [webb2010].
    """
    minutes = minutes_in(row, window)
    early = minutes_in(row, window, until_s=day.sunrise_s + EDGE_OF_DAY_S)
    late = minutes_in(row, window, from_s=day.sunset_s - EDGE_OF_DAY_S)
    last = minutes_in(row, window, from_s=day.sunset_s - LAST_LIGHT_S)
    return minutes + 0.5 * np.minimum(minutes, early + late) + 0.5 * last


def row_sums(starts_s, window, day, legal_s, sit: str, no_prime):
    """Of hours: minutes of a window in them, their weight, and those in the prime blocks.

    Args (elementwise): starts of the hours; the window; the sun; start and end of legal
    light; the kind of sit; whether the day has no prime block. [epoch s]
    """
    row = (starts_s, starts_s + SECONDS_PER_HOUR)
    first = minutes_in(row, window, until_s=legal_s[0] + PRIME_MORNING_S)
    last = minutes_in(row, window, from_s=legal_s[1] - PRIME_EVENING_S)
    return (
        minutes_in(row, window),
        weight_in(row, window, day),
        np.where(no_prime, 0.0, first) * (sit != EVENING),
        np.where(no_prime, 0.0, last) * (sit != MORNING),
    )


def _rows(day: Day, sit: str, piece: tuple[int, int], legal: tuple[int, int], part: Part | None):
    """Rows of a piece: starts, minutes inside, weights, minutes in the prime blocks."""
    first, past = piece[0] // SECONDS_PER_HOUR, -(-piece[1] // SECONDS_PER_HOUR)
    starts_s = np.arange(first, past, dtype=np.int64) * SECONDS_PER_HOUR
    return starts_s, *row_sums(starts_s, piece, day, legal, sit, bool(part and part.all_day))
