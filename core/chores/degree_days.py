"""Growing degree days since a trail was cut: a number to compare with one's own last times.

Nobody has published how many regrowth takes until it is sprayed again.
Source: [gdd8650], the mean of the day's highest and lowest held to 50 to 86 degF, over 50.
"""

import datetime
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np

from core.chores.kinds import CUT, SPRAY
from core.chores.last_done import Done
from core.units import f_from_c
from core.weather.hours import Hours

BASE_F, MOST_F = 50.0, 86.0
LEAST_HOURS = 20  # of a day, to know its highest and lowest; common practice, no source
MOST_MISSING_FRAC = 0.05  # of the days, for a sum to be told; common practice, no source
NOT_OF_A_DAY = ("typical", "typed")  # hours that say nothing of one day
MOST_TIMES = 3
DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class DegreeDays:
    """A sum over the days whose temperatures are known, and how many are not. [degF days]

    `gaps`: first and last of the days that are missing, in a row; `kinds`: how many days
    each kind of hours told, such as modelled.
    """

    total: float
    known: int
    missing: int
    gaps: tuple[tuple[datetime.date, datetime.date], ...] = ()
    kinds: tuple[tuple[str, int], ...] = ()

    @property
    def is_told(self) -> bool:
        """Whether so many of the days are known that their sum says something."""
        return bool(self.known) and self.missing <= MOST_MISSING_FRAC * (self.known + self.missing)


@dataclass(frozen=True, slots=True)
class OwnTime:
    """A time that a trail was sprayed after a cut, and the degree days between them."""

    cut: datetime.date
    sprayed: datetime.date
    grown: DegreeDays


def day_degrees(highest_f, lowest_f):
    """Growing degree days of a day. Args: its highest and lowest temperature [degF]; any shape.

    Missing: NaN in, NaN out. Source: [gdd8650]
    """
    high, low = (np.clip(np.asarray(t, float), BASE_F, MOST_F) for t in (highest_f, lowest_f))
    return (high + low) / 2.0 - BASE_F


def degree_days(
    tables: Sequence[Hours], timezone: str, since: datetime.date, until: datetime.date
) -> DegreeDays:
    """The degree days of the days after one and before another.

    Args: hours with temperatures, the best first: a day is taken from the first that has it;
    the ground's zone; both days. Missing: a day of which no table has twenty hours is counted
    as missing, and adds nothing. Hours of a typical year are of no day.
    """
    days = [since + n * DAY for n in range(1, (until - since).days)]
    found: dict[datetime.date, tuple[float, str]] = {}
    for table in tables:
        if len(found) == len(days):
            break
        for day, value in _by_day(table, timezone, since, until).items():
            found.setdefault(day, (value, table.kind))
    return DegreeDays(
        total=sum(value for value, _ in found.values()),
        known=len(found),
        missing=len(days) - len(found),
        gaps=_in_a_row([day for day in days if day not in found]),
        kinds=tuple(sorted(Counter(kind for _, kind in found.values()).items())),
    )


def _in_a_row(days: list[datetime.date]) -> tuple[tuple[datetime.date, datetime.date], ...]:
    """First and last of each run of days."""
    firsts = [d for i, d in enumerate(days) if not i or days[i - 1] != d - DAY]
    lasts = [d for i, d in enumerate(days) if i + 1 == len(days) or days[i + 1] != d + DAY]
    return tuple(zip(firsts, lasts, strict=True))


def _by_day(hours: Hours, timezone: str, since, until) -> dict[datetime.date, float]:
    """Degree days by local day, of the days that one table knows."""
    zone = ZoneInfo(timezone)
    first, last = (
        datetime.datetime.combine(day, datetime.time(), zone).timestamp()
        for day in (since + DAY, until)
    )
    within = (hours.start_s >= first) & (hours.start_s < last) & ~np.isnan(hours.temperature_c)
    if hours.held or hours.kind in NOT_OF_A_DAY or not within.any():
        return {}
    offset = [
        datetime.datetime.fromtimestamp(int(s), zone).toordinal() for s in hours.start_s[within]
    ]
    days, at = np.unique(np.array(offset), return_inverse=True)
    warm = f_from_c(hours.temperature_c[within])
    high, low = np.full(len(days), -np.inf), np.full(len(days), np.inf)
    np.maximum.at(high, at, warm)
    np.minimum.at(low, at, warm)
    whole = np.bincount(at) >= LEAST_HOURS
    grown = day_degrees(high, low)
    return {
        datetime.date.fromordinal(int(day)): float(value)
        for day, value in zip(days[whole], grown[whole], strict=True)
    }


def own_times(
    done: Done, trail: str, today: datetime.date, tables: Sequence[Hours], timezone: str
) -> list[OwnTime]:
    """The last times a trail was sprayed after a cut, the latest first.

    Args: what was done, by `all_done`; the trail's id; the local date; as `degree_days`.
    """
    cuts, sprays = (sorted({d for d, _ in done.get((k, trail), [])}) for k in (CUT, SPRAY))
    found: list[OwnTime] = []
    for sprayed in reversed(sprays):
        before = [cut for cut in cuts if cut < sprayed <= today]
        if before and len(found) < MOST_TIMES:
            grown = degree_days(tables, timezone, before[-1], sprayed)
            found.append(OwnTime(before[-1], sprayed, grown))
    return found
