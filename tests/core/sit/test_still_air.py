"""Still air on a slope, and the floors of light air: the chain against its own formulas.

The bed is two yards wide, so that it is one place; what the chain makes of it is worked
out again from `core.air` for that place.
"""

import numpy as np
import pytest

from core.air.drift import equivalent_distance_m, strength
from core.air.spread import spread_rad
from core.ground.layout import Stand
from core.sit.verdicts import CLEAN, WRONG, grade
from core.units import M_PER_YD, MPS_PER_MPH
from tests.grounds import PIEDMONT, bed, ground, judged, sit_of, wind

YARDS, ASIDE_DEG = 150.0, 50.0
BED = bed(PIEDMONT, 180.0 - ASIDE_DEG, YARDS, half_yd=1.0, held="always")


def like_yd(air, carried_mps, effective_mps, aside_deg, height_m=0.0):
    """What reaches the bed in one class of air, told in yards."""
    c = strength(
        distance_m=YARDS * M_PER_YD,
        offset_rad=np.radians(aside_deg),
        stability=air,
        carried_mps=carried_mps,
        sigma_rad=spread_rad(air, effective_mps, 15.0),
        height_m=height_m,
    )
    return float(equivalent_distance_m(c)) / M_PER_YD


def calm(grade_pct, mph=0.0):
    """A timber stand on the ground whose slope goes down to the south; a clear night."""
    stand = Stand(
        "oak",
        "Oak",
        PIEDMONT,
        seat="ground-blind",
        height_ft=0.0,
        downhill_deg=180.0,
        grade_pct=grade_pct,
    )
    return judged(ground(stand=stand, areas=(BED,)), wind(None, mph=mph, cloud=0.0))


def test_still_air_slides_as_a_direction_that_is_sure():
    # class F, 0.7 m/s down the slope; doubt of a report has no part in it
    sure, vague = (like_yd(5, 0.7, 0.75, ASIDE_DEG - w) for w in (0.0, 20.0))
    assert (grade(sure, 250, 500), grade(vague, 250, 500)) == (CLEAN, WRONG)
    assert calm(20.0).hours.still[0] == CLEAN


@pytest.mark.parametrize(("grade_pct", "known"), [(1.4, False), (1.5, True), (20.0, True)])
def test_a_slope_wind_under_a_twentieth_is_not_named(grade_pct, known):
    # 0.7 m/s at a grade of 20 %: 0.049 at 1.4, 0.0525 at 1.5
    assert (calm(grade_pct).hours.still[0] >= 0) == known


def test_a_slope_wind_that_is_named_is_carried_at_half_a_metre_a_second():
    assert calm(1.5).hours.still[0] == grade(like_yd(5, 0.5, 0.75, ASIDE_DEG), 250, 500)
    assert grade(like_yd(5, 0.0525, 0.75, ASIDE_DEG), 250, 500) == WRONG


def test_light_air_thins_no_less_than_at_half_a_metre_a_second():
    # 1.5 m/s on a clear night, class F, at 2 m in timber: x 0.2^0.55 x 0.3 leave 0.186
    stand = Stand("oak", "Oak", PIEDMONT, seat="ground-blind", height_ft=0.0)
    own = judged(
        ground(stand=stand, areas=(BED,)),
        wind(0.0, 1.5 / MPS_PER_MPH, 0.0, half_width_deg=0.0),
    )
    assert own.hours.air.carried_mps[0] == pytest.approx(1.5 * 0.2**0.55 * 0.3)
    # an hour's air strays: side gusts of 0.5 m/s in an hour, of 0.2 in ten minutes
    strays_deg = np.degrees(np.sqrt((0.5 / 1.5) ** 2 - (0.2 / 1.5) ** 2))
    worked = like_yd(5, 0.5, 1.5, ASIDE_DEG - strays_deg)
    # a corner of the bed lies half a degree nearer; without the floor it were like 0.6 of it
    assert own.hours.equivalent_yd[0, 0] == pytest.approx(worked, rel=0.1)


def test_still_air_has_the_class_of_no_wind():
    # over 6 m/s on a clear night is D, no wind is F
    rows = sit_of(ground(), wind(45.0, 14.0, cloud=0.0)).rows
    assert (rows.stability[0], rows.still_class[0]) == (3, 5)
