"""The forecast for a ground: a new one where there is signal, else the last good one.

The last good one is used with its age and ends at its horizon. It is never replaced
by anything that is no forecast, nor by an older one.
"""

import dataclasses
import datetime
from collections.abc import Callable
from pathlib import Path

import numpy as np

from core.errors import NoForecast, StandWindError
from core.weather.age import ago_words, got_words
from core.weather.elsewhere import place_notes
from core.weather.hour_lines import hours_dict, hours_lines
from core.weather.hours import MISSING, Hours
from core.weather.services.kept import (
    AHEAD_S,
    Kept,
    apart_km,
    cache_folder,
    from_record,
    keep,
    newest,
    prune,
    record_of,
)
from core.weather.services.sources import (
    AUTO,
    METEO,
    NAMES,
    Place,
    Services,
    rounded,
    services,
    sources_for,
)
from core.weather.services.station import station_dict, station_words

Progress = Callable[[str, float], None]
FRESH_S = 15 * 60  # a service is not asked twice in this time, unless it must be
UNDER_WAY_S = 18 * 3600  # a sit under way keeps its first hours
FETCH_AT_HOME = "Get a forecast where there is signal."


def forecast_for(
    center: tuple[float, float],
    folder: Path,
    *,
    now_s: float,
    offline: bool = False,
    source: str = AUTO,
    progress: Progress | None = None,
    at: Services | None = None,
    fresh: bool = False,
) -> Kept:
    """The forecast for a place: fetched, or the kept one where that can't be done.

    Args:
        center: (lon, lat) of the ground; rounded to 0.01 deg before it leaves. [deg]
        folder: the user's folder, where forecasts are kept.
        now_s: the clock. [epoch s]
        offline: whether to use the kept one and ask nobody.
        source: auto, nws or open-meteo.
        progress: called with what is going on and the part of the time used, 0 to 1.
        at: the services; None for the real ones.
        fresh: asks again even if the last answer is a few minutes old.

    Returns: the forecast; `trouble` says what went wrong where the kept one is used.
    Raises: NoForecast where there is neither, or the kept one has ended; BadRequest for
    an unknown source. Takes 10 s at most.
    """
    place, at = rounded(center), at or services()
    sources_for(place, source)  # an unknown source is refused before anything else
    if offline:
        return _last_good(folder, place, source, now_s, None)
    recent = newest(folder, place, now_s, sources_for(place, source)[0])
    if not fresh and recent is not None and _is_fresh(recent, place, now_s):
        return _usable(recent, now_s)
    try:
        record, got = _fetched(folder, place, source, now_s, progress, at)
    except NoForecast as fault:
        return _last_good(folder, place, source, now_s, _with_other(fault, source, place))
    before = newest(folder, place, now_s, got.source)
    if before is not None and (before.updated_s or 0) > (got.updated_s or 0):
        told = ago_words(now_s - (got.updated_s or now_s))
        words = f"{got.name} sent an older forecast, updated {told}: the newer one is used."
        return _usable(dataclasses.replace(before, trouble=words), now_s)
    return _usable(dataclasses.replace(got, trouble=_kept_trouble(folder, record, now_s)), now_s)


def _is_fresh(kept: Kept, place: Place, now_s: float) -> bool:
    """Whether a kept forecast is of this very place, and minutes old."""
    return kept.place == place and 0 <= now_s - kept.fetched_s < FRESH_S and kept.horizon_s > now_s


def fetch_camp_days(
    center: tuple[float, float],
    folder: Path,
    *,
    now_s: float,
    source: str = AUTO,
    progress: Progress | None = None,
    at: Services | None = None,
) -> Kept:
    """All the days the source has, asked for anew, to be used where there is no signal.

    Args, Returns, Raises: as `forecast_for`. Sun, moon and ground are worked out on this
    machine, so that the forecast and the station report are all that camp needs.
    """
    return forecast_for(
        center, folder, now_s=now_s, source=source, progress=progress, at=at, fresh=True
    )


def _fetched(folder, place: Place, source, now_s, progress, at: Services) -> tuple[dict, Kept]:
    """A forecast from the network, and the record to keep. Raises: NoForecast."""
    from core.weather.services.fetching import fetch

    found = fetch(place, source, cache_folder(folder), at=at, progress=progress)
    record = record_of(found, place, now_s)
    try:
        got = from_record(record, NAMES[found.source])
    except (StandWindError, KeyError, TypeError, ValueError) as fault:
        raise NoForecast(
            f"its answer can't be kept ({str(fault)[:80]})", NAMES[found.source], "Try again later."
        ) from fault
    if got.horizon_s <= now_s:
        ended = f"it sent a forecast that ended {ago_words(now_s - got.horizon_s)}"
        raise NoForecast(ended, NAMES[found.source], "Try again in an hour.")
    return record, got


def _kept_trouble(folder: Path, record: dict, now_s: float) -> str | None:
    """Keeps a record for later; words where the disk won't."""
    try:
        keep(folder, record)
        prune(folder, now_s)
    except OSError as fault:
        return f"It could not be kept for later: {fault.strerror or fault}."
    return None


