"""A large ground does not bury the answer under the places that no air reaches."""

import re

from core.answer.one_sit import stand_sit
from core.show.card import MOST_FAR, air_html
from tests.grounds import PIEDMONT, bed, ground, sit_of, wind


def told(n: int) -> str:
    """The table of a north wind, with so many beds two miles upwind."""
    beds = tuple(bed(PIEDMONT, 350 + i, 3500, id_=f"bed{i}") for i in range(n))
    sit = sit_of(ground(areas=beds), wind(0.0))
    return air_html(sit, stand_sit(sit, sit.scene.ground.stands[0]))


def test_far_places_are_named_up_to_a_dozen_and_counted_beyond():
    assert len(re.findall("upwind", told(MOST_FAR))) == MOST_FAR
    assert " more" not in told(MOST_FAR)
    many = told(MOST_FAR + 5)
    assert len(re.findall("upwind", many)) == MOST_FAR and "; and 5 more." in many
