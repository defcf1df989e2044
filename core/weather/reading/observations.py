"""Reports of one station at any minute, and the one row an hour made of them.

The rules: a report belongs to the nearest start of a row, a whole hour or the minute at
which most reports of a half-hour zone stand; of several in an hour the
one with a wind is taken, then a routine one before a special, then the nearest to
the hour, then the first read. What is dropped or mended is counted in one line.
"""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from core.angles import HALF_WIDTH_DEGREES_DEG
from core.errors import BadWeather
from core.weather.hours import FASTEST_MPS, ROW_S, Floats, Hours, Ints, Spot, make_hours
from core.weather.reading.tallies import tally

QUARTER_S = ROW_S // 4
EARLIEST_S, LATEST_S = -3_786_825_600, 4_102_444_800  # 1850 to 2100
NAMED = 3  # how many impossible winds are named one by one
BROKEN_SHARE = 0.05  # a file with more broken lines than this is another kind of file


@dataclass(frozen=True, eq=False)
class Observations:
    """Reports as read, SI units, any order. Arrays of shape (report,), NaN unknown.

    `special` marks reports made between the routine ones; `line` is the line of
    the file; `station` is empty where the file does not name one; `counts` holds
    what was mended, `first` the places of the first such things.
    """

    at_s: Ints
    speed_mps: Floats
    speed_low_mps: Floats
    speed_high_mps: Floats
    wind_from_deg: Floats
    half_width_deg: Floats
    gust_mps: Floats
    block_h: Floats
    temperature_c: Floats
    cloud_frac: Floats
    rain_mm: Floats
    rain_chance_frac: Floats
    thunder_frac: Floats
    fog: Floats
    special: npt.NDArray[np.bool_]
    line: Ints
    station: str = ""
    place: str = ""
    kind: str = "measured"
    format: str = ""
    zone: str = "UTC"
    north_is_360: bool = True  # then a direction 0 with wind is no direction
    where: str = ""
    line_word: str = "line"  # what `line` counts, for messages
    counts: dict[str, int] = field(default_factory=dict)
    first: dict[str, tuple[str, ...]] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()
    source: str = ""  # the label that is shown
    updated_s: int | None = None  # when the forecasters last changed it
    spot: Spot | None = None  # where the file says it is for

    def __len__(self) -> int:
        return len(self.at_s)

    def take(self, index) -> "Observations":
        """The reports of an index or mask."""
        return dataclasses.replace(self, **{n: getattr(self, n)[index] for n in COLUMNS})

    def counted(self, thing: str, lines) -> "Observations":
        """The same with one more thing counted. Args: a key of `tallies.SAID`; its lines."""
        if not len(lines):
            return self
        counts = {**self.counts, thing: self.counts.get(thing, 0) + len(lines)}
        first = {thing: (f"{self.line_word} {int(np.min(lines))}",), **self.first}
        return dataclasses.replace(self, counts=counts, first=first)


NUMBERS = (
    "speed_mps",
    "speed_low_mps",
    "speed_high_mps",
    "wind_from_deg",
    "half_width_deg",
    "gust_mps",
    "block_h",
    "temperature_c",
    "cloud_frac",
    "rain_mm",
    "rain_chance_frac",
    "thunder_frac",
    "fog",
)
COLUMNS = ("at_s", *NUMBERS, "special", "line")


def make_observations(*, at_s, **columns) -> Observations:
    """Reports from the columns at hand; the others are filled as unknown.

    Args: instants, seconds since 1970 UTC, shape (report,); any fields of
    `Observations`, arrays or scalars.
    """
    at = np.asarray(at_s, np.int64)
    n = len(at)
    filled: dict[str, Any] = {
        name: np.array(np.broadcast_to(columns.pop(name, np.nan), (n,)), float) for name in NUMBERS
    }
    half = filled["half_width_deg"]
    filled["half_width_deg"] = np.where(np.isnan(half), HALF_WIDTH_DEGREES_DEG, half)
    special = np.array(np.broadcast_to(columns.pop("special", False), (n,)), bool)
    line = np.array(np.broadcast_to(columns.pop("line", 0), (n,)), np.int64)
    return Observations(at_s=at, special=special, line=line, **filled, **columns)


