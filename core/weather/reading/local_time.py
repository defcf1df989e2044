"""Clock times of a place as instants: hours that the clock shows twice, or never."""

import datetime

import numpy as np

from core.errors import BadRequest, Choice, NeedsAnswer
from core.weather.answers import zone_of
from core.weather.hours import Ints

DAY_S = 86_400
OFFERED_ZONES = (
    "UTC",
    "America/New_York",
    "America/Chicago",
    "America/Denver",
    "America/Los_Angeles",
)


def offsets_s(clock_s: Ints, zone: datetime.tzinfo) -> tuple[Ints, Ints]:
    """Offsets from UTC of clock times, read as the earlier and as the later. [s], [s]

    Args: clock times as if they were UTC, shape (row,); the zone.
    Days on which no clock moves are looked up once.
    """
    days, place = np.unique(clock_s // DAY_S, return_inverse=True)
    at_start = np.array([_offset_s(int(d) * DAY_S, zone) for d in days], np.int64)
    # the later reading: some clocks go back from midnight, to an evening shown twice
    at_end = np.array([_offset_s(int(d + 1) * DAY_S - 1, zone, 1) for d in days], np.int64)
    first, second = at_start[place], at_start[place]
    for row in np.flatnonzero((at_start != at_end)[place]):
        first[row] = _offset_s(int(clock_s[row]), zone)
        second[row] = _offset_s(int(clock_s[row]), zone, 1)
    return first, second


def _offset_s(clock_s: int, zone: datetime.tzinfo, fold: int = 0) -> int:
    at = datetime.datetime.fromtimestamp(clock_s, datetime.UTC).replace(tzinfo=zone, fold=fold)
    offset = at.utcoffset()
    return int(offset.total_seconds()) if offset is not None else 0


def to_instants(clock_s: Ints, zone: datetime.tzinfo, where: str) -> tuple[Ints, np.ndarray]:
    """Epoch seconds of clock times, and which of them can't be told.

    Args: clock times as if they were UTC, in the order of the file, shape (row,);
    the zone; the file for messages.
    An hour that the clock shows twice is told by the order of the rows; where the
    file has it once, or is in no order, it can't be told.
    Raises: NeedsAnswer for a time that the clock of the zone never shows.
    """
    first, second = offsets_s(clock_s, zone)
    if (first < second).any():
        row = int(np.argmax(first < second))
        raise _never_shown(int(clock_s[row]), int(first[row]), int(second[row]), zone, where)
    later, untold = _repeated(clock_s, first > second)
    return clock_s - np.where(later, second, first), untold


def _repeated(clock_s: Ints, twice: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Which rows are the later of two, and which can't be told."""
    later, untold = np.zeros(len(clock_s), bool), np.zeros(len(clock_s), bool)
    steps = np.diff(clock_s[~twice])
    mixed = bool((steps > 0).any() and (steps < 0).any())
    backwards = bool((steps < 0).any())
    for day in np.unique(clock_s[twice] // DAY_S):
        rows = np.flatnonzero(twice & (clock_s // DAY_S == day))
        rows = rows[::-1] if backwards else rows
        back = np.flatnonzero(np.diff(clock_s[rows]) <= 0)
        if mixed or not len(back):
            untold[rows] = True
        else:
            later[rows[back[0] + 1 :]] = True
    return later, untold


def _never_shown(clock_s: int, first_s: int, second_s: int, zone, where: str) -> NeedsAnswer:
    said = clock_word(clock_s)
    choices = tuple(
        Choice(offset_word(o), f"{said} is {clock_word(clock_s - o)} UTC")
        for o in dict.fromkeys((first_s, second_s, 0))
    )
    return NeedsAnswer(
        f"{said} does not exist in {zone}: the clock skips it, so the file looks like a fixed "
        "offset, not local clock time",
        where,
        "zone",
        choices,
    )


def ask_zone(
    text: str,
    clock_s: int,
    likely: str | None,
    where: str,
    first: tuple[str, ...] = (),
    why: str = "",
) -> NeedsAnswer:
    """The question for the zone of a file's times.

    Args: a time as the file writes it and as if it were UTC; the zone of the ground, or
    None; the file for messages; zones to offer before all others; why it is asked, where
    it is not that nothing tells the zone.
    """
    offered = dict.fromkeys((*first, *((likely,) if likely else ()), *OFFERED_ZONES))
    choices = []
    for name in offered:
        try:
            zone = zone_of(name)
        except BadRequest:
            continue
        utc = clock_s - _offset_s(clock_s, zone)
        choices.append(Choice(name, f"'{text}' is {clock_word(utc)} UTC"))
    why = why or f"'{text}' does not say its time zone"
    return NeedsAnswer(why, where, "zone", tuple(choices))


def clock_word(clock_s: int) -> str:
    """Such as 2025-11-02 01:00. Args: seconds since 1970, as the clock shows them."""
    return f"{datetime.datetime.fromtimestamp(clock_s, datetime.UTC):%Y-%m-%d %H:%M}"


def offset_word(offset_s: int) -> str:
    """Such as UTC-05:00. Args: offset from UTC. [s]"""
    minutes = abs(int(offset_s)) // 60
    return f"UTC{'-' if offset_s < 0 else '+'}{minutes // 60:02d}:{minutes % 60:02d}"
