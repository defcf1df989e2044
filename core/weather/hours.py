"""The one hourly table that every source of wind is turned into.

A row covers [start, start + 1 h); it starts where its source has it start, which is no
UTC hour where clocks are half an hour apart from it. Four states keep calm, variable and
missing apart from a direction; no state is ever written as a magic direction.
"""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

DIRECTED, CALM, VARIABLE, MISSING = 0, 1, 2, 3
STATE_WORDS = ("directed", "calm", "variable", "missing")
Spot = tuple[float, float]  # (lon, lat) [deg]

ROW_S = 3600
FASTEST_MPS = 113.0  # the strongest gust on record: World Meteorological Organization


def _nan(n: int) -> Floats:
    return np.full(n, np.nan)


@dataclass(frozen=True, eq=False)
class Hours:
    """Hourly weather, sorted by start, one row an hour, gaps allowed.

    Fields of shape (hour,): `start_s` seconds since 1970 UTC; `state` one of the
    four; `wind_from_deg` and `half_width_deg` NaN unless directed; `speed_mps` at
    10 m, 0 when calm, NaN when missing, with the ends of a range beside it;
    `gust_mps` NaN for no gust given; `cloud_frac` 0 to 1, NaN for none given;
    `block_h` the length of the source's own interval; the rest is shown only.
    """

    start_s: Ints
    state: npt.NDArray[np.int8]
    wind_from_deg: Floats
    half_width_deg: Floats
    speed_mps: Floats
    speed_low_mps: Floats
    speed_high_mps: Floats
    gust_mps: Floats
    cloud_frac: Floats
    temperature_c: Floats
    block_h: Floats
    rain_mm: Floats
    rain_chance_frac: Floats
    thunder_frac: Floats
    fog: Floats  # 1 said, 0 said not, NaN not in this source
    format: str = "typed"
    zone: str = "UTC"
    source: str = ""
    kind: str = "forecast"  # forecast, typed, typical, measured, modelled, unsaid
    updated_s: int | None = None  # when the forecasters last changed it
    fetched_s: int | None = None  # when this machine got it
    held: bool = False  # a typed wind is held for every hour asked for
    notes: tuple[str, ...] = field(default=())
    spot: Spot | None = None  # where the source says it is for

    def __len__(self) -> int:
        return len(self.start_s)

    def take(self, index) -> "Hours":
        """The rows of an index or mask, all else kept."""
        picked = {
            f.name: getattr(self, f.name)[index]
            for f in dataclasses.fields(self)
            if isinstance(getattr(self, f.name), np.ndarray)
        }
        return dataclasses.replace(self, **picked)

    def at_rows(self, start_s: Ints) -> "Hours":
        """One row for each start asked for; those not in the table are missing.

        A start that lies inside of a row is answered by it. A held (typed) wind answers
        every start with its one row.
        """
        start_s = np.asarray(start_s, np.int64)
        if self.held:
            return dataclasses.replace(
                self.take(np.zeros(len(start_s), int)), start_s=start_s, held=False
            )
        if not len(self):
            return dataclasses.replace(
                make_hours(start_s=start_s), **self._labels(), notes=self.notes
            )
        known = self.holds(start_s)
        picked = self.take(self._row_at(start_s))
        blank = make_hours(start_s=start_s)
        merged = {
            f.name: np.where(known, getattr(picked, f.name), getattr(blank, f.name)).astype(
                getattr(blank, f.name).dtype
            )
            for f in dataclasses.fields(self)
            if isinstance(getattr(self, f.name), np.ndarray)
        }
        return dataclasses.replace(picked, **{**merged, "start_s": start_s})

    def holds(self, time_s: Ints) -> npt.NDArray[np.bool_]:
        """Whether a row holds each instant. Args: epoch seconds, any shape."""
        time_s = np.asarray(time_s, np.int64)
        if self.held or not len(self):
            return np.full(time_s.shape, self.held)
        since = time_s - self.start_s[self._row_at(time_s)]
        return (since >= 0) & (since < ROW_S)

    def _row_at(self, time_s: Ints) -> Ints:
        """The last row that starts by each instant, kept inside the table."""
        return np.maximum(np.searchsorted(self.start_s, time_s, side="right") - 1, 0)

    @property
    def phase_s(self) -> int:
        """Seconds past the UTC hour at which its rows, or most of them, start; 0 without."""
        phases = self.start_s % ROW_S
        if not len(self) or (phases == phases[0]).all():
            return int(phases[0]) if len(self) else 0
        return int(np.bincount(phases).argmax())

    def of_one_phase(self, time_s: int) -> "Hours":
        """Its rows from where they start at the minute of the hour at which the one near an
        instant does: all, but where a clock moves by half an hour. Args: epoch seconds."""
        phases = self.start_s % ROW_S
        if not len(self) or (phases == phases[0]).all():
            return self
        near = int(self._row_at(np.array([time_s], np.int64))[0])
        others = np.flatnonzero(phases[: near + 1] != phases[near])
        return self.take(slice(int(others[-1]) + 1 if len(others) else 0, None))

    def _labels(self) -> dict:
        names = ("format", "zone", "source", "kind", "updated_s", "fetched_s", "spot")
        return {name: getattr(self, name) for name in names}


