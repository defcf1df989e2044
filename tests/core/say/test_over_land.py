"""The sentence on where still air slides: names, yards along the ground, and a clock time."""

import dataclasses
import datetime

from core.answer.one_sit import stand_sit
from core.ground.layout import Mark
from core.judge.stand_rows import rows_of
from core.say.reason_kinds import OverLand, StillAirGoes
from core.say.reason_texts import reason_text, still_text
from core.say.reasons import reasons
from core.say.words import at_time
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from tests.core.sit.test_land_air import OCTOBER, draw, heights, on_slope
from tests.grounds import PIEDMONT, at, bed, ground, wind

# the branch of the draw: 150 m east of the stand, running north
BRANCH = Mark(
    "branch",
    "Bent Nail Branch",
    "water",
    "LineString",
    tuple(at(at(PIEDMONT, 90, 164), 0, yards) for yards in (0, 200, 500)),
)


def told(sit, kept, date=OCTOBER):
    prop = ground(
        stand=on_slope(67.0, 13.0),
        areas=(bed(PIEDMONT, 270, 100, id_="near"), bed(PIEDMONT, 25, 450, id_="cane")),
        marks=(BRANCH,),
    )
    ready = prepare_sit(Scene(prop, kept), wind(mph=0.0, cloud=0.0), date, sit)
    seat = stand_sit(ready, prop.stands[0])
    return ready, seat, reasons(ready, seat)


def test_an_evening_says_from_when_and_past_what():
    kept = heights(draw)
    sit, seat, why = told("evening", kept)
    over = next(one for one in why if isinstance(one, OverLand))
    # it begins when the slope wind has turned: with the first row of still air that slides
    own = rows_of(sit.sits, seat.stand)
    assert own.turns.end_s[-1] == over.start_s
    text = reason_text(sit, over)
    head = f"After {at_time(sit, over.start_s)} your air slides down to the ENE, turns along "
    assert text.startswith(head + "Bent Nail Branch after ")
    # by arithmetic: 165 m down the side at 67 degrees, then 300 m along the branch
    along = int(text.split("Cane, ")[1].split(" yd along the ground")[0])
    assert 430 <= along <= 500
    assert " (like " in text
    assert text in still_text(sit, seat, why)


def test_a_morning_says_until_when():
    sit, _, why = told("morning", heights(draw))
    over = next(one for one in why if isinstance(one, OverLand))
    assert over.start_s is None
    assert reason_text(sit, over).startswith(f"Until {at_time(sit, over.end_s)} your air slides")


def test_without_heights_or_on_another_slope_nothing_is_said():
    turned = heights(lambda e, n: draw(-e, n))
    for kept in (None, turned, dataclasses.replace(heights(draw), use=False)):
        _, _, why = told("evening", kept, datetime.date(2026, 11, 10))
        assert any(isinstance(one, StillAirGoes) for one in why)
        assert not any(isinstance(one, OverLand) for one in why)
