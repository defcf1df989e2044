"""What each stand's sit came to in the winds that may come instead of the forecast's.

Values only: `core.chance` draws the winds and has them judged, `core.say` says them.
"""

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from core.sit.prepare import Sits
from core.sit.verdicts import STAY
from core.weather.model_runs import ModelRuns

Floats = npt.NDArray[np.float64]
Ints8 = npt.NDArray[np.int8]

SAMPLED, AROUND_RUNS = "sampled", "ensemble"


@dataclass(frozen=True, slots=True)
class Misses:
    """How far forecasts miss here, against those that the law was fitted on.

    `q` multiplies the law's spreads; `pairs`: how many hours of one's own moved it, 0 for none.
    `runs`: those of a model that forecasts are moved by; None where none are kept.
    """

    q: float
    pairs: int = 0
    runs: ModelRuns | None = None


@dataclass(frozen=True, eq=False)
class Chances:
    """One sit in many winds.

    `none`: why there are no chances, empty where there are; all else is then empty. `groups`:
    the group of each stand in each draw, by its id, shape (draw,), and `verdicts` likewise;
    stands that are out whatever the wind are not in them. `wind_from_deg`: mean over the
    hours of the window, NaN without; `slowest_mps`: the least of them; shapes (draw,).
    `source`: how they were drawn; around runs that lie `runs_apart_deg` from the forecast on the
    whole, NaN without. `drawn`: the draws as sits, from `first` on.
    """

    none: str = ""
    groups: dict[str, Ints8] = field(default_factory=dict)
    verdicts: dict[str, Ints8] = field(default_factory=dict)
    wind_from_deg: Floats = field(default_factory=lambda: np.zeros(0))
    slowest_mps: Floats = field(default_factory=lambda: np.zeros(0))
    misses: Misses = field(default_factory=lambda: Misses(1.0))
    lead_h: float = np.nan
    source: str = SAMPLED
    runs_apart_deg: float = np.nan
    drawn: Sits | None = None
    first: int = 0

    @property
    def draws(self) -> int:
        return len(self.wind_from_deg)

    def shares(self, stand: str) -> tuple[float, float, float] | None:
        """The shares of go, can't call and stay out; None for a stand without.

        Args: the stand's id.
        """
        found = self.groups.get(stand)
        if found is None or not len(found):
            return None
        go, cant, stay = (np.bincount(found, minlength=STAY + 1) / len(found)).tolist()
        return go, cant, stay