def left_out(lines_read: int, bad_lines, where: str) -> None:
    """Refuses a file of which too much can't be read.

    Args: lines in the file; numbers of the broken lines; the file for messages.
    Raises: BadWeather where they are more than a twentieth, or all.
    """
    if not len(bad_lines):
        return
    if len(bad_lines) >= lines_read or len(bad_lines) > max(1, BROKEN_SHARE * lines_read):
        raise BadWeather(
            f"{len(bad_lines)} of {lines_read} lines can't be read, the first is line "
            f"{int(np.min(bad_lines))}",
            where,
            "Download the file again.",
        )


def one_station(names: Iterable[str], where: str) -> str:
    """The station of a file; empty where none is named.

    Args: the names in its lines; the file for messages. Raises: BadWeather for several.
    """
    ids = list(dict.fromkeys(name.strip() for name in names if name.strip()))
    if len(ids) > 1:
        raise BadWeather(
            f"the file holds several stations ({', '.join(ids[:3])})",
            where,
            "Keep the lines of one station.",
        )
    return ids[0] if ids else ""


def without_absurd(reports: Observations) -> Observations:
    """Winds that can't be left out, 0 for no direction told, low gusts raised.

    Args: the reports. Impossible: under 0, over 113 m/s, no number, a direction
    outside 0 to 360, a year before 1850 or after 2099.
    """
    undated = (reports.at_s < EARLIEST_S) | (reports.at_s >= LATEST_S)
    reports = reports.counted("dates", reports.line[undated]).take(~undated)
    speed, wind = reports.speed_mps, reports.wind_from_deg
    with np.errstate(invalid="ignore"):
        bad = (speed < 0) | (speed > FASTEST_MPS) | np.isinf(speed) | (wind < 0) | (wind > 360)
    if bad.any():
        named = np.flatnonzero(bad)
        said = tuple(
            f"{reports.line_word} {reports.line[at]}: {speed[at]:g} m/s from {wind[at]:g}"
            for at in (named if len(named) <= NAMED else named[:1])
        )
        reports = dataclasses.replace(reports, first={"absurd": said, **reports.first})
        reports = reports.counted("absurd", reports.line[bad]).take(~bad)
    speed, gust = reports.speed_mps, reports.gust_mps
    with np.errstate(invalid="ignore"):
        unknown = (reports.wind_from_deg == 0) & (speed > 0) & reports.north_is_360
        bad_gust = (gust < 0) | (gust > FASTEST_MPS)
        gust = np.where(bad_gust, np.nan, gust)
        low = (gust < speed) & (gust > 0)
    wind = np.where(unknown, np.nan, reports.wind_from_deg)
    gust = np.where(low, speed, np.where(gust == 0, np.nan, gust))
    mended = dataclasses.replace(reports, wind_from_deg=wind, gust_mps=gust)
    mended = mended.counted("no_direction", reports.line[unknown])
    return mended.counted("bad_gusts", reports.line[bad_gust]).counted("gusts", reports.line[low])