def make_hours(*, start_s, **columns) -> Hours:
    """A table from the columns at hand; the others are filled as missing.

    Args:
        start_s: row starts, seconds since 1970 UTC, any order. Shape (hour,).
        columns: any fields of `Hours`; arrays of shape (hour,) or scalars.

    `state` is worked out when not given: no speed is missing, speed 0 is calm,
    a speed without a direction is variable, else directed. Speed 0 beats any
    direction. Directions are wrapped into [0, 360); rows are sorted by start.

    Raises: ValueError on an unknown column, a repeated start or a shape that
    does not fit (a bug of a reader, not of a file).
    """
    start = np.asarray(start_s, np.int64)
    n = len(start)
    names = {f.name for f in dataclasses.fields(Hours)}
    unknown = set(columns) - names
    if unknown:
        raise ValueError(f"not columns of the hourly table: {sorted(unknown)}")
    arrays, labels = {}, {}
    labelled = {"format", "zone", "source", "kind", "updated_s", "fetched_s"}
    labelled |= {"held", "notes", "spot"}
    for name in names - {"start_s", "state"}:
        if name in labelled:
            if name in columns:
                labels[name] = columns[name]
            continue
        value = columns.get(name)
        arrays[name] = _nan(n) if value is None else np.array(np.broadcast_to(value, (n,)), float)
    speed = arrays["speed_mps"]
    if columns.get("state") is None:
        state = _worked_out_state(speed, arrays["wind_from_deg"])
    else:
        state = np.broadcast_to(columns["state"], (n,))
    state = np.array(state, np.int8)
    directed = state == DIRECTED
    arrays["wind_from_deg"] = np.where(directed, np.mod(arrays["wind_from_deg"], 360.0), np.nan)
    arrays["half_width_deg"] = np.where(directed, arrays["half_width_deg"], np.nan)
    arrays["speed_mps"] = np.where(state == CALM, 0.0, np.where(state == MISSING, np.nan, speed))
    for end in ("speed_low_mps", "speed_high_mps"):
        arrays[end] = np.where(np.isnan(arrays[end]), arrays["speed_mps"], arrays[end])
    arrays["block_h"] = np.where(np.isnan(arrays["block_h"]), 1.0, arrays["block_h"])
    order = np.argsort(start, kind="stable")
    if n and np.any(np.diff(start[order]) == 0):
        raise ValueError("two rows of the hourly table start at the same instant")
    if np.any(directed & np.isnan(arrays["half_width_deg"])):
        raise ValueError("a directed hour without a half-width")
    ordered: dict[str, Any] = {name: array[order] for name, array in arrays.items()}
    return Hours(start_s=start[order], state=state[order], **ordered, **labels)


def _worked_out_state(speed_mps: Floats, wind_from_deg: Floats):
    """Calm beats any direction; a speed without a direction is variable."""
    moving = np.where(np.isnan(wind_from_deg), VARIABLE, DIRECTED)
    return np.where(np.isnan(speed_mps), MISSING, np.where(speed_mps == 0, CALM, moving))


def end_to_end(tables: Sequence[Hours]) -> Hours:
    """Some tables as one, row after row, with the labels of the first.

    Args: at least one table; the starts of the whole need not be in order.
    """
    first = tables[0]
    columns: dict[str, Any] = {
        f.name: np.concatenate([getattr(table, f.name) for table in tables])
        for f in dataclasses.fields(Hours)
        if isinstance(getattr(first, f.name), np.ndarray)
    }
    return dataclasses.replace(first, **columns)
