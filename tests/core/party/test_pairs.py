"""How strongly one hunter's air reaches another's seat, against sums of one air at a time."""

import datetime
import math

import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Stand
from core.party.pairs import Seated, air_like_yd
from tests import oracle
from tests.grounds import NOV_10, PIEDMONT, at, ground, sit_of, wind

FEET, MPH = 14.0, oracle.MPH
FROM_DEG = 300.0


@pytest.mark.parametrize(("mph", "cover"), [(8.0, "open"), (3.9, "timber")])
@pytest.mark.parametrize(("bearing_deg", "yards"), [(120.0, 160.0), (145.0, 90.0)])
def test_air_on_anothers_seat(mph, cover, bearing_deg, yards):
    """Of the hours of a morning the worst; in light air under trees the speed has a floor."""
    spots = {"a": PIEDMONT, "b": at(PIEDMONT, bearing_deg, yards)}
    stands = tuple(
        Stand(i, i, spot, height_ft=FEET, cover=cover, seat="ladder") for i, spot in spots.items()
    )
    prop = ground(stands=stands)
    answer = answer_sit(sit_of(prop, wind(FROM_DEG, mph, cloud=1.0)))
    one, other = (
        Seated(answer.sit, own) for own in sorted(answer.stands, key=lambda s: s.stand.id)
    )
    found = air_like_yd(one, other)[""]

    there, blows = oracle.Ground(prop), oracle.Wind(FROM_DEG, mph, cloud=1.0)
    day = oracle.sun_day(PIEDMONT[1], PIEDMONT[0], prop.timezone, NOV_10)
    first = datetime.datetime(2026, 11, 10, 11, tzinfo=datetime.UTC).timestamp()  # 6:00
    letters = {oracle.letter_of(there, day, first + 3600 * i, blows) for i in range(5)}
    ((r, b),) = there.polar((0.0, 0.0), [there.xy(spots["b"])])
    likes = []
    for letter in letters:
        speed = mph * MPH
        carried = speed * (FEET * 0.3048 / 10) ** oracle.PROFILE[letter] * oracle.SHELTER[cover]
        half = math.hypot(blows.half_deg, oracle.wander_deg(letter, speed))
        air = oracle.Air((FROM_DEG + 180) % 360, carried, speed, half)
        spread = oracle.COVER_DEG[cover]
        likes.append(oracle.like_yd(oracle.strength(letter, air, spread, FEET * 0.3048, r, b)))
    assert found == pytest.approx(min(likes), rel=0.01)
