"""Many runs of one weather model: how far they part, put onto the forecast in hand.

A model is run many times over from beginnings that differ a little. Where its runs part tells
in which hours, and to which side, a forecast is unsure. How many of them agree is no chance:
they part by less than forecasts miss.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.weather.hours import ROW_S

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class ModelRuns:
    """The wind of each run, hour by hour: `start_s` (hour,), the others (run, hour).

    `blows`: east + i north of where it blows to [m/s]; NaN where it is not told. `fetched_s`:
    when they were got. [epoch s]
    """

    start_s: Ints
    blows: npt.NDArray[np.complex128]
    fetched_s: float

    def __len__(self) -> int:
        return len(self.blows)

    @property
    def horizon_s(self) -> int:
        """End of the last hour that every run tells."""
        told = self.start_s[np.isfinite(self.blows).all(axis=0)]
        return int(told[-1]) + ROW_S if len(told) else 0

    def tell(self, start_s) -> Bools:
        """Whether every run tells an hour that begins within half an hour of each.

        Args: starts of hours [epoch s], shape (hour,).
        """
        at, apart_s = self._nearest(start_s)
        return (apart_s <= ROW_S // 2) & np.isfinite(self.blows[:, at]).all(axis=0)

    def moved_onto(self, start_s, speed_mps, wind_from_deg) -> tuple[Floats, Floats]:
        """A forecast as each run would have it: moved by how far the run lies from their mean.

        Args: hours that the runs tell [epoch s]; the forecast's speed [m/s] and direction from
        [deg], shapes (hour,); a calm has none. Returns: speeds and directions, (run, hour); NaN
        where the forecast has no speed, or blows without a direction.
        Source: plain vectors; moving runs onto another forecast is common practice, no source.
        """
        at, _ = self._nearest(start_s)
        here = self.blows[:, at]
        moved = blows_to(speed_mps, wind_from_deg) + here - here.mean(axis=0)
        return np.abs(moved), came_from_deg(moved)

    def apart_deg(self, start_s, speed_mps, wind_from_deg) -> float:
        """How far the mean wind of the runs lies from the forecast's over some hours. [deg]

        Args: as `moved_onto`. Returns: NaN where either has no direction on the whole.
        """
        at, _ = self._nearest(start_s)
        theirs = np.nanmean(self.blows[:, at])
        ours = np.nanmean(blows_to(speed_mps, wind_from_deg))
        if not (abs(theirs) > 0.0 and abs(ours) > 0.0):
            return math.nan
        return abs(math.degrees(np.angle(theirs / ours)))

    def _nearest(self, start_s) -> tuple[Ints, Ints]:
        """The hour nearest to each instant, and how far off it is. [s]"""
        start_s = np.asarray(start_s)
        after = np.clip(np.searchsorted(self.start_s, start_s), 1, len(self.start_s) - 1)
        before_s, after_s = (np.abs(self.start_s[k] - start_s) for k in (after - 1, after))
        return np.where(before_s <= after_s, after - 1, after), np.minimum(before_s, after_s)


def blows_to(speed_mps, wind_from_deg):
    """A wind as east + i north of where it blows to [m/s]. Elementwise.

    Args: speed [m/s], direction from [deg]. Missing: a calm needs no direction; NaN otherwise.
    """
    speed = np.asarray(speed_mps, float)
    toward = np.radians(np.where(speed == 0.0, 0.0, np.asarray(wind_from_deg, float)) + 180.0)
    return speed * (np.sin(toward) + 1j * np.cos(toward))


def came_from_deg(blows) -> Floats:
    """Where such a wind is from, 0 to 360; NaN for none. [deg]  Elementwise. Args: it."""
    found = np.degrees(np.angle(1j * np.conj(blows))) + 180.0
    return np.where(np.abs(blows) > 0.0, found % 360.0, np.nan)
