"""Why the pick stands above the second: the sentence names what weighed most in the order.

Two seats that differ in one thing only; which of them is first, and the thing, are plain from
the rules of the order (common practice, no source).
"""

import dataclasses

from core.answer.one_sit import answer_sit
from core.ground.layout import Wanted
from core.say.above import above_text
from tests.grounds import PIEDMONT, at, bed, corridor, ground, sit_of, wind

WANTED = Wanted()
WATCH = Wanted(morning="watch", evening="watch")
TRAIL = corridor(PIEDMONT, (315, 300), (315, 15))


def told(first: dict, second: dict, weather=None, **more) -> tuple[str, str]:
    """The first stand of two, and why. Args: what is special of Ash, and of Oak."""
    place = ground(areas=(bed(PIEDMONT, 315, 200),), corridors=(TRAIL,), **more)
    oak = dataclasses.replace(place.stands[0], **second)
    ash = dataclasses.replace(place.stands[0], **({"id": "ash", "name": "Ash"} | first))
    lanes = tuple(dataclasses.replace(x, stands=("oak", "ash")) for x in place.lanes)
    place = dataclasses.replace(place, stands=(oak, ash), lanes=lanes)
    answer = answer_sit(sit_of(place, weather or wind(315.0)))
    return answer.best.stand.name, above_text(answer)


def test_two_that_are_alike():
    assert told({}, {}) == ("Ash", "Above Oak: as good; its name comes first.")


def test_what_the_owner_wants():
    good, best = ({"wanted": dataclasses.replace(WANTED, morning=w)} for w in ("good", "best"))
    assert told(good, best) == ("Oak", "Above Ash: you marked it best, and good there.")


def test_a_shot_before_watching():
    assert told({"range_yd": 5.0}, {}) == ("Oak", "Above Ash: a shot here, only watching there.")


def test_cleaner_air():
    # from the second seat the bed lies straight downwind, like 400 yards: just-off
    beside = {"at": at(PIEDMONT, 315, 560), "edge_ok": False, "wanted": WATCH}
    name, why = told({"wanted": WATCH}, beside)
    assert (name, why) == ("Ash", "Above Oak: cleaner air.")


def test_no_other_is_go():
    assert told({"closed": True}, {}) == ("Oak", "No other stand is go.")


def test_nothing_is_said_of_the_least_bad():
    assert told({"closed": True}, {"closed": True})[1] == ""