def _with_other(fault: NoForecast, source: str, place: Place) -> NoForecast:
    """The fault, with the other source named where it may help."""
    if source != AUTO or METEO not in sources_for(place) or "Open-Meteo" in fault.fix:
        return fault
    if len(sources_for(place)) == 1:
        return fault
    return NoForecast(fault.what, fault.where, f"{fault.fix} Or choose Open-Meteo as the source.")


def _last_good(folder, place: Place, source: str, now_s: float, fault: NoForecast | None) -> Kept:
    """The kept forecast, with the fault that made it needed. Raises: NoForecast."""
    kept = newest(folder, place, now_s, None if source == AUTO else source)
    if kept is None:
        if fault is not None:
            raise NoForecast(
                fault.what, fault.where, f"{fault.fix} No earlier forecast is kept for this ground."
            )
        raise NoForecast("no forecast is kept for this ground", "the forecast", FETCH_AT_HOME)
    if fault is None:
        return _usable(kept, now_s)
    usable = _usable(kept, now_s, fault.text())
    words = f"No new forecast. {fault.text()} The kept one is used."
    return dataclasses.replace(usable, trouble=words)


def _usable(kept: Kept, now_s: float, also: str = "") -> Kept:
    """The forecast without its blank ends and long past hours. Raises: NoForecast."""
    if kept.horizon_s <= now_s:
        ended = ago_words(now_s - kept.horizon_s)
        raise NoForecast(
            f"the kept forecast, {age_words(kept, now_s)}, ended {ended}",
            "the forecast",
            f"{also} {FETCH_AT_HOME}".strip(),
        )
    start_s, known = kept.hours.start_s, np.flatnonzero(kept.hours.state != MISSING)
    wanted = (start_s >= start_s[known[0]]) & (start_s < kept.horizon_s)
    wanted &= start_s >= now_s - UNDER_WAY_S
    return dataclasses.replace(kept, hours=kept.hours.take(wanted))


def age_words(kept: Kept, now_s: float) -> str:
    """How old a forecast is, as: from 14 h ago; the forecasters' update 15 h ago.

    Args: the forecast; the clock. [epoch s]
    """
    if kept.fetched_s > now_s + AHEAD_S:
        return "dated ahead of this machine's clock: check the clock"
    words = got_words(now_s - kept.fetched_s)
    if kept.updated_s is None:
        return f"{words}; {kept.name} does not say when it was updated"
    return f"{words}; the forecasters' update {ago_words(now_s - kept.updated_s)}"


def notes_on(kept: Kept, center: tuple[float, float]) -> tuple[str, ...]:
    """What else to know of a forecast. Args: the forecast; (lon, lat) of the ground."""
    away_km = apart_km(rounded(center), kept.place)
    moved = (f"it was fetched for a place {away_km:.0f} km away",) if away_km >= 1 else ()
    return (*place_notes(kept.hours.spot, center), *kept.hours.notes, *moved)


def noted_hours(kept: Kept, center: tuple[float, float]) -> Hours:
    """The hours of a forecast, noted with all there is to know of it.

    Args: the forecast; (lon, lat) of the ground. [deg]
    """
    trouble = (kept.trouble.rstrip("."),) if kept.trouble else ()
    return dataclasses.replace(kept.hours, notes=(*trouble, *notes_on(kept, center)))


def forecast_dict(kept: Kept, center: tuple[float, float], now_s: float) -> dict:
    """The forecast as plain values, its hours as in `wind --json`.

    Args: the forecast; (lon, lat) of the ground; the clock. [epoch s]
    """
    updated_s = kept.updated_s
    return {
        **hours_dict(kept.hours),
        "source": kept.source,
        "attribution": {"words": kept.attribution[0], "link": kept.attribution[1]},
        "place": {"latitude": kept.place[1], "longitude": kept.place[0]},
        "fetched": _iso(kept.fetched_s),
        "updated": None if updated_s is None else _iso(updated_s),
        "age_h": round((now_s - kept.fetched_s) / 3600, 2),
        "updated_age_h": None if updated_s is None else round((now_s - updated_s) / 3600, 2),
        "age": age_words(kept, now_s),
        "horizon": _iso(kept.horizon_s),
        "trouble": kept.trouble,
        "notes": list(notes_on(kept, center)),
        "station": None if kept.station is None else station_dict(kept.station, kept.hours, now_s),
    }


def forecast_lines(kept: Kept, center: tuple[float, float], now_s: float) -> list[str]:
    """The forecast for people, its age first. Args: as `forecast_dict`."""
    head = [f"{kept.name}, {age_words(kept, now_s)}."]
    head += [kept.trouble] if kept.trouble else []
    if kept.station is not None and (said := station_words(kept.station, kept.hours, now_s)):
        head.append(said)
    head += [f"{note}." for note in notes_on(kept, center)]
    table = hours_lines(kept.hours)[1 + len(kept.hours.notes) :]
    return [*head, f"{kept.attribution[0]}: {kept.attribution[1]}", *table]


def _iso(time_s: float) -> str:
    return datetime.datetime.fromtimestamp(time_s, datetime.UTC).isoformat()
