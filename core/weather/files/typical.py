"""A typical day: the real hourly year of Greensboro that pvlib carries.

One synthetic year of measured months. It is never a forecast and says so.
"""

import dataclasses
import datetime
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
