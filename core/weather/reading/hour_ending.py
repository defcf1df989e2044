"""What the files of typical and modelled years share: tables that pvlib reads, checked
after reading, and local standard times that end their hour.
"""

import csv
import io
from collections.abc import Callable
from typing import Any

import numpy as np

from core.errors import BadWeather
from core.weather.hours import ROW_S, Ints

FARTHEST_ZONE_H = 14
# whatever a reader of tables raises on a broken one
FAULTS = (ValueError, KeyError, TypeError, AttributeError, IndexError, OverflowError, csv.Error)


def table_by_pvlib(
    read: Callable, data: bytes, named: str, where: str, fix: str, **options: Any
) -> tuple[Any, dict]:
    """The table of a file and what its first lines tell.

    Args: pvlib's reader; the file's bytes; the format's name, the file and what to do, for
    messages; the reader's own options. Raises: BadWeather where it can't be read.
    """
    text = data.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n")
    try:
        table, about = read(io.StringIO(text), **options)
    except FAULTS as fault:
        raise BadWeather(f"the {named} table can't be read ({fault})"[:160], where, fix) from fault
    if not len(table):
        raise BadWeather(f"the {named} table has no hours", where, fix)
    return table, about


def zone_offset_s(offset_h: float, where: str, fix: str) -> int:
    """The file's offset from UTC. [s]  Args: in hours; the file and what to do. Raises:
    BadWeather for one that no zone has."""
    if not -FARTHEST_ZONE_H <= offset_h <= FARTHEST_ZONE_H:
        raise BadWeather(f"its time zone {offset_h:g} is no offset in hours", where, fix)
    return round(offset_h * ROW_S)


def starts_of(days, ends_h, first_h: int) -> tuple[Ints, np.ndarray]:
    """Start of each hour in the file's clock, seconds, and whether its date is one.

    Args: dates and the hours at whose end they stand, as pandas columns of shape (hour,),
    what is none of them missing; the first hour of a day, 0 or 1.
    """
    good = (days.notna() & ends_h.between(first_h, 24)).to_numpy()
    midnight = days.to_numpy("datetime64[s]").astype(np.int64)
    starts = midnight + (ends_h.fillna(1).to_numpy(dtype=np.int64) - 1) * ROW_S
    return np.where(good, starts, starts[good].min() if good.any() else 0), good