def to_hours(reports: Observations, source: str = "") -> Hours:
    """One row an hour of the reports, with what was mended in its notes.

    Args: the reports of one station; the label shown for them, their own by default.
    Missing: hours without a report get no row; they are counted.
    Raises: BadWeather where no report holds a wind.
    """
    reports = without_absurd(reports)
    if np.isnan(reports.speed_mps).all():
        why = "".join(f" ({line})" for line in tally(reports.counts, reports.first))
        raise BadWeather(f"no report in it holds a wind{why}", reports.where, "Use another file.")
    hour_s, chosen, dropped = _one_an_hour(reports)
    kept = reports.take(chosen)
    astray = np.abs(kept.at_s - hour_s) > QUARTER_S
    reports = reports.counted("astray", kept.line[astray])
    span = (int(hour_s[-1]) - int(hour_s[0])) // ROW_S + 1
    # a direction was undefined in the hours kept, not in reports dropped
    counts = dict(reports.counts) | dropped
    missing = max(0, span - int((~np.isnan(kept.speed_mps)).sum()))
    counts = {"missing": missing, **counts}
    return make_hours(
        start_s=hour_s,
        **{name: getattr(kept, name) for name in NUMBERS},
        kind=reports.kind,
        format=reports.format,
        zone=reports.zone,
        source=source or reports.source,
        updated_s=reports.updated_s,
        spot=reports.spot,
        notes=(*tally(counts, reports.first), *_moved_rows(hour_s), *reports.remarks),
    )


def _moved_rows(start_s: Ints) -> tuple[str, ...]:
    """A remark on rows that begin at several minutes of the hour."""
    minutes = np.unique(start_s % ROW_S) // 60
    if len(minutes) < 2:
        return ()
    said = " and ".join(f":{m:02d}" for m in minutes.tolist())
    return (f"rows begin at {said} UTC, as the file has them",)


def _one_an_hour(reports: Observations) -> tuple[Ints, Ints, dict[str, int]]:
    """Hours, the report taken for each, and how many were dropped for what."""
    at = reports.at_s
    phase = _phases_s(at)
    hour = (at - phase + ROW_S // 2) // ROW_S * ROW_S + phase
    if len(hour) < 2 or np.all(np.diff(hour) > 0):
        return hour, np.arange(len(hour)), {}
    windless = np.isnan(reports.speed_mps)
    order = np.lexsort((np.abs(at - hour), reports.special, windless, hour))
    starts = np.ones(len(order), bool)
    starts[1:] = np.diff(hour[order]) != 0
    chosen = order[starts]
    windy = ~windless
    told = _distinct(at[windy], reports.speed_mps[windy], reports.wind_from_deg[windy])
    instants = len(np.unique(at[windy]))
    dropped = {"duplicates": int(windy.sum()) - told, "differing": told - instants}
    dropped["extra"] = len(at) - len(chosen) - sum(dropped.values())
    return hour[chosen], chosen, dropped


def _phase_s(at_s: Ints) -> int:
    """Seconds past the UTC hour at which the rows of a table start.

    Where clocks are half or a quarter of an hour apart from UTC, most reports stand at
    that minute, and their rows begin there; else rows are UTC hours, and a report of
    05:53 belongs to the next.
    """
    phases, counts = np.unique(at_s % ROW_S, return_counts=True)
    most = int(np.argmax(counts))
    usual = 2 * counts[most] > len(at_s) and phases[most] % QUARTER_S == 0
    return int(phases[most]) if usual else 0


def _phases_s(at_s: Ints) -> Ints:
    """`_phase_s` for each report, shape (report,): of a clock that moves by half an hour, rows
    begin at another minute from then on, as two reports or more in a row show."""
    usual = _phase_s(at_s)
    own = at_s % ROW_S
    if not ((own != usual) & (own % QUARTER_S == 0)).any():
        return np.full(len(at_s), usual, np.int64)
    instants, back = np.unique(at_s, return_inverse=True)
    own = instants % ROW_S
    run = np.cumsum(np.concatenate([[0], np.diff(own) != 0]))
    apart = (np.bincount(run)[run] > 1) & (own % QUARTER_S == 0)
    return np.where(apart, own, usual)[back]


def _distinct(*columns) -> int:
    """How many different rows the columns hold."""
    columns = tuple(np.nan_to_num(column, nan=-1.0) for column in columns)
    order = np.lexsort(columns)
    differs = np.zeros(max(len(order) - 1, 0), bool)
    for column in columns:
        differs |= np.diff(column[order]) != 0
    return min(1, len(order)) + int(differs.sum())
