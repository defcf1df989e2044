"""NSRDB CSV (PSM): a model's hourly or half-hourly years at one place.

Two lines of facts, one of names, then values; the zone is in the facts. A label
in the middle of the hour belongs to it; 0 is north. pvlib reads the table.
"""

import numpy as np

from core.errors import BadWeather
from core.weather.answers import Answers
from core.weather.reading.hour_ending import table_by_pvlib, zone_offset_s
from core.weather.reading.observations import Observations, make_observations
from core.weather.reading.packed import without_cut_line
from core.weather.reading.reader import HISTORY, Reader
from core.weather.reading.spliced import laid_into_a_year, runs_on, zone_word
from core.weather.reading.spots import spot_of
from core.weather.reading.weather_file import WeatherFile

FORMAT = "nsrdb"
FIRST_LINE = 4
NAMES = "Year,Month,Day,Hour,Minute"
HEIGHT_REMARK = "the file does not tell the height of its wind: 10 m is taken"
HALF_HOURS_REMARK = "of half-hourly values the ones of the whole hour are used"
FIX = "Use an NSRDB file as it was downloaded, with wind speed and wind direction."


def looks_like(file: WeatherFile) -> bool:
    """Whether the third line names the columns of NSRDB. Args: the file."""
    lines = file.head
    return len(lines) > 2 and lines[0].startswith("Source,") and lines[2].startswith(NAMES)


def read(file: WeatherFile, answers: Answers) -> Observations:  # noqa: ARG001
    """The hours of a file.

    Args: the file; answers, of which it needs none.
    Raises: BadWeather where the table can't be read or holds no wind.
    """
    where = file.name
    data, cut = without_cut_line(file.data)
    data, offset_s = _by_its_clock(data, where)
    table, about = _table(data, where)
    clock_s = table.index.tz_localize(None).to_numpy("datetime64[s]").astype(np.int64)
    at_s, line = clock_s - offset_s, np.arange(FIRST_LINE, len(table) + FIRST_LINE)
    into_hour = clock_s % 3600  # its hours are those of its own clock
    actual = runs_on(at_s)
    reports = make_observations(
        at_s=at_s - into_hour,
        line=line,
        wind_from_deg=table["wind_direction"].to_numpy(dtype=float),
        speed_mps=table["wind_speed"].to_numpy(dtype=float),
        temperature_c=table["temp_air"].to_numpy(dtype=float) if "temp_air" in table else np.nan,
        station=str(about.get("Location ID", "")).strip(),
        kind="modelled" if actual else "typical",
        north_is_360=False,
        format=FORMAT,
        zone=zone_word(offset_s),
        spot=spot_of(*(about.get(n, about.get(n.title())) for n in ("longitude", "latitude"))),
        where=where,
        remarks=(HEIGHT_REMARK,),
    ).counted("lines", [int(line[-1]) + 1] if cut else [])
    return _whole_hours(reports, into_hour) if actual else laid_into_a_year(reports, offset_s)


def _by_its_clock(data: bytes, where: str) -> tuple[bytes, int]:
    """The file with its zone taken out, and that zone's offset: pvlib knows whole hours only."""
    lines = data.split(b"\n", 2)
    names = lines[0].decode("utf-8", "replace").strip().split(",")
    facts = lines[1].decode("utf-8", "replace").strip().split(",")
    try:
        place = names.index("Time Zone")
        offset_s = zone_offset_s(float(facts[place]), where, FIX)
    except (ValueError, IndexError) as fault:
        raise BadWeather("its facts tell no time zone", where, FIX) from fault
    for name in ("Time Zone", "Local Time Zone"):
        if name in names:
            facts[names.index(name)] = "0"
    return b"\n".join([lines[0], ",".join(facts).encode(), *lines[2:]]), offset_s


def _whole_hours(reports: Observations, into_hour) -> Observations:
    """Of several values an hour, the one of the whole hour."""
    import dataclasses

    whole = into_hour == into_hour.min()
    if whole.all():
        return reports
    remarks = (*reports.remarks, HALF_HOURS_REMARK)
    return dataclasses.replace(reports.take(whole), remarks=remarks)


def _table(data: bytes, where: str):
    """pvlib's table and the facts of the file."""
    from pvlib.iotools import read_nsrdb_psm4

    table, about = table_by_pvlib(read_nsrdb_psm4, data, "NSRDB", where, FIX, map_variables=True)
    lacks = [n for n in ("wind_speed", "wind_direction") if n not in table]
    if lacks:
        raise BadWeather(f"it holds no {' and no '.join(lacks).replace('_', ' ')}", where, FIX)
    return table, about


NSRDB = Reader("NSRDB", (HISTORY,), looks_like, read)
