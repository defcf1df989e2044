"""Years of wind of one place: files of one station read together as one table.

Measured, modelled and typical years are told apart and never mixed; a typical
year stands alone. Hours that overlap, repeat or lack are handled and counted.
"""

import dataclasses
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from core.errors import BadWeather
from core.weather.answers import TABLE_FORMAT, Answers
from core.weather.hours import Hours
from core.weather.readers import asos, epw, global_hourly, isd_lite, nsrdb, tmy3
from core.weather.reading.observations import NUMBERS, Observations, make_observations, to_hours
from core.weather.reading.spliced import years_word

READERS = (isd_lite, global_hourly, asos, tmy3, epw, nsrdb)
LARGEST_BYTES = 400_000_000
KIND_WORDS = {
    "measured": "measured wind",
    "modelled": "modelled wind, not measured",
    "typical": "a typical year, no real one",
    "unsaid": "wind of a table that does not say if it was measured",
    "forecast": "a forecast, not what the wind did",
}
File = tuple[bytes | Path, str]


def read_history(files: Sequence[File], answers: Answers | None = None) -> Hours:
    """The hourly table of one or more history files of one station.

    Args:
        files: pairs of the bytes or the path, and the name for messages (an
            ISD-Lite file is named after its station).
        answers: what a delimited file leaves open, as in `recognise`.

    Returns: hours sorted, one row each; `source` is the label of the station,
    with kind and years; `kind` is measured, modelled, typical, or unsaid where a
    table does not tell; `notes` tell in one line what was dropped or mended.
    Missing: hours in no file get no row and are counted.
    Raises: BadWeather for no files, different stations or kinds, several typical
    years, or a file that can't be read.
    """
    if not files:
        raise BadWeather("no file was given", "the wind history", "Give one file or more.")
    read = [_observe(data, name, answers) for data, name in files]
    _refuse_strangers(read)
    together = joined(read)
    return to_hours(together, station_label(together))


def station_label(reports: Observations) -> str:
    """Station, kind and years in words, as the screens show them. Args: reports."""
    name = " ".join(x for x in (reports.station, reports.place) if x) or reports.where
    if reports.kind == "typical":
        return f"{name}: {KIND_WORDS['typical']}"
    return f"{name}: {KIND_WORDS[reports.kind]}, {years_word(reports.at_s)}"


def joined(read: Sequence[Observations]) -> Observations:
    """Reports of several files behind one another, what was counted added up.

    Args: reports by file, at least one.
    """
    first = read[0]
    if len(read) == 1:
        return first
    names = [f.name for f in dataclasses.fields(first)]
    columns: dict[str, Any] = {
        name: np.concatenate([getattr(r, name) for r in read])
        for name in names
        if isinstance(getattr(first, name), np.ndarray)
    }
    counts: dict[str, int] = {}
    places: dict[str, str] = {}
    for reports in read:
        for thing, n in reports.counts.items():
            counts[thing] = counts.get(thing, 0) + n
            places.setdefault(thing, f"{reports.where}, {reports.first[thing]}")
    remarks = tuple(dict.fromkeys(remark for r in read for remark in r.remarks))
    if len({r.station for r in read}) > 1 or (not first.station):
        remarks += ("not every file names its station: they were taken as one",)
    station = next((r.station for r in read if r.station), "")
    return dataclasses.replace(
        first, **columns, counts=counts, first=places, remarks=remarks, station=station
    )


def is_history(data: bytes) -> bool:
    """Whether a file is in one of the history formats. Args: its bytes."""
    return any(reader.looks_like(data) for reader in READERS)


def _observe(data: bytes | Path, name: str, answers: Answers | None) -> Observations:
    data = _bytes(data, name)
    for reader in READERS:
        if reader.looks_like(data, name):
            return _clean(reader.observe(data, name))
    return _of_hours(_other(data, name, answers), name)


def _bytes(data: bytes | Path, name: str) -> bytes:
    if isinstance(data, Path):
        try:
            data = data.read_bytes()
        except OSError as fault:
            raise BadWeather(f"can't be opened ({fault.strerror})", name, "Check it.") from fault
    if not data.strip():
        raise BadWeather("the file is empty", name, "Download it again.")
    if len(data) > LARGEST_BYTES:
        raise BadWeather(f"the file has {len(data)} bytes, over 400 MB", name, "Split it.")
    return data


def _clean(reports: Observations) -> Observations:
    if not len(reports):
        raise BadWeather("no line of it can be used", reports.where, "Use another file.")
    return reports


def _other(data: bytes, name: str, answers: Answers | None) -> Hours:
    """The table of a file of another format, by the reader for all weather files."""
    from core.weather.files.recognise import read_weather

    return read_weather(data, name, answers or Answers())


def _of_hours(hours: Hours, name: str) -> Observations:
    """An hourly table as reports, so that it can be joined to others."""
    # an archive answer has the form of a forecast, but all of its hours are a model's
    kind = "modelled" if hours.format.startswith("open-meteo") else hours.kind
    kind = "unsaid" if hours.format == TABLE_FORMAT else kind
    return make_observations(
        at_s=hours.start_s,
        **{n: getattr(hours, n) for n in NUMBERS},
        kind=kind,
        format=hours.format,
        zone=hours.zone,
        north_is_360=False,
        place=hours.source,
        where=name,
        remarks=hours.notes,
    )


def _refuse_strangers(read: Sequence[Observations]) -> None:
    first = read[0]
    for other in read[1:]:
        if other.kind != first.kind:
            raise BadWeather(
                f"it holds {KIND_WORDS[other.kind]}, and {first.where} holds "
                f"{KIND_WORDS[first.kind]}",
                other.where,
                "Give files of one kind.",
            )
        if first.kind == "typical":
            raise BadWeather(
                f"a typical year stands alone, and {first.where} is one too",
                other.where,
                "Give one of them.",
            )
    named = [r for r in read if r.station]
    for other in named[1:]:
        if other.station != named[0].station:
            raise BadWeather(
                f"it is of station {other.station}, and {named[0].where} of station "
                f"{named[0].station}",
                other.where,
                "Give files of one station.",
            )
