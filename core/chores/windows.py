"""The windows of the year in which chores are done, and which of them comes next.

A window belongs to a year: the one in which it opens, or that of its opener. Days of the year
that the owner has not set are common practice in the north (no source), moved by half a year
in the south.
"""

import calendar
import datetime
from collections.abc import Callable
from dataclasses import dataclass

from core.ground.layout import Property
from core.ground.yearly.work_rules import Window
from core.sit.dates import covers

Span = tuple[datetime.date, datetime.date]  # opens, due; both belong to it
Windows = Callable[[int], Span]  # the window that opens in a year

WINTER, SUMMER, RECORDS = ("01-01", "03-31"), ("06-01", "07-31"), ("02-01", "02-28")
LEAF_OUT, SAW_RESTS_FROM, BEFORE_SEASON = "06-01", "09-01", ("07-25", "08-24")
LONGEST_SEASON_DAYS = 240  # a season that begins later is the next one's
PERMIT_DAYS, PERMIT_BY_DAYS = 60, 14  # before the opener
DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Turn:
    """A window of a chore, and whether the ones before it went by without it."""

    opens: datetime.date
    due: datetime.date
    missed: bool


def day_of(month_day: str, year: int) -> datetime.date:
    """A day of the year in one; 29 February is the 28th in other years. Args: MM-DD; the year."""
    month, day = int(month_day[:2]), int(month_day[3:])
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return datetime.date(year, month, 28)


def half_a_year_on(month_day: str) -> str:
    """The same day six months later, or the last of that month. Args: MM-DD. Returns: MM-DD."""
    month = (int(month_day[:2]) + 5) % 12 + 1
    last = calendar.monthrange(2001, month)[1]
    return f"{month:02d}-{min(int(month_day[3:]), last):02d}"


def here(ground: Property, month_day: str) -> str:
    """A day that is common in the north, as this ground has it. Args: the ground; MM-DD."""
    return month_day if ground.center[1] >= 0 else half_a_year_on(month_day)


def window_here(ground: Property, named: Window | None, common: Window) -> Windows:
    """A window of days of the year. Args: the ground; the owner's, or None; the common one."""
    first, last = named or (here(ground, common[0]), here(ground, common[1]))

    def in_year(year: int) -> Span:
        opens = day_of(first, year)
        return opens, day_of(last, year + (last < first))

    return in_year


def opener(ground: Property) -> str | None:
    """First day of the season: the one before which there is none for longest. MM-DD.

    Missing: None without seasons, and where one season covers the whole year.
    """
    quiet = {s.first: _days_without(ground, s.first) for s in ground.seasons}
    first = max(quiet, key=lambda day: (quiet[day], day), default=None)
    return first if first is not None and quiet[first] else None


def _days_without(ground: Property, month_day: str) -> int:
    day = day_of(month_day, 2001) - DAY
    for n in range(366):
        if any(covers(s.first, s.last, day) for s in ground.seasons):
            return n
        day -= DAY
    return 366


def season_end(ground: Property, opens: datetime.date) -> datetime.date:
    """The last day of the season that opens on a day, with those that begin within it.

    Args: the ground; its opener in a year.
    """
    ends = [opens]
    for season in ground.seasons:
        for year in (opens.year, opens.year + 1):
            first = day_of(season.first, year)
            if opens <= first <= opens + LONGEST_SEASON_DAYS * DAY:
                ends.append(day_of(season.last, year + (season.last < season.first)))
    return max(ends)


def before_opener(ground: Property, opens_days: int, due_days: int) -> Windows:
    """A window some days before the season; without one, the weeks before a common opener.

    Args: the ground; how long before the opener it opens and is due. [days]
    """
    first = opener(ground)
    if first is None:
        return window_here(ground, None, BEFORE_SEASON)

    def in_year(year: int) -> Span:
        at = day_of(first, year)
        return at - opens_days * DAY, at - due_days * DAY

    return in_year


def after_leaf_out(ground: Property) -> Windows:
    """When regrowth is sprayed: some days after it has its leaves. Args: the ground."""
    work = ground.work
    leaf_out = work.leaf_out or here(ground, LEAF_OUT)

    def in_year(year: int) -> Span:
        leafed = day_of(leaf_out, year)
        return leafed + work.spray_after_days * DAY, leafed + work.spray_by_days * DAY

    return in_year


def _early(windows: Windows, year: int) -> datetime.date:
    """From when on work is early for a year's window, and no longer late for the last's."""
    opens, due_before = windows(year)[0], windows(year - 1)[1]
    return opens - max(0, (opens - due_before).days) // 2 * DAY


def cycle_of(windows: Windows, day: datetime.date) -> int:
    """The year whose window work of a day counts for: in it, early for it, or late."""
    years = range(day.year - 2, day.year + 3)
    return max(year for year in years if _early(windows, year) <= day)


def turn(
    windows: Windows, last: datetime.date | None, every_years: int, today: datetime.date
) -> Turn:
    """The window that a chore is in, or that comes next.

    Args: its windows; when it was last done, None where nobody knows; in how many years it
    is done once; the day that is asked about. Returns: the turn. A window that went by is
    kept until the next one opens.
    """
    if last is None:
        years = range(today.year - 2, today.year + 3)
        year = min(y for y in years if windows(y)[1] >= today)
        return Turn(*windows(year), False)
    owed = cycle_of(windows, last) + every_years
    year = owed
    while windows(year + 1)[0] <= today:
        year += 1
    return Turn(*windows(year), year > owed or windows(year)[1] < today)


def saw_rest(ground: Property, today: datetime.date) -> Span | None:
    """The days on which no saw runs in or beside a bed, around a day or the next ones.

    Returns: first and last day. Missing: None where the owner has set the rule aside, or
    the ground has no season with a first day.
    """
    first = opener(ground)
    if not ground.work.saw_rests or first is None:
        return None
    begins = ground.work.saw_rests_from or here(ground, SAW_RESTS_FROM)
    spans = []
    for year in range(today.year - 2, today.year + 3):
        opens = day_of(first, year)
        # the one nearest to the opener, whether before or after it
        from_day = min(
            (day_of(begins, y) for y in (year - 1, year, year + 1)), key=lambda d: abs(d - opens)
        )
        if from_day <= season_end(ground, opens):
            spans.append((from_day, season_end(ground, opens)))
    return min((span for span in spans if span[1] >= today), default=None)
