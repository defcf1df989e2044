"""TMY3 CSV: a typical year, local standard time, labels that end the hour.

Direction 0 is calm; 0 with a speed, at the seams of months, is no direction;
north is 360. pvlib reads the table; the instants are worked out here, because a
year put together from several is not in order.
"""

import io

import numpy as np

from core.errors import BadWeather
from core.weather.hours import Hours
from core.weather.observations import Observations, left_out, make_observations, to_hours
from core.weather.packed import head_lines, unpacked, without_cut_line
from core.weather.spliced import laid_into_a_year, years_word, zone_word

FORMAT = "tmy3"
HEADER = "Date (MM/DD/YYYY)"
DATE, TIME = HEADER, "Time (HH:MM)"
MISSING_BELOW = -90.0  # -9900 marks no value; temperatures stay above this
FIX = "Use a TMY3 file as it was downloaded."
FIRST_LINE = 3


def looks_like(data: bytes, name: str = "") -> bool:  # noqa: ARG001
    """Whether the second line names the columns of TMY3. Args: bytes, file name."""
    lines = head_lines(data)
    return len(lines) > 1 and lines[1].startswith(HEADER)


def observe(data: bytes, where: str) -> Observations:
    """The hours of a typical year.

    Args: the file's bytes; its name for messages.
    Missing: values far below any that can be are unknown.
    Raises: BadWeather where the table can't be read.
    """
    data, cut = without_cut_line(unpacked(data, where))
    table, about = _table(data, where)
    offset_s = round(about["TZ"] * 3600)
    starts, dated = _starts(table)
    line = np.arange(FIRST_LINE, len(table) + FIRST_LINE)
    left_out(len(table), line[~dated], where)
    reports = make_observations(
        at_s=np.where(dated, starts - offset_s, 0),
        line=line,
        wind_from_deg=_column(table, "wind_direction", where),
        speed_mps=_column(table, "wind_speed", where),
        temperature_c=_column(table, "temp_air", where),
        cloud_frac=_share(_column(table, "TotCld (tenths)", where)),
        rain_mm=_column(table, "Lprecip depth (mm)", where),
        station=str(about["USAF"]),
        place=str(about["Name"]).strip('" '),
        kind="typical",
        format=FORMAT,
        zone=zone_word(offset_s),
        where=where,
        remarks=(f"made of the years {years_word(starts[dated])}",),
    )
    broken = [*line[~dated], *([int(line[-1]) + 1] if cut else [])]
    reports = reports.counted("lines", broken).take(dated)
    return laid_into_a_year(reports, offset_s)


def read(data: bytes, where: str, answers: object = None) -> Hours:  # noqa: ARG001
    """The hourly table of a file. Args: bytes, name, answers (none needed)."""
    reports = observe(data, where)
    return to_hours(reports, f"typical year, {reports.place or reports.station}")


def _table(data: bytes, where: str):
    """pvlib's table and what the first line tells."""
    from pvlib.iotools import read_tmy3

    try:
        text = io.StringIO(data.decode("utf-8", "replace"))
        table, about = read_tmy3(text, map_variables=True)
    except (ValueError, KeyError, TypeError, AttributeError, IndexError, OverflowError) as fault:
        raise BadWeather(f"the TMY3 table can't be read ({fault})"[:160], where, FIX) from fault
    if not len(table):
        raise BadWeather("the TMY3 table has no hours", where, FIX)
    if not -14 <= about["TZ"] <= 14:
        raise BadWeather(f"its time zone {about['TZ']:g} is no offset in hours", where, FIX)
    return table, about


def _starts(table) -> tuple[np.ndarray, np.ndarray]:
    """Start of each hour in the file's clock, seconds, and whether the date is one."""
    import pandas as pd

    days = pd.to_datetime(table[DATE], format="%m/%d/%Y", errors="coerce")
    ends_h = pd.to_numeric(table[TIME].str[:2], errors="coerce")
    good = (days.notna() & ends_h.between(0, 24)).to_numpy()
    midnight = days.to_numpy("datetime64[s]").astype(np.int64)
    starts = midnight + (ends_h.fillna(1).to_numpy(dtype=np.int64) - 1) * 3600
    return np.where(good, starts, starts[good].min() if good.any() else 0), good


def _column(table, name: str, where: str) -> np.ndarray:
    import pandas as pd

    if name not in table:
        if name.startswith("wind"):
            raise BadWeather(f"the TMY3 table has no column {name}", where, FIX)
        return np.full(len(table), np.nan)
    values = pd.to_numeric(table[name], errors="coerce").to_numpy(dtype=float)
    return np.where(values <= MISSING_BELOW, np.nan, values)


def _share(tenths) -> np.ndarray:
    return np.where((tenths >= 0) & (tenths <= 10), tenths / 10, np.nan)
