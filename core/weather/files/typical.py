"""A typical day: the real hourly year of Greensboro that pvlib carries.

One synthetic year of measured months. It is never a forecast and says so.
"""

import dataclasses
import datetime
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from core.weather.hours import ROW_S, Hours

FILE = "723170TYA.CSV"
SOURCE = "typical day, not a forecast (Greensboro NC typical year)"
STANDARD_OFFSET_S = -5 * ROW_S  # the file keeps eastern standard time all year
PLAIN_YEAR = 2001  # no 29 February


@lru_cache(maxsize=1)
def typical_year() -> Hours:
    """The 8,760 hours of the typical year, laid into 2001 in standard time.

    Returns: one row an hour; labels that end an hour moved back; north is 360 in
    the file, direction 0 with speed 0 is calm, 0 with speed above is unknown.
    Source: NSRDB TMY3 723170 as shipped in pvlib/data.
    """
    from pathlib import Path

    import pvlib

    from core.weather.files.recognise import read_weather

    path = Path(pvlib.__file__).parent / "data" / FILE
    return dataclasses.replace(read_weather(path.read_bytes(), FILE), source=SOURCE)


def typical_hours(date: datetime.date) -> Hours:
    """The hours of a calendar day and its neighbours, laid onto that date.

    Args: local date. 29 February uses 28 February.
    Returns: three days of rows in standard time, labelled as typical.
    Source: `typical_year`.
    """
    year = typical_year()
    picked, starts = [], []
    for step in (-1, 0, 1):
        day = date + datetime.timedelta(days=step)
        usual = 28 if (day.month, day.day) == (2, 29) else day.day
        index = datetime.date(PLAIN_YEAR, day.month, usual).timetuple().tm_yday - 1
        midnight = datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC).timestamp()
        picked.append(index * 24 + np.arange(24))
        starts.append(int(midnight) - STANDARD_OFFSET_S + ROW_S * np.arange(24))
    return dataclasses.replace(
        year.take(np.concatenate(picked)), start_s=np.concatenate(starts), notes=()
    )


def laid_over(year: Hours, years: Sequence[int]) -> Hours:
    """A typical year's hours laid over calendar years, so that a season has its own.

    Args: a typical year, `zone` the name of its clock's offset; the years wanted,
    in order.
    Missing: 29 February has no hours, for a typical year has none.
    """
    from core.weather.reading.spliced import offset_of

    offset_s = offset_of(year.zone)
    local = (year.start_s + offset_s).astype("datetime64[s]")
    month = local.astype("datetime64[M]")
    into_month_s = (local - month).astype("timedelta64[s]").astype(np.int64)
    month_number = month.astype(np.int64) % 12
    order = np.lexsort((into_month_s, month_number))
    order = order[(month_number[order] != 1) | (into_month_s[order] < 28 * 24 * ROW_S)]
    firsts = [(12 * (wanted - 1970) + month_number[order]) for wanted in years]
    first_s = np.concatenate(firsts).astype("datetime64[M]").astype("datetime64[s]")
    start_s = first_s.astype(np.int64) + np.tile(into_month_s[order], len(years)) - offset_s
    return dataclasses.replace(year.take(np.tile(order, len(years))), start_s=start_s)
