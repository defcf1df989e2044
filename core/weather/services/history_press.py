"""The ground's own wind history in one press: an autumn after the other, each kept at once.

One request at a time. Stopped anywhere, what came is kept, and the next press goes on with
what is missing. Where the archive has had enough it says so, and when to go on.
"""

import datetime
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlencode

from core.errors import BadWeather, NoForecast
from core.ground.layout import Season
from core.weather.elsewhere import elsewhere_words, is_elsewhere
from core.weather.services.autumns import (
    CREDIT,
    LICENCE,
    MODEL,
    Autumn,
    autumn_file,
    autumns,
    holds_whole,
    hours_of,
    keep_span,
)
from core.weather.services.service import Odd, open_line
from core.weather.services.sources import Place, Services, degrees, host_of, rounded, services

YEARS = (10, 30)
HOURLY = "wind_speed_10m,wind_direction_10m,wind_gusts_10m,cloud_cover,temperature_2m,precipitation"
CALLS, CALLS_A_DAY = 6.6, 10_000  # what one autumn counts for; what is free
TOO_MANY = 429
# what the archive says with that status, and how long it means
WAITS = (("hourly", "in an hour"), ("daily", "tomorrow, after midnight UTC"))


@dataclass(frozen=True, slots=True)
class Got:
    """How far a press has come: `year` is kept now, `done` of `of` are whole, `words` say so."""

    year: int
    done: int
    of: int
    words: str


def said_before(center: tuple[float, float], years: int, at: Services | None = None) -> str:
    """What will be sent where, and on which terms; to be read before the first request.

    Args: the ground's middle (lon, lat) [deg]; how many autumns; the services.
    """
    at, place = at or services(), rounded(center)
    calls = round(CALLS * years)
    return (
        f"Asks {host_of(at.archive_url)} for {years} autumns, one at a time, about "
        f"{0.13 * years:.1f} MB. Sent: latitude {degrees(place[1])}, longitude "
        f"{degrees(place[0])} (rounded to 0.01°, about half a mile), the dates, and the name "
        f"“{at.agent}”. {CREDIT} ({LICENCE}). Free for what is not commercial: your own ground "
        f"is, guiding for pay is not. It counts as {calls} of {CALLS_A_DAY:,} free calls a day. "
        "What came is kept for good and needs no signal."
    )


def fetch_autumns(
    seasons: Sequence[Season],
    center: tuple[float, float],
    years: int,
    folder: Path,
    *,
    now_s: float,
    at: Services | None = None,
    wait: Callable[[float], None] | None = None,
) -> Iterator[Got]:
    """Fetches the autumns that are not kept whole yet, the newest first.

    Args: the property's seasons; its middle (lon, lat) [deg]; how many autumns; the user's
    folder; the clock [epoch s]; the services; what waits, for tests.
    Yields: after each autumn. Whoever stops asking stops it; what came is kept.
    Raises: NoForecast, with what went wrong and when to go on; OSError where it can't be
    kept; OnlyLooking.
    """
    place = rounded(center)
    today = datetime.datetime.fromtimestamp(now_s, datetime.UTC).date()
    wanted = autumns(seasons, years, today)
    files = {autumn: autumn_file(folder, place, autumn.year) for autumn in wanted}
    return fetch_spans(files, place, now_s, whole=holds_whole, at=at, wait=wait)


def fetch_spans(
    files: Mapping[Autumn, Path],
    place: Place,
    now_s: float,
    *,
    whole: Callable[[Path, Autumn], bool],
    word: str = "autumn",
    at: Services | None = None,
    wait: Callable[[float], None] | None = None,
) -> Iterator[Got]:
    """Fetches the days that are not kept whole yet, one request after the other.

    Args: the days, and where they are kept; the place; the clock [epoch s]; what tells
    whether a file holds them; what they are called; the services; what waits, for tests.
    Yields: after each of them. Raises: NoForecast, by `_ended`; OSError; OnlyLooking.
    """
    at, wait = at or services(), wait or time.sleep
    missing = [span for span, path in files.items() if not whole(path, span)]
    done, of, had_enough = len(files) - len(missing), f"of {len(files)} {word}s", False
    for number, span in enumerate(missing):
        if number:
            wait(at.between_years_s)
        try:
            body = _asked(place, span, at)
        except Odd as odd:
            if odd.status != TOO_MANY or had_enough or _is_long(odd):
                raise _ended(odd, f"{done} {of}", at) from odd
            had_enough = True
            wait(at.full_minute_s)
            try:
                body = _asked(place, span, at)
            except Odd as again:
                raise _ended(again, f"{done} {of}", at) from again
        keep_span(files[span], span, body, now_s)
        holes = not whole(files[span], span)
        done += not holes
        told = f"{word} {span.year}, {done} of {len(files)}"
        told += ": hours are missing in it, it is asked for again at the next press" * holes
        yield Got(span.year, done, len(files), told)


def archive_address(at: Services, place: Place, autumn: Autumn) -> str:
    """Where the archive has an autumn of a place, in UTC and m/s. Args: as named."""
    asked = {
        "latitude": degrees(place[1]),
        "longitude": degrees(place[0]),
        "start_date": autumn.first.isoformat(),
        "end_date": autumn.last.isoformat(),
        "hourly": HOURLY,
        "models": MODEL,
        "wind_speed_unit": "ms",
        "timeformat": "unixtime",
        "timezone": "GMT",
    }
    return f"{at.archive_url}/v1/archive?{urlencode(asked, safe=',')}"


def _asked(place: Place, autumn: Autumn, at: Services) -> bytes:
    deadline = time.monotonic() + at.year_limit_s
    with open_line(None, at, deadline) as line:
        return line.get(archive_address(at, place, autumn), _is_history(place))


def _is_history(place: Place) -> Callable[[bytes], None]:
    """What refuses all but modelled hours of the place that was asked about."""

    def check(body: bytes) -> None:
        hours = hours_of(body, "the answer")
        if hours.format != "open-meteo" or hours.kind != "modelled":
            raise BadWeather(f"it is {hours.format}, not the archive's")
        if hours.spot is not None and is_elsewhere(hours.spot, place):
            raise BadWeather(elsewhere_words(hours.spot, place))

    return check


def _is_long(odd: Odd) -> bool:
    return any(word in odd.what.lower() for word, _ in WAITS)


def _ended(odd: Odd, done: str, at: Services) -> NoForecast:
    """The end of a press: what stopped it, what is kept, when to go on."""
    fix = odd.fix
    if odd.status == TOO_MANY:
        when = next((told for word, told in WAITS if word in odd.what.lower()), "in some minutes")
        fix = f"It has had enough of requests for now: press again {when}."
    kept = f"{done} are kept, and it goes on from there."
    return NoForecast(odd.what, host_of(at.archive_url), f"{fix} {kept}")
