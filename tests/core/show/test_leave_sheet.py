"""The sheet to leave with someone: what must stand on it, and nothing made up."""

import dataclasses

from core.answer.one_sit import answer_sit
from core.ground.layout import Person
from core.show.take_along.leave_sheet import LATE_MIN, back_at_truck_s, leave_sheet
from tests.grounds import ground, sit_of, wind


def sat(**more):
    prop = ground(people=(Person("<b>Nell", 30.0, "555-0147"),), **more)
    sit = sit_of(prop, wind(0))
    return sit, answer_sit(sit).best


def test_where_which_way_when_back_and_what_then():
    sit, own = sat()
    page = leave_sheet([("<b>Nell", sit, own), ("", sit, own)], 0.0)
    for want in ("At Oak", "36.10000, -79.90000", "Way in: Lane", "Back at the truck by", "911"):
        assert want in page
    assert "&lt;b&gt;Nell" in page and "<b>Nell" not in page and "555-0147" in page
    assert "The hunter" in page and page.count('class="line"') > 6
    assert "<script" not in page and "http:" not in page and "https:" not in page


def test_back_is_the_way_out_after_the_sit_and_late_an_hour_more():
    sit, own = sat()
    walk = own.way_out
    assert back_at_truck_s(sit, own) == walk.start_s + 60 * walk.way.minutes
    assert LATE_MIN == 60
    lost = dataclasses.replace(own, way_out=None)
    assert back_at_truck_s(sit, lost) is None
    assert "from us by <span" in leave_sheet([("Nell", sit, lost)], 0.0)
