"""Two hunters: close seats, shots that point at a seat, shared lanes, air on a trail."""

from core.answer.one_sit import stand_sit
from core.ground.layout import Stand
from core.say.two_hunters import NOT_CLEARANCE, together
from tests.grounds import PIEDMONT, at, corridor, ground, lane, sit_of, wind


def pair(bearing_deg, yards, *, trail=(), wind_from=0.0, lanes=None):
    """Two stands, Oak at the centre and Ash elsewhere, with what a test needs."""
    oak = Stand("oak", "Oak", PIEDMONT)
    ash = Stand("ash", "Ash", at(PIEDMONT, bearing_deg, yards))
    lanes = (
        lanes
        if lanes is not None
        else (
            lane(PIEDMONT, (0, 440), (0, 5), id_="north-walk", stands=("oak",)),
            lane(PIEDMONT, (180, 440), (bearing_deg, yards), id_="south-walk", stands=("ash",)),
        )
    )
    place = ground(stands=(oak, ash), lanes=lanes, corridors=tuple(trail))
    sit = sit_of(place, wind(wind_from))
    mine, other = (stand_sit(sit, s) for s in place.stands)
    return sit, mine, other


def told(*args, **more):
    sit, mine, other = pair(*args, **more)
    return together(sit, mine, other, "Nell")


def test_a_seat_within_150_yards_is_said_and_one_beyond_is_not():
    assert any("149 yd from you" in line for line in told(90, 149))
    assert not [line for line in told(90, 151) if "yd from you" in line]


def test_a_shot_within_ten_degrees_of_the_other_seat_is_said_out_to_300_yards():
    # the trail runs north to south 20 yd east of Oak: the shot goes due east
    trail = corridor(PIEDMONT, (10, 115), (170, 115), id_="trail")
    assert any(line.startswith("In line: your shot") for line in told(90, 250, trail=[trail]))
    assert any(line.startswith("In line: your shot") for line in told(81, 250, trail=[trail]))
    assert not any("In line: your" in line for line in told(78, 250, trail=[trail]))
    assert not any("In line: your" in line for line in told(90, 310, trail=[trail]))


def test_a_shared_lane_is_said():
    both = (lane(PIEDMONT, (0, 440), (0, 5), id_="north-walk", stands=("oak", "ash")),)
    assert any(line.startswith("You share North-Walk") for line in told(90, 200, lanes=both))


def test_air_on_the_others_trail_is_said_downwind_and_not_upwind():
    # in range of the other alone: air straight onto one's own trail is no sit
    trail = corridor(PIEDMONT, (175, 250), (160, 52), id_="trail")
    near = [trail]
    assert any("Your air lies on Nell's trail" in x for x in told(160, 40, trail=near))
    assert not any("Your air" in x for x in told(160, 40, trail=near, wind_from=180.0))


def test_no_warning_is_never_called_safe():
    assert "not clearance" in NOT_CLEARANCE
    sit, mine, other = pair(90, 900)
    for line in together(sit, mine, other, "Nell"):
        assert "safe" not in line


def test_names_are_said_as_they_are():
    sit, mine, other = pair(90, 100)
    assert any(line.startswith("<b>Nell") for line in together(sit, mine, other, "<b>Nell"))
