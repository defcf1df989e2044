"""Times that are plain numbers: epochs, spreadsheet days, dates run together."""

import math
import re
from collections.abc import Sequence

import numpy as np

from core.errors import BadWeather
from core.weather.clocks.stamps import parse_stamp
from core.weather.hours import Floats
from core.weather.reading.words import tokens

EXCEL_EPOCH_DAYS = 25569  # 1 January 1970 as a spreadsheet counts days
EXCEL_RANGE = (20_000.0, 80_000.0)
EPOCH_SCALES = ((1e8, 4.2e9, 1.0), (1e11, 4.2e12, 1e3), (1e14, 4.2e15, 1e6), (1e17, 4.2e18, 1e9))
LENGTHS = (8, 10, 12, 14)  # of dates run together, to the second
SHEET_REMARK = "times are spreadsheet day numbers, rounded to the minute"
_WHOLE = re.compile(r"(\d{8,14})[.,]0+")  # a date that a program took for a number
_SHORT = re.compile(r"(\d{2})(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01])([01]\d|2[0-4])[0-5]\d")


def without_zeros(cells: Sequence[str]) -> list[str]:
    """The cells with `202611100600.0` as 202611100600. Args: the cells of a column."""
    found = [_WHOLE.fullmatch(cell) for cell in cells]
    return [f[1] if f and len(f[1]) in LENGTHS else c for f, c in zip(found, cells, strict=True)]


def number_times(
    cells: Sequence[str], header: str, where: str
) -> tuple[Floats, Floats, tuple[str, ...]] | None:
    """A column of plain numbers as times; None where it is none, or dates run together.

    Args: the cells, as `without_zeros` leaves them; the column's name; the file.
    Returns: clock times as if they were UTC [s], offsets from UTC (NaN where none is told),
    remarks. Missing: NaN for what is no such number.
    Raises: BadWeather where the name counts from another day than 1970 or in another unit
    than seconds, or the numbers may as well be dates of two-digit years.
    """
    numbers = np.array([_number(cell) for cell in cells])
    good = np.isfinite(numbers)
    if good.sum() <= len(cells) / 2:
        return None
    middle = float(np.median(numbers[good]))
    if EXCEL_RANGE[0] <= middle < EXCEL_RANGE[1]:
        _refuse_count(header, where)
        inside = (numbers >= EXCEL_RANGE[0]) & (numbers < EXCEL_RANGE[1])
        minutes = np.round((numbers - EXCEL_EPOCH_DAYS) * 1440)
        nan = np.full(len(numbers), np.nan)
        return np.where(inside, minutes * 60, np.nan), nan, (SHEET_REMARK,)
    usual = [cell for cell, ok in zip(cells, good, strict=True) if ok]
    if _run_together(usual):
        return None
    return _epochs(numbers, middle, usual, header, where)


def _epochs(numbers: Floats, middle: float, cells: Sequence[str], header: str, where: str):
    for low, high, scale in EPOCH_SCALES:
        if low <= middle < high:
            _refuse_count(header, where)
            _refuse_short_years(cells, where)
            inside = (numbers >= low) & (numbers < high)
            clock = np.where(inside, np.floor(numbers / scale), np.nan)
            return clock, np.where(inside, 0.0, np.nan), ()
    return None


def _number(cell: str) -> float:
    try:
        # 2.026e11 has lost its hours
        plain = cell[:1].isdigit() and "e" not in cell.casefold()
        return float(cell.replace(",", ".")) if plain else math.nan
    except ValueError:
        return math.nan


def _run_together(cells: Sequence[str]) -> bool:
    """Whether all numbers are dates such as 20251101 or 202511010600."""
    for cell in cells:
        stamp = parse_stamp(cell) if len(cell) in LENGTHS and cell.isdigit() else None
        if stamp is None or not 1950 <= stamp.year < 2100:
            return False
        if not (1 <= stamp.first <= 12 and 1 <= stamp.second <= 31):
            return False
    return True


def _refuse_count(header: str, where: str) -> None:
    """Refuses `hours since 1900`: the numbers look like others, and are none."""
    words = tokens(header)
    if "1904" in words or (
        "since" in words and ("1970" not in words or not {"s", "sec", "seconds", "ms"} & set(words))
    ):
        raise BadWeather(
            f"'{header}' counts its times in a way that is not known",
            where,
            "Write them like 2026-11-10 06:00.",
        )


def _refuse_short_years(cells: Sequence[str], where: str) -> None:
    """Refuses 2611100600, which may be 10 November 2026 or a second of 2052."""
    if all(_SHORT.fullmatch(cell) for cell in cells):
        raise BadWeather(
            f"'{cells[0]}' may be a date with a year of two digits, or a count of seconds",
            where,
            "Write years with four digits.",
        )
