"""The runs of one model for a ground: asked for by a press of its own, and kept.

One request to the open forecast service for the runs of the European centre's model. The
newest answer of a place is kept, and replaced only by another that can be read.
"""

import json
import math
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlencode

import numpy as np

from core.errors import BadWeather, NoForecast
from core.weather.age import got_words
from core.weather.elsewhere import elsewhere_words, is_elsewhere
from core.weather.hours import FASTEST_MPS, ROW_S
from core.weather.model_runs import ModelRuns, blows_to
from core.weather.reading.spots import spot_of
from core.weather.services.kept import AHEAD_S
from core.weather.services.records import BROKEN, keep_record, kept_record, place_folder
from core.weather.services.service import Odd, open_line
from core.weather.services.sources import Place, Services, degrees, host_of, rounded, services

FOLDER, FILE, MARK = "runs", "runs.json.gz", "stand-and-wind runs"
MODEL, MODEL_SAID, DAYS = "ecmwf_ifs025_ensemble", "the European centre's model", 7
SPEED, DIRECTION, OF_RUN = "wind_speed_10m", "wind_direction_10m", "_member"
FEWEST = 10  # common practice, no source: fewer runs tell little of how far they part
GOOD_FOR_S = 24 * 3600  # common practice, no source: older runs are of another weather
FOR_WHAT = (
    "Many runs of one model, each from a slightly different beginning. Where they part, a sit is "
    "less sure; and sits up to a week ahead can be told. How many of them agree is no chance, and "
    "is not shown."
)
RUNS, CALLS, MEGABYTES = 51, 10, 0.15  # what an answer holds, counts for and weighs, roughly
CREDIT = "Weather data by Open-Meteo.com"
CREDIT_LINK = "https://open-meteo.com/"
LICENCE = "CC BY 4.0; from open data of ECMWF"


def said_before(center: tuple[float, float], at: Services | None = None) -> str:
    """What will be sent where, and on which terms; to be read before the request.

    Args: the ground's middle (lon, lat) [deg]; the services.
    """
    at, place = at or services(), rounded(center)
    return (
        f"Asks {host_of(at.runs_url)} once for {RUNS} runs of {MODEL_SAID}, {DAYS} days, about "
        f"{MEGABYTES} MB. Sent: latitude {degrees(place[1])}, longitude {degrees(place[0])} "
        f"(rounded to 0.01°, about half a mile) and the name “{at.agent}”. {CREDIT} ({LICENCE}). "
        "Free for what is not commercial: your own ground is, guiding for pay is not. It counts "
        f"as {CALLS} of 10,000 free calls a day."
    )


def fetch_runs(
    center: tuple[float, float], folder: Path, *, now_s: float, at: Services | None = None
) -> ModelRuns:
    """Asks for the runs of a place and keeps them.

    Args: the ground's middle (lon, lat) [deg]; the user's folder; the clock [epoch s]; the
    services. Raises: NoForecast, with what went wrong, also where they can't be kept.
    """
    at, place = at or services(), rounded(center)
    try:
        with open_line(None, at, time.monotonic() + at.year_limit_s) as line:
            body = line.get(runs_address(at, place), _are_runs(place))
    except Odd as odd:
        raise NoForecast(odd.what, host_of(at.runs_url), odd.fix) from odd
    record = {"fetched_s": int(now_s), "body": json.loads(body)}
    try:
        keep_record(_file(folder, place), record, MARK, even_looking=True)
    except OSError as fault:
        what = f"they can't be kept ({fault.strerror or fault})"
        raise NoForecast(what, "the runs", "Make room for them.") from fault
    return read_runs(body, now_s)


def runs_address(at: Services, place: Place) -> str:
    """Where the service has the runs of a place, in UTC and m/s. Args: as named."""
    asked = {
        "latitude": degrees(place[1]),
        "longitude": degrees(place[0]),
        "models": MODEL,
        "hourly": f"{SPEED},{DIRECTION}",
        "forecast_days": DAYS,
        "wind_speed_unit": "ms",
        "timeformat": "unixtime",
        "timezone": "GMT",
    }
    return f"{at.runs_url}/v1/ensemble?{urlencode(asked, safe=',')}"


def _are_runs(place: Place) -> Callable[[bytes], None]:
    """What refuses all but runs of the place that was asked about."""

    def check(body: bytes) -> None:
        read_runs(body, 0.0)
        told = json.loads(body)
        spot = spot_of(told.get("longitude"), told.get("latitude"))
        if spot is not None and is_elsewhere(spot, place):
            raise BadWeather(elsewhere_words(spot, place))

    return check


def read_runs(body: bytes, fetched_s: float) -> ModelRuns:
    """The runs of an answer. Args: it; when it was got [epoch s].

    Missing: hours that a run does not tell are NaN; a run without any wind is left out.
    Raises: BadWeather; or KeyError, TypeError, ValueError for one that is broken.
    """
    told = json.loads(body)
    if told.get("error"):
        raise BadWeather(str(told.get("reason") or "an error without a word")[:80])
    hourly, units = told["hourly"], told.get("hourly_units") or {}
    start_s = np.array(hourly["time"], np.int64)
    if len(start_s) < 2 or (np.diff(start_s) != ROW_S).any():
        raise BadWeather("its hours do not follow each other")
    names = [name for name in sorted(hourly) if name.startswith(SPEED)]
    if {units.get(name, "m/s") for name in names} - {"m/s"} or told.get("utc_offset_seconds"):
        raise BadWeather("it is not in m/s and UTC, as it was asked for")
    each = [_run(hourly[name], hourly[name.replace(SPEED, DIRECTION)]) for name in names]
    found = [run for run in each if len(run) == len(start_s) and np.isfinite(run).any()]
    if len(found) < FEWEST:
        raise BadWeather(f"it holds {len(found)} runs, too few to tell how far they part")
    return ModelRuns(start_s, np.array(found), fetched_s)


def _run(speed_mps: list, wind_from_deg: list):
    """One run as it blows, shape (hour,). Raises: BadWeather."""
    speed, wind = (np.array(values, float) for values in (speed_mps, wind_from_deg))
    known = speed[np.isfinite(speed)]
    if (known < 0.0).any() or (known > FASTEST_MPS).any():
        raise BadWeather("a wind that there is not")
    return blows_to(speed, wind)


def kept_runs(folder: Path, place: Place, now_s: float) -> ModelRuns | None:
    """The kept runs of a place, or of one close by; None where none is kept, or they are old.

    Args: the user's folder; (lon, lat), rounded [deg]; the clock [epoch s].
    """
    try:
        record = kept_record(_file(folder, place), MARK)
        found = read_runs(json.dumps(record["body"]).encode(), float(record["fetched_s"]))
    except BROKEN:
        return None
    return found if -AHEAD_S <= now_s - found.fetched_s <= GOOD_FOR_S else None


def runs_stamp(folder: Path, place: Place) -> tuple[float, int]:
    """What changes when other runs are kept. Args: as `kept_runs`."""
    path = _file(folder, place)
    return (path.stat().st_mtime, path.stat().st_size) if path.is_file() else (math.nan, 0)


def runs_words(runs: ModelRuns, now_s: float) -> str:
    """How many runs, and how old. Args: them; the clock [epoch s]."""
    said = f"{len(runs)} runs of {MODEL_SAID}, {got_words(now_s - runs.fetched_s)}"
    left_h = (runs.horizon_s - now_s) / 3600
    return f"{said}; they reach {left_h / 24:.0f} days on, and serve for a day"


def _file(folder: Path, place: Place) -> Path:
    return place_folder(folder / FOLDER, place) / FILE
