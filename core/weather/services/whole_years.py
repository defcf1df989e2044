"""Temperatures of whole years of the ground's own place, for what grew since a trail was cut.

From the same archive as its autumns of wind, under the same terms, and only when asked. Each
calendar year is a file of its own, with the days beside it, so that days of any zone are whole.
"""

import datetime
from collections.abc import Callable, Iterator
from pathlib import Path

from core.weather.hours import Hours
from core.weather.services.autumns import (
    CREDIT,
    LATE_DAYS,
    LICENCE,
    Autumn,
    history_folder,
    holds_whole,
    modelled_history,
    read_autumn,
)
from core.weather.services.history_press import Got, fetch_spans
from core.weather.services.kept import LONGEST_KEPT_S, kept_since
from core.weather.services.records import ENDING
from core.weather.services.sources import Place, Services, degrees, host_of, rounded, services
from core.weather.services.station_years import measured_history

NAMED = "year"  # of files: year-2026.json.gz
DAY = datetime.timedelta(days=1)


def years_of(since: datetime.date, today: datetime.date) -> list[Autumn]:
    """The years from a day on, as far as the archive has them; the newest first.

    Args: the day; the date in UTC.
    """
    known_until = today - LATE_DAYS * DAY
    found = []
    for year in range(today.year, since.year - 1, -1):
        first = datetime.date(year, 1, 1) - DAY
        if first < known_until:
            last = min(datetime.date(year + 1, 1, 1), known_until)
            found.append(Autumn(year, first, last))
    return found


def year_file(folder: Path, place: Place, year: int) -> Path:
    """The file of a year. Args: the user's folder; the place; the year."""
    return history_folder(folder, place) / f"{NAMED}-{year}{ENDING}"


def said_before(
    center: tuple[float, float],
    since: datetime.date,
    today: datetime.date,
    at: Services | None = None,
) -> str:
    """What will be sent where, and on which terms. Args: the ground's middle (lon, lat)
    [deg]; the day; the date in UTC; the services."""
    at, place = at or services(), rounded(center)
    named = ", ".join(str(span.year) for span in years_of(since, today))
    return (
        f"Asks {host_of(at.archive_url)} for the hours of {named}, a year at a time. Sent: "
        f"latitude {degrees(place[1])}, longitude {degrees(place[0])} (rounded to 0.01°, about "
        f"half a mile), the dates, and the name “{at.agent}”. {CREDIT} ({LICENCE}). Free for what "
        f"is not commercial. The last {LATE_DAYS} days are not in it yet."
    )


def fetch_years(
    center: tuple[float, float],
    since: datetime.date,
    folder: Path,
    *,
    now_s: float,
    at: Services | None = None,
    wait: Callable[[float], None] | None = None,
) -> Iterator[Got]:
    """Fetches the years that are not kept as far as the archive has them, the newest first.

    Args: the ground's middle (lon, lat) [deg]; the day from which on temperatures are wanted;
    the user's folder; the clock [epoch s]; the services; what waits, for tests.
    Yields, raises: as `fetch_autumns`.
    """
    place = rounded(center)
    today = datetime.datetime.fromtimestamp(now_s, datetime.UTC).date()
    files = {span: year_file(folder, place, span.year) for span in years_of(since, today)}
    return fetch_spans(files, place, now_s, whole=_is_whole, word="year", at=at, wait=wait)


def _is_whole(path: Path, span: Autumn) -> bool:
    """Whether a year is kept to its last day: of a year under way a few days are no small part."""
    kept = read_autumn(path)
    end = datetime.datetime.combine(span.last, datetime.time(12), datetime.UTC).timestamp()
    return kept is not None and bool(kept.start_s[-1] >= end) and holds_whole(path, span)


def whole_years(folder: Path, place: Place) -> list[int]:
    """The years that are kept. Args: the user's folder; the place."""
    found = history_folder(folder, place).glob(f"{NAMED}-*{ENDING}")
    years = (path.name.removeprefix(f"{NAMED}-").removesuffix(ENDING) for path in found)
    return sorted(int(year) for year in years if year.isdecimal())


def kept_days(folder: Path, place: Place, now_s: float) -> list[Hours]:
    """All that is kept here with temperatures, the best first: a station's autumns, whole
    years, modelled autumns, forecasts; asks nobody.

    Args: the user's folder; the place; the clock [epoch s].
    """
    years = (year_file(folder, place, year) for year in whole_years(folder, place))
    kept = [
        measured_history(folder, place),
        *(read_autumn(path) for path in years),
        modelled_history(folder, place),
    ]
    forecasts = kept_since(folder, place, now_s - LONGEST_KEPT_S)
    return [*(hours for hours in kept if hours is not None), *forecasts]
