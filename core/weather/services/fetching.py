"""Which requests make a forecast, in what order, and what is done when one fails."""

import contextlib
import json
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from core.errors import BadWeather, NoForecast, StandWindError
from core.weather.elsewhere import elsewhere_words, is_elsewhere
from core.weather.files.recognise import read_weather
from core.weather.hours import Spot
from core.weather.reading.spots import middle_of
from core.weather.services.service import TRY_LATER, Line, Odd, drop_cache, open_line
from core.weather.services.sources import (
    METEO,
    NWS,
    Place,
    Services,
    degrees,
    host_of,
    meteo_url,
    point_url,
    services,
    sources_for,
)
from core.weather.services.station import nearest_ids, read_station

STATIONS_TRIED = 3
TICK_S = 0.1


@dataclass(frozen=True, slots=True)
class Fetched:
    """A forecast as it came: its source and the body that the reader took.

    `station` and `listed` are the bodies of the latest station report and of the list
    of stations; None where there are none.
    """

    source: str
    body: bytes
    station: bytes | None = None
    listed: bytes | None = None


class NotCovered(NoForecast):
    """The service has no forecast for this place; another one may."""


def fetch(
    place: Place,
    source: str,
    cache: Path,
    *,
    at: Services | None = None,
    progress: Callable[[str, float], None] | None = None,
) -> Fetched:
    """A forecast from its service, within the time limit.

    Args:
        place: (lon, lat), rounded. [deg]
        source: auto, nws or open-meteo.
        cache: folder of the HTTP cache, in the user's folder.
        at: the services and their time limits.
        progress: called with what is going on and the part of the time used, 0 to 1.

    Raises: NoForecast, with what went wrong, where, and what to do; NotCovered.
    """
    at = at or services()
    work = _Work(place, sources_for(place, source), cache, at)
    # a thread, because a name look-up and a dripping body heed no limit of ours
    worker = threading.Thread(target=work.run, daemon=True)
    worker.start()
    while worker.is_alive() and (left := work.deadline - time.monotonic()) > 0:
        if progress:
            progress(work.stage, min(1.0, 1.0 - left / at.limit_s))
        worker.join(min(TICK_S, left))
    if work.found is not None:
        return Fetched(*work.found, station=work.station, listed=work.listed)
    if work.fault is not None:
        raise work.fault
    raise NoForecast(f"no answer within {at.limit_s:g} s", work.host, TRY_LATER)


class _Work:
    """One fetch, run in a thread; what it has found so far can be read at any time."""

    def __init__(self, place: Place, sources: Sequence[str], cache: Path, at: Services) -> None:
        self.place, self.sources, self.cache, self.at = place, sources, cache, at
        self.deadline = time.monotonic() + at.limit_s
        self.host = host_of(at.base(sources[0]))
        self.stage = f"asking {self.host}"
        self.found: tuple[str, bytes] | None = None
        self.station: bytes | None = None
        self.listed: bytes | None = None
        self.fault: BaseException | None = None

    def run(self) -> None:
        try:
            self._ask_twice()
        except Odd as odd:
            self.fault = NoForecast(odd.what, self.host, odd.fix)
        except BaseException as fault:  # handed to the thread that waits
            self.fault = fault

    def _ask_twice(self) -> None:
        try:
            self._ask_through(self.cache)
        except (Odd, StandWindError):
            raise
        except Exception:
            # a broken cache fails in many ways; it saves requests and nothing else, so it
            # is done without, and a fault of another making shows itself then
            with contextlib.suppress(OSError):
                drop_cache(self.cache)
            self._ask_through(None)

    def _ask_through(self, cache: Path | None) -> None:
        with open_line(cache, self.at, self.deadline) as line:
            for source in self.sources:
                self.host = host_of(self.at.base(source))
                self.stage = f"asking {self.host}"
                try:
                    (self._from_nws if source == NWS else self._from_meteo)(line)
                except NotCovered:
                    if source == self.sources[-1]:
                        raise
                else:
                    return

    def _from_meteo(self, line: Line) -> None:
        url = meteo_url(self.at, self.place)
        self.found = (METEO, line.get(url, _of_format("open-meteo", self.place)))

    def _from_nws(self, line: Line) -> None:
        is_grid = _of_format("nws-gridpoint", self.place)
        point = self._point(line, fresh=False)
        try:
            answer = line.get(point["forecastGridData"], is_grid)
        except Odd as odd:
            if odd.status != 404:
                raise
            # the offices move their grids now and then: the place is looked up anew
            point = self._point(line, fresh=True)
            answer = line.get(point["forecastGridData"], is_grid)
        self.found = (NWS, answer)
        self.stage = "asking for the latest station report"
        with contextlib.suppress(Odd):  # the forecast stands without it
            self._ask_station(line, point)

    def _point(self, line: Line, *, fresh: bool) -> dict:
        try:
            body = line.get(point_url(self.at, self.place), _is_point(self.place), fresh)
        except Odd as odd:
            if odd.status != 404:
                raise
            place = f"{degrees(self.place[1])}, {degrees(self.place[0])}"
            raise NotCovered(
                f"it has no forecast for {place}", self.host, "Choose Open-Meteo as the source."
            ) from None
        return json.loads(body)["properties"]

    def _ask_station(self, line: Line, point: dict) -> None:
        listed = line.get(point.get("observationStations"), _is_list)
        for station in nearest_ids(listed, self.place)[:STATIONS_TRIED]:
            url = f"{self.at.nws_url}/stations/{station}/observations/latest"
            with contextlib.suppress(Odd):
                body = line.get(url, json.loads)
                if read_station(body, listed, self.place) is not None:
                    self.station, self.listed = body, listed
                    return


def _of_format(name: str, place: Place) -> Callable[[bytes], None]:
    """What refuses all but a forecast of one format, for the place that was asked about."""

    def check(body: bytes) -> None:
        if body.lstrip()[:1] != b"{":
            raise BadWeather("not a forecast" if body.strip() else "the answer is empty")
        hours = read_weather(body, "the answer")
        if hours.format != name or hours.kind != "forecast":
            raise BadWeather(f"it is {hours.format}, not {name}")
        _is_of(hours.spot, place)

    return check


def _is_point(place: Place) -> Callable[[bytes], None]:
    def check(body: bytes) -> None:
        point = json.loads(body)
        if not isinstance(point["properties"]["forecastGridData"], str):
            raise ValueError("no address of a forecast")
        _is_of(middle_of(point.get("geometry")), place)

    return check


def _is_of(spot: Spot | None, place: Place) -> None:
    """Refuses an answer that says it is for another place than the one asked about."""
    if spot is not None and is_elsewhere(spot, place):
        raise BadWeather(elsewhere_words(spot, place))


def _is_list(body: bytes) -> None:
    if not isinstance(json.loads(body)["features"], list):
        raise ValueError("no list")
