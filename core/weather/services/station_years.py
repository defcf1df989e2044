"""Measured wind for a ground: the nearest stations with hourly reports, and their years.

From the public list and the ISD-Lite files of the United States' National Centers for
Environmental Information, in the public domain. A year is kept as it came, and never
replaced by one that holds less.
"""

import contextlib
import csv
import dataclasses
import datetime
import io
import math
import re
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from core.errors import BadRequest, BadWeather, NoForecast, StandWindError
from core.ground.atomic import make_folder, write_atomic
from core.ground.layout import Season
from core.units import M_PER_FT
from core.weather.elsewhere import apart_miles
from core.weather.files.history import read_history
from core.weather.hours import Hours
from core.weather.services.autumns import autumns, history_folder, known_hours
from core.weather.services.history_press import Got
from core.weather.services.service import Check, Odd, open_line
from core.weather.services.sources import Place, Services, host_of, rounded, services

LIST = "/pub/data/noaa/isd-history.csv"
NEEDED = ("USAF", "WBAN", "STATION NAME", "LAT", "LON", "ELEV(M)", "BEGIN", "END")
OFFERED = 5
ENDED_DAYS = 366  # a station whose reports ended longer ago is not offered
NEAR_MILES = 30.0  # common practice, no source: nearer ones come first
NOT_THERE = 404
KEPT = re.compile(r"([0-9A-Z]{6}-\d{5})-(\d{4})\.gz")


@dataclasses.dataclass(frozen=True, slots=True)
class Offered:
    """A station near a ground; `height_ft` is NaN where the list does not tell it."""

    id: str  # USAF-WBAN, as its files are named
    name: str
    miles: float
    height_ft: float
    first_year: int
    last_year: int


def station_line(station: Offered, ground_m: float | None = None) -> str:
    """A station in a line. Args: it; the height of the ground above the sea [m], if known."""
    height = "" if math.isnan(station.height_ft) else f", at {station.height_ft:,.0f} ft"
    if height and ground_m is not None:
        over_ft = station.height_ft - ground_m / M_PER_FT
        height = f", {abs(over_ft):,.0f} ft {'higher' if over_ft > 0 else 'lower'} than the ground"
    near = "" if station.miles <= NEAR_MILES else ": far for a ground among hills"
    return (
        f"{station.id}  {station.name}, {station.miles:.0f} miles off{height}, "
        f"{station.first_year} to {station.last_year}{near}"
    )


def said_before(station: str, at: Services | None = None) -> str:
    """What will be sent where; to be read before the first request. Args: the station's id."""
    at = at or services()
    return (
        f"Asks {host_of(at.ncei_url)} for the years of station {station}, one at a time. Sent: "
        f"the station's id, the years, and the name “{at.agent}”; nothing of your ground. In "
        "the public domain. What came is kept for good and needs no signal."
    )


def nearest_stations(
    center: tuple[float, float], *, now_s: float, at: Services | None = None
) -> list[Offered]:
    """The five nearest stations that still report; one request, which tells no place.

    Args: the ground's middle (lon, lat) [deg]; the clock [epoch s]; the services.
    Raises: NoForecast where the list can't be had.
    """
    at, today = at or services(), datetime.datetime.fromtimestamp(now_s, datetime.UTC).date()
    body = _get(f"{at.ncei_url}{LIST}", _is_list, at)
    found = [_offered(row, center, today) for row in _rows(body)]
    return sorted((one for one in found if one), key=lambda one: one.miles)[:OFFERED]


