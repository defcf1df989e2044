"""The autumns of a ground: which there are, how they are kept, and what they hold together.

Each is one packed file that holds the archive's own answer, read by the same reader. It is
kept for ever, and never replaced by one that holds less.
"""

import dataclasses
import datetime
import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from core.ground.layout import Season
from core.weather.files.history import read_history
from core.weather.hours import MISSING, Hours
from core.weather.services.records import (
    BROKEN,
    ENDING,
    keep_record,
    kept_record,
    place_folder,
)
from core.weather.services.sources import Place

FOLDER, MARK = "history", "stand-and-wind autumn"
MODEL = "era5"  # always: a mixture of models would let the years not compare
FIRST_YEAR = 1940  # ERA5's first
LATE_DAYS = 6  # it comes five days late
USUAL = ("09-15", "01-31")  # without a season in the property
WHOLE = 0.98
AT_MOST = (
    "at most: modelled wind over open ground in a 17-mile cell, not measured, has too few still "
    "mornings"
)
CREDIT = "Weather data by Open-Meteo.com"
CREDIT_LINK = "https://open-meteo.com/"
LICENCE = "CC BY 4.0; contains modified Copernicus Climate Change Service information"


@dataclasses.dataclass(frozen=True, slots=True)
class Autumn:
    """The days of one hunting year; `year` is that in which it begins."""

    year: int
    first: datetime.date
    last: datetime.date

    @property
    def n_hours(self) -> int:
        return ((self.last - self.first).days + 1) * 24


def autumn_of(seasons: Sequence[Season], year: int) -> Autumn:
    """The days from the first season's begin to the last one's end, a day more at each end.

    Args: the property's seasons; the year. A season that ends before it begins ends in the
    next year.
    """
    spans = [(season.first, season.last) for season in seasons] or [USUAL]
    day = datetime.timedelta(days=1)
    first = min(_date(year, begins) for begins, _ in spans)
    last = max(_date(year + (ends < begins), ends) for begins, ends in spans)
    return Autumn(year, first - day, last + day)


def _date(year: int, month_day: str) -> datetime.date:
    month, day = (int(part) for part in month_day.split("-"))
    if (month, day) == (2, 29):
        day = 28
    return datetime.date(year, month, day)


def autumns(seasons: Sequence[Season], years: int, today: datetime.date) -> list[Autumn]:
    """The last autumns, the newest first; that under way ends where the archive does.

    Args: the property's seasons; how many; the date in UTC.
    """
    known_until = today - datetime.timedelta(days=LATE_DAYS)
    found: list[Autumn] = []
    for year in range(today.year, FIRST_YEAR - 1, -1):
        one = autumn_of(seasons, year)
        if one.first < known_until and len(found) < years:
            found.append(dataclasses.replace(one, last=min(one.last, known_until)))
    return found


def history_folder(folder: Path, place: Place) -> Path:
    """Where the history of a place lies: that of one close by, where there is one.

    Args: the user's folder; (lon, lat), rounded [deg]. A property whose middle moves a
    little keeps its history.
    """
    return place_folder(folder / FOLDER, place)


def autumn_file(folder: Path, place: Place, year: int) -> Path:
    """The file of an autumn. Args: the user's folder; the place; the year."""
    return history_folder(folder, place) / f"{MODEL}-{year}{ENDING}"


def keep_span(path: Path, autumn: Autumn, body: bytes, now_s: float) -> bool:
    """Keeps an answer of the archive, unless what is kept holds as much or more.

    Args: the file; the days; the answer, which was read once; the clock [epoch s]. Returns:
    whether it was kept. Raises: OSError; OnlyLooking.
    """
    if known_hours(read_autumn(path)) >= known_hours(hours_of(body, path.name)):
        return False
    record = {
        "model": MODEL,
        "first": autumn.first.isoformat(),
        "last": autumn.last.isoformat(),
        "fetched_s": int(now_s),
        "body": json.loads(body),
    }
    keep_record(path, record, MARK)
    return True


def read_autumn(path: Path) -> Hours | None:
    """The hours of a kept autumn; None where it is not there or can't be read."""
    body = _body(path)
    return None if body is None else hours_of(body, path.name)


def _body(path: Path) -> bytes | None:
    try:
        body = json.dumps(kept_record(path, MARK)["body"]).encode()
        hours_of(body, path.name)
    except BROKEN:
        return None
    return body


def hours_of(body: bytes, name: str) -> Hours:
    """The hours of an answer of the archive. Args: it; a name for messages.

    Raises: BadWeather, or KeyError, TypeError, ValueError, for one that is broken.
    """
    return read_history([(body, name)])


def known_hours(hours: Hours | None) -> int:
    """How many hours have a wind. Args: the hours, or None."""
    return 0 if hours is None else int((hours.state != MISSING).sum())


def holds_whole(path: Path, autumn: Autumn) -> bool:
    """Whether a file holds 98 % of the hours of some days. Args: the file; the days."""
    kept = read_autumn(path)
    if kept is None:
        return False
    start_s = datetime.datetime.combine(autumn.first, datetime.time(), datetime.UTC).timestamp()
    inside = (kept.start_s >= start_s) & (kept.start_s < start_s + autumn.n_hours * 3600)
    return int((inside & (kept.state != MISSING)).sum()) >= WHOLE * autumn.n_hours


def kept_years(folder: Path, place: Place) -> list[int]:
    """The years of which an autumn is kept. Args: as `autumn_file`."""
    found = history_folder(folder, place).glob(f"{MODEL}-*{ENDING}")
    years = (path.name.removeprefix(f"{MODEL}-").removesuffix(ENDING) for path in found)
    return sorted(int(year) for year in years if year.isdecimal())


def modelled_history(folder: Path, place: Place) -> Hours | None:
    """All autumns of a ground that are kept, as one table of modelled wind; asks nobody.

    Args: the user's folder; the place. Returns: None where none is kept. Its gust is left
    out: the archive's is of one moment of the hour, not the strongest. The notes say what
    such wind is, and where it is from.
    """
    files = [(autumn_file(folder, place, year), year) for year in kept_years(folder, place)]
    found = [(body, path.name, year) for path, year in files if (body := _body(path)) is not None]
    if not found:
        return None
    hours = read_history([(body, name) for body, name, _ in found])
    first, last = found[0][2], found[-1][2]
    return dataclasses.replace(
        hours,
        source=f"modelled wind (ERA5) of this ground, {len(found)} autumns, {first} to {last}",
        gust_mps=np.full(len(hours), np.nan),
        # what a reader notes of files is so by nature here: summers, and a cell without a name
        notes=(AT_MOST, f"{CREDIT} ({CREDIT_LINK}; {LICENCE})"),
    )
