"""A typical day: the real hourly year of Greensboro that pvlib carries.

One synthetic year of measured months. It is never a forecast and says so.
"""

import datetime
from functools import lru_cache

import numpy as np

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.weather.hours import CALM, DIRECTED, ROW_S, VARIABLE, Hours, make_hours

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
    from pvlib.iotools import read_tmy3

    table, _ = read_tmy3(Path(pvlib.__file__).parent / "data" / FILE, map_variables=True)
    speed = table["wind_speed"].to_numpy(float)
    direction = table["wind_direction"].to_numpy(float)
    state = np.where(speed == 0, CALM, np.where(direction == 0, VARIABLE, DIRECTED))
    first = int(datetime.datetime(PLAIN_YEAR, 1, 1, tzinfo=datetime.UTC).timestamp())
    start_s = first - STANDARD_OFFSET_S + ROW_S * np.arange(len(speed))
    return make_hours(
        start_s=start_s,
        state=state,
        speed_mps=speed,
        wind_from_deg=np.where(state == DIRECTED, direction, np.nan),
        half_width_deg=HALF_WIDTH_DEGREES_DEG,
        cloud_frac=table["TotCld (tenths)"].to_numpy(float) / 10.0,
        temperature_c=table["temp_air"].to_numpy(float),
        kind="typical",
        format="tmy3",
        zone="Etc/GMT+5",
        source=SOURCE,
    )


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
    from dataclasses import replace

    return replace(year.take(np.concatenate(picked)), start_s=np.concatenate(starts))
