"""Typical years: months of several years put behind one another, laid into one.

A file whose hours run on without a jump keeps the dates it states; one put
together from months of several years is laid into a plain year, in its own order.
"""

import dataclasses

import numpy as np

from core.weather.reading.observations import Observations

PLAIN_YEAR = 2001  # no 29 February
LONGEST_STEP_S = 27 * 86400  # a longer step, or one back, is a seam of two years
TYPICAL_REMARK = "a typical year put together from several: it shows no year-to-year spread"


def runs_on(start_s) -> bool:
    """Whether instants go forward without the jump of a seam. Shape (hour,)."""
    steps = np.diff(start_s)
    return bool(np.all((steps > 0) & (steps <= LONGEST_STEP_S)))


def laid_into_a_year(reports: Observations, offset_s: int) -> Observations:
    """A typical year in calendar order.

    Args: reports whose instants come from the dates that the file states; the
    file's offset from UTC. [s]
    Returns: the same where the dates run on, else laid into 2001, without the
    hours of 29 February, which are counted.
    """
    if runs_on(reports.at_s):
        return reports
    local = (reports.at_s + offset_s).astype("datetime64[s]")
    month = local.astype("datetime64[M]")
    since_month = (local - month).astype("timedelta64[s]").astype(np.int64)
    month_number = month.astype(np.int64) % 12
    leap = (month_number == 1) & (since_month >= 28 * 86400)
    plain = np.datetime64(f"{PLAIN_YEAR}-01", "M").astype(np.int64) + month_number
    start = plain.astype("datetime64[M]").astype("datetime64[s]").astype(np.int64) + since_month
    moved = dataclasses.replace(
        reports, at_s=start - offset_s, remarks=(*reports.remarks, TYPICAL_REMARK)
    )
    return moved.counted("leap", reports.line[leap]).take(~leap)


def zone_word(offset_s: int) -> str:
    """The name of a fixed offset from UTC, such as UTC-05:00. Args: seconds."""
    sign = "-" if offset_s < 0 else "+"
    minutes = abs(offset_s) // 60
    return f"UTC{sign}{minutes // 60:02d}:{minutes % 60:02d}"


def years_word(start_s, offset_s: int = 0) -> str:
    """The first and last year of instants, such as `1980 to 2003`."""
    years = (np.asarray(start_s) + offset_s).astype("datetime64[s]").astype("datetime64[Y]")
    first, last = int(years.min().astype(int)) + 1970, int(years.max().astype(int)) + 1970
    return str(first) if first == last else f"{first} to {last}"