def fetch_station(
    seasons: Sequence[Season],
    center: tuple[float, float],
    years: int,
    station: str,
    folder: Path,
    *,
    now_s: float,
    at: Services | None = None,
    wait: Callable[[float], None] | None = None,
) -> Iterator[Got]:
    """Fetches the years of a station that the last autumns lie in and that are not kept.

    Args: as `fetch_autumns`, and the station's id.
    Yields: after each year. Raises: BadRequest for another id; NoForecast; OSError;
    OnlyLooking.
    """
    if not KEPT.fullmatch(f"{station}-2000.gz"):
        raise BadRequest(
            f"'{station[:40]}' is no station",
            "--stations",
            "Take an id of the list, such as 723170-13723.",
        )
    at, place, wait = at or services(), rounded(center), wait or time.sleep
    today = datetime.datetime.fromtimestamp(now_s, datetime.UTC).date()
    wanted = autumns(seasons, years, today)
    calendar = sorted({y for a in wanted for y in (a.first.year, a.last.year)}, reverse=True)
    home = history_folder(folder, place)
    missing = [y for y in calendar if not _is_kept(home / f"{station}-{y}.gz", y, today)]
    done = len(calendar) - len(missing)
    for number, year in enumerate(missing):
        if number:
            wait(at.between_years_s)
        told = f"{year}, "
        try:
            body = _get(
                f"{at.ncei_url}/pub/data/noaa/isd-lite/{year}/{station}-{year}.gz",
                _is_year(station, year),
                at,
            )
        except NoForecast as fault:
            if f"error {NOT_THERE}" not in fault.what:
                kept = f"{done} of {len(calendar)} years are kept, and it goes on from there."
                raise NoForecast(fault.what, fault.where, f"{fault.fix} {kept}") from fault
            # the list is being replaced by another; a year that is not there is no fault
            told += "which this list does not have: "
        else:
            _keep(home / f"{station}-{year}.gz", body)
            done += 1
        yield Got(year, done, len(calendar), f"{told}{done} of {len(calendar)}")


def measured_history(folder: Path, place: Place) -> Hours | None:
    """The kept years of the station that most are kept of; asks nobody.

    Args: the user's folder; (lon, lat), rounded [deg]. Returns: None where none is kept.
    """
    by_station: dict[str, list[Path]] = {}
    for path in sorted(history_folder(folder, place).glob("*.gz")):
        if found := KEPT.fullmatch(path.name):
            by_station.setdefault(found[1], []).append(path)
    if not by_station:
        return None
    station = max(by_station, key=lambda one: len(by_station[one]))
    sound = [(path, path.name) for path in by_station[station] if _sound(path)]
    if not sound:
        return None
    hours = read_history(sound)
    told = hours.source.replace(station.replace("-", ""), f"station {station}")
    return dataclasses.replace(hours, source=told)


def _sound(path: Path) -> bool:
    with contextlib.suppress(StandWindError, OSError, ValueError):
        return len(read_history([(path, path.name)])) > 0
    return False


def _is_kept(path: Path, year: int, today: datetime.date) -> bool:
    """Whether a year need not be asked for again: it is there, and was over long ago."""
    return path.exists() and _sound(path) and year < today.year - 1


def _keep(path: Path, body: bytes) -> None:
    """Keeps a year, unless what is kept holds more. Raises: OSError; OnlyLooking."""
    new = known_hours(read_history([(body, path.name)]))
    kept = read_history([(path, path.name)]) if path.exists() and _sound(path) else None
    if known_hours(kept) > new:
        return
    make_folder(path.parent)
    write_atomic(path, body)


def _get(url: str, check: Check, at: Services) -> bytes:
    try:
        with open_line(None, at, time.monotonic() + at.year_limit_s) as line:
            return line.get(url, check)
    except Odd as odd:
        raise NoForecast(odd.what, host_of(at.ncei_url), odd.fix) from odd


def _rows(body: bytes) -> Iterator[dict[str, str]]:
    yield from csv.DictReader(io.StringIO(body.decode("utf-8", "replace")))


def _is_list(body: bytes) -> None:
    first = next(_rows(body), {})
    if not all(name in first for name in NEEDED):
        raise BadWeather("it is no list of stations")


def _is_year(station: str, year: int) -> Check:
    def check(body: bytes) -> None:
        hours = read_history([(body, f"{station}-{year}.gz")])
        if hours.kind != "measured":
            raise BadWeather(f"it holds {hours.kind} wind")

    return check


def _offered(
    row: dict[str, str], center: tuple[float, float], today: datetime.date
) -> Offered | None:
    """A station of the list; None for one that ended, or of which no place is told."""
    try:
        lat, lon = float(row["LAT"]), float(row["LON"])
        first, last = (datetime.date.fromisoformat(row[name]) for name in ("BEGIN", "END"))
    except (TypeError, ValueError):
        return None
    if (today - last).days > ENDED_DAYS or (lat, lon) == (0.0, 0.0):
        return None
    try:
        height_m = float(row["ELEV(M)"])
    except (TypeError, ValueError):
        height_m = -999.0
    return Offered(
        id=f"{row['USAF']}-{row['WBAN']}",
        name=row["STATION NAME"].strip().title(),
        miles=apart_miles((lon, lat), center),
        height_ft=height_m / M_PER_FT if height_m > -400 else float("nan"),
        first_year=first.year,
        last_year=last.year,
    )
