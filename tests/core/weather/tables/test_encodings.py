"""The same hours written in every way: one identical table comes out."""

import datetime
import json
import zoneinfo

import numpy as np
import pytest

from core.weather.answers import Answers
from core.weather.files.history import read_history
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE

# across the end of summer time of New York (06:00 UTC), then 20 quiet hours
FIRST = datetime.datetime(2026, 11, 1, 3, tzinfo=datetime.UTC)
N = 26
STANDARD = datetime.timezone(datetime.timedelta(hours=-5))
NEW_YORK = zoneinfo.ZoneInfo("America/New_York")
# from, m/s: None is unknown; calm, north and missing among them
WINDS = [(360, 2.6), (None, 1.5), (0, 0.0), (None, None), (350, 4.1), (10, 3.6)]
ROWS = [
    (FIRST + datetime.timedelta(hours=i), *(WINDS[i] if i < 6 else (10 * i, 1.0 + i / 10)))
    for i in range(N)
]
STATES = [DIRECTED, VARIABLE, CALM, MISSING, *[DIRECTED] * 22]


def isd_lite():
    def cell(value, scale=1):
        return -9999 if value is None else round(value * scale)

    rows = [
        f"{at:%Y %m %d %H} -9999 -9999 -9999{cell(wind):6d}{cell(speed, 10):6d} -9999 -9999 -9999"
        for at, wind, speed in ROWS
    ]
    return "\n".join(rows)


def ending(at):
    """Day, and hour 1 to 24 that ends then, on the standard clock."""
    start = at.astimezone(STANDARD)
    return start, start.hour + 1


def tmy3():
    rows = [
        '999999,"MADE UP FIELD",NC,-5.0,35.900,-79.900,240',
        "Date (MM/DD/YYYY),Time (HH:MM),Wdir (degrees),Wspd (m/s)",
    ]
    for at, wind, speed in ROWS:
        day, hour = ending(at)
        # the format has no mark for variable: 0 with a speed is no direction
        lost = -9900 if speed is None else 0
        cells = (lost if wind is None else wind, -9900 if speed is None else speed)
        rows.append(f"{day:%m/%d/%Y},{hour:02d}:00,{cells[0]},{cells[1]}")
    return "\n".join(rows)


def epw():
    rows = [
        "LOCATION,Made Up Field,NC,USA,TMY3,999999,35.90,-79.90,-5.0,240.0",
        *["-"] * 6,
        "DATA PERIODS,1,1,Data,Sunday,11/1,11/2",
    ]
    for at, wind, speed in ROWS:
        day, hour = ending(at)
        cells = (999 if wind is None else wind, 999 if speed is None else speed)
        row = [day.year, day.month, day.day, hour, 0, "-", *[0] * 14, *cells, *[0] * 13]
        rows.append(",".join(str(x) for x in row))
    return "\n".join(rows)


def meteo(times, offset_s=0, **units):
    return json.dumps(
        {
            "utc_offset_seconds": offset_s,
            "hourly_units": {"wind_speed_10m": "m/s", **units},
            "hourly": {
                "time": times,
                "wind_speed_10m": [speed for _, _, speed in ROWS],
                "wind_direction_10m": [wind for _, wind, _ in ROWS],
            },
        }
    )


def meteo_utc():
    return meteo([f"{at:%Y-%m-%dT%H:%M}" for at, _, _ in ROWS])


def meteo_fixed_offset():
    """One offset for the whole series, over the end of summer time too."""
    moved = [at - datetime.timedelta(hours=4) for at, _, _ in ROWS]
    return meteo([f"{at:%Y-%m-%dT%H:%M}" for at in moved], -14400)


def meteo_epoch():
    return meteo([int(at.timestamp()) for at, _, _ in ROWS], time="unixtime")


def table(time_name, stamp):
    rows = [f"{time_name},wind_dir_deg,wind_ms"]
    for at, wind, speed in ROWS:
        lost = "VRB" if wind is None and speed is not None else ""
        rows.append(
            f"{stamp(at)},{lost if wind is None else wind},{'' if speed is None else speed}"
        )
    return "\n".join(rows) + "\n"


def table_utc():
    return table("time_utc", lambda at: f"{at:%Y-%m-%d %H:%M}")


def table_zulu():
    return table("time", lambda at: f"{at:%Y-%m-%dT%H:%M:%SZ}")


def table_fixed_offset():
    return table("time", lambda at: at.astimezone(STANDARD).isoformat())


def table_local_with_offset():
    """01:00-04:00 and 01:00-05:00 are two hours."""
    return table("time", lambda at: at.astimezone(NEW_YORK).isoformat())


def table_clock():
    """What the clock on the wall shows, 01:00 twice; the zone is the user's answer."""
    return table("time", lambda at: f"{at.astimezone(NEW_YORK):%Y-%m-%d %H:%M}")


def table_epoch():
    return table("epoch", lambda at: int(at.timestamp()))


def table_epoch_ms():
    return table("epoch_ms", lambda at: 1000 * int(at.timestamp()))


ENCODINGS = (
    *(isd_lite, tmy3, epw, meteo_utc, meteo_fixed_offset, meteo_epoch),
    *(table_utc, table_zulu, table_fixed_offset, table_local_with_offset, table_epoch),
    *(table_epoch_ms, table_clock),
)


@pytest.mark.parametrize("encoding", ENCODINGS)
def test_one_table(encoding):
    answers = Answers(zone="America/New_York") if encoding is table_clock else None
    hours = read_history([(encoding().encode(), encoding.__name__)], answers)
    wind = [np.nan if s != DIRECTED else w % 360 for s, (_, w, _) in zip(STATES, ROWS, strict=True)]
    speed = [np.nan if s is None else s for _, _, s in ROWS]
    assert hours.start_s.tolist() == [int(at.timestamp()) for at, _, _ in ROWS]
    assert hours.state.tolist() == STATES
    np.testing.assert_array_equal(hours.wind_from_deg, wind)
    np.testing.assert_allclose(hours.speed_mps, speed, rtol=1e-12)
    np.testing.assert_array_equal(hours.half_width_deg, np.where(np.isnan(wind), np.nan, 5.0))
    assert np.isnan(hours.gust_mps).all()
