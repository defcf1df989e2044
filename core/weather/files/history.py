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
from core.weather.answers import Answers
from core.weather.files.labels import KIND_WORDS, label_of
from core.weather.files.recognise import reader_of
from core.weather.hours import Hours
from core.weather.reading.observations import Observations, to_hours
from core.weather.reading.reader import HISTORY
from core.weather.reading.weather_file import file_bytes, weather_file

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
    read = [_observe(data, name, answers or Answers()) for data, name in files]
    _refuse_strangers(read)
    together = one_history(read)
    return to_hours(together, label_of(together))


def one_history(read: Sequence[Observations]) -> Observations:
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
    places: dict[str, tuple[str, ...]] = {}
    for reports in read:
        for thing, n in reports.counts.items():
            counts[thing] = counts.get(thing, 0) + n
            named = tuple(f"{reports.where}, {place}" for place in reports.first[thing][:1])
            places.setdefault(thing, named)
    remarks = tuple(dict.fromkeys(remark for r in read for remark in r.remarks))
    if len({r.station for r in read}) > 1 or (not first.station):
        remarks += ("not every file names its station: they were taken as one",)
    station = next((r.station for r in read if r.station), "")
    return dataclasses.replace(
        first, **columns, counts=counts, first=places, remarks=remarks, station=station
    )


def _observe(data: bytes | Path, name: str, answers: Answers) -> Observations:
    file = weather_file(_bytes(data, name), name)
    reader = reader_of(file)
    reports = reader.read(file, answers)
    if not len(reports):
        raise BadWeather("no line of it can be used", reports.where, "Use another file.")
    if HISTORY in reader.reads and not reader.as_history:
        return reports
    # a service's forecast, a model's archive, or a table that does not say what it holds
    kind = reader.as_history or reports.kind
    return dataclasses.replace(reports, kind=kind, place=reports.source)


def _bytes(data: bytes | Path, name: str) -> bytes:
    return file_bytes(data, name) if isinstance(data, Path) else data


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
