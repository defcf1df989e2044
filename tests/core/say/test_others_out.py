"""Who else is out, as one's own page tells it: the seat, how it lies, the ways."""

from core.answer.one_sit import answer_sit
from core.say.hunters.others import others_out
from tests.core.party.test_seating import stands_at
from tests.grounds import PIEDMONT, at, ground, lane, sit_of, wind


def told(taken, sits=("morning", "evening")):
    """A at 0, B 400 yd and C 800 yd east of it, each with a way of its own."""
    more = stands_at((90, 0), (90, 400), (90, 800))
    out = lane(at(PIEDMONT, 90, 400), (90, 440), (90, 5), id_="back-b", stands=("b",), way="out")
    first = [lane_ for lane_ in more["lanes"] if lane_.id != "way-b"]
    way_in = lane(at(PIEDMONT, 90, 400), (0, 440), (0, 5), id_="way-b", stands=("b",), way="in")
    prop = ground(**{**more, "lanes": (*first, way_in, out)})
    return others_out([answer_sit(sit_of(prop, wind(0), sit), taken[sit]) for sit in sits])


def test_seat_bearing_and_both_ways_are_said_once_where_both_sits_are_alike():
    both = {sit: {"b": "Nell", "c": "Owen"} for sit in ("morning", "evening")}
    assert told(both) == [
        "Nell sits at B, 400 yd E of A; in by Way-B; out by Back-B.",
        "Owen sits at C, 800 yd E of A; in and out by Way-C.",
    ]


def test_what_differs_is_said_of_each_sit():
    lines = told({"morning": {"b": "Nell"}, "evening": {"c": "Nell"}})
    assert [line.partition(":")[0] for line in lines] == ["Morning", "Evening"]
    assert "sits at B" in lines[0] and "sits at C" in lines[1]
    assert told(dict.fromkeys(("morning", "evening"))) == []
