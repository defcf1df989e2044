"""Why the air of a row has no one direction: what makes it doubtful at a stand."""

import numpy as np
import numpy.typing as npt

from core.air.stability import E as CLASS_E
from core.angles import in_ranges
from core.ground.layout import Stand
from core.judge.stand_rows import StandRows, land_at
from core.sit.minutes import TURNING
from core.sit.stand_air import StandAir
from core.units import MPS_PER_MPH
from core.weather.hours import CALM, MISSING, VARIABLE

Ints8 = npt.NDArray[np.int8]
BOTTOM_UNDER_MPS = 3.6  # common practice, no source

SURE, IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT = range(5)
IS_SWIRL, IS_BOTTOM, IS_TURNING, IS_CANCELLED, IS_LEE = range(5, 10)
CAUSE_WORDS = (
    *("", "calm", "variable", "missing", "light"),
    *("swirls", "bottom", "turning", "cancelled", "lee"),
)


def causes_of_doubt(own: StandRows, stand: Stand, air: StandAir) -> Ints8:
    """Why the air of a row has no one direction; `SURE` where it has. Shape (row,).

    Args: the rows of the stand; the stand; its air in each.
    Source: [hanna1983] for light air; bottoms are common practice, no source.
    """
    rows = own.judged.hours
    state, speed = rows.weather.state, rows.speed_mps
    cause = np.full(len(speed), SURE, np.int8)

    def because(code: int, holds) -> None:  # a later one overrules
        if holds is not False:  # of no row: many stands have neither lee nor swirls
            np.copyto(cause, np.int8(code), where=holds)

    # a wind of the limit itself is called, whatever its two parts lose in rounding
    least_mps = rows.ground.air.cant_call_below_mps - 1e-9
    weak = air.effective_mps < least_mps
    because(IS_TURNING, own.kind == TURNING)
    if stand.lies == "bottom":
        because(IS_BOTTOM, (speed < BOTTOM_UNDER_MPS) | (air.stability >= CLASS_E))
    because(IS_LEE, _in_lee(own, stand, air))
    because(IS_SWIRL, _swirls(stand, speed, air))
    weak &= own.kind != TURNING  # there the air is told as what it swings over
    because(IS_LIGHT, weak)
    because(IS_CANCELLED, weak & (speed >= least_mps))
    if not rows.directed.all():
        because(IS_VARIABLE, state == VARIABLE)
        because(IS_CALM, state == CALM)
        because(IS_MISSING, state == MISSING)
    return cause


def _in_lee(own: StandRows, stand: Stand, air: StandAir):
    """Whether the wind may roll back behind a steep fall upwind, where heights show one."""
    own_land = land_at(own.sits.scene, stand)
    if own_land is None:
        return False
    half_width, speed = air.half_width_deg, own.judged.hours.speed_mps
    return own_land.in_lee(air.wind_from_deg, half_width, air.stability, speed)


def _swirls(stand: Stand, speed_mps, air: StandAir):
    """The owner's own knowledge of a seat: both conditions, where both are given."""
    known = stand.swirls
    if known is None or (known.from_deg is None and known.under_mph is None):
        return False
    holds = np.ones(len(speed_mps), bool)
    if known.from_deg is not None:
        holds &= in_ranges(air.wind_from_deg, known.from_deg, air.half_width_deg)
    if known.under_mph is not None:
        holds &= speed_mps < known.under_mph * MPS_PER_MPH
    return holds
