"""First sit for a guest: an easy seat that is marked, an evening, and somebody near."""

import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Stand
from core.learn.first_sit import GUEST_SEATS, guest_sits
from tests.grounds import PIEDMONT, at, bed, corridor, ground, lane, sit_of, wind


def answered(*stands, weather=None, sit="evening", **more):
    lanes = (lane(PIEDMONT, (0, 440), (0, 5), id_="mown-lane", stands=tuple(s.id for s in stands)),)
    prop = ground(stands=stands, lanes=lanes, **more)
    return answer_sit(sit_of(prop, weather or wind(315, 10), sit))


def ladder(place=PIEDMONT, id_="ladder", **more) -> Stand:
    kept = {"seat": "ladder", "height_ft": 12.0, "guest_ok": True, **more}
    return Stand(id_, id_.title(), place, **kept)


def hang_on(place, id_="perch") -> Stand:
    return Stand(id_, id_.title(), place)


def by_id(answer):
    return {g.seat.stand.id: g for g in guest_sits(answer)}


def test_a_marked_ladder_with_another_hunter_near():
    answer = answered(ladder(), hang_on(at(PIEDMONT, 90, 260)))
    found = guest_sits(answer)
    assert [g.seat.stand.id for g in found if g.fits] == ["ladder"]
    first = found[0]
    assert first.host.stand.id == "perch"
    assert first.why[0] == "Ladder is a ladder, 12 feet up, marked for guests."
    assert first.why[1].startswith("From Ladder on a north-west wind your air goes south-east")
    assert first.why[2].startswith("You leave the truck at ")
    assert first.why[2].endswith(" pm, in daylight.")
    assert first.why[3] == (
        "Somebody who knows the ground could sit at Perch, 260 yards off: within 400 yards "
        "(common practice). No shot toward each other."
    )


@pytest.mark.parametrize(
    ("yards_off", "fits"), [(148, False), (152, True), (398, True), (402, False)]
)
def test_near_is_between_150_and_400_yards(yards_off, fits):
    found = by_id(answered(ladder(), hang_on(at(PIEDMONT, 90, yards_off))))["ladder"]
    assert found.fits is fits
    if not fits:
        assert found.why[-1] == (
            "No other stand within 400 yards is go, so no one would sit near (common practice)."
        )


@pytest.mark.parametrize(
    "seat", ["hang-on", "ladder", "climber", "saddle", "tripod", "box", "ground-blind"]
)
def test_only_ladders_boxes_and_blinds(seat):
    found = by_id(answered(ladder(seat=seat), hang_on(at(PIEDMONT, 90, 260))))["ladder"]
    assert found.fits is (seat in {"ladder", "box", "ground-blind"}) is (seat in GUEST_SEATS)
    if not found.fits:
        assert found.why[0].endswith(", 12 feet up: not for a first sit (common practice).")


def test_a_seat_the_owner_did_not_mark():
    found = by_id(answered(ladder(guest_ok=False), hang_on(at(PIEDMONT, 90, 260))))["ladder"]
    assert not found.fits
    assert found.why == ("Ladder is a ladder, but not marked for guests.",)


def test_the_wind_decides_for_guests_too():
    beds = (bed(PIEDMONT, 135, 150),)
    found = by_id(answered(ladder(), hang_on(at(PIEDMONT, 90, 260)), areas=beds))["ladder"]
    assert not found.fits
    assert found.why[1].startswith("Stay out: From Ladder on a north-west wind your air goes")


def test_a_host_must_be_go_as_well():
    """The bed lies downwind of the perch alone."""
    perch = at(PIEDMONT, 45, 300)
    beds = (bed(perch, 135, 120),)
    found = by_id(answered(ladder(), hang_on(perch), areas=beds))
    assert found["perch"].seat.group != 0
    assert found["ladder"].host is None
    assert not found["ladder"].fits


def test_a_morning_fits_nobody():
    answer = answered(ladder(), hang_on(at(PIEDMONT, 90, 260)), sit="morning")
    found = by_id(answer)["ladder"]
    assert not found.fits
    assert "A first sit is an evening: the walk in is by daylight (common practice)." in found.why


def test_those_that_fit_come_first_in_the_home_order():
    stands = (
        hang_on(PIEDMONT, "a-perch"),
        ladder(at(PIEDMONT, 90, 200), "b-ladder"),
        ladder(at(PIEDMONT, 90, 390), "c-ladder"),
    )
    answer = answered(*stands)
    home = [s.stand.id for s in answer.stands]
    found = [g.seat.stand.id for g in guest_sits(answer)]
    ladders = [x for x in home if x.endswith("ladder")]
    assert found == [*ladders, "a-perch"]


def test_a_seat_over_sixteen_feet_is_none_for_a_first_sit():
    found = by_id(answered(ladder(height_ft=18.0), hang_on(at(PIEDMONT, 90, 260))))["ladder"]
    assert not found.fits
    assert found.why[0] == "Ladder is a ladder, 18 feet up: above 16, not for a first sit."


def test_a_trail_in_the_air_is_no_first_sit_and_a_shot_comes_before_watching():
    perch, far = hang_on(at(PIEDMONT, 90, 260)), ladder(at(PIEDMONT, 90, 520), "far")
    in_air = corridor(PIEDMONT, (125, 300), (130, 20), id_="run")
    free = corridor(PIEDMONT, (315, 300), (315, 20), id_="free")  # else the wind is wrong
    found = by_id(answered(ladder(), perch, corridors=(in_air, free)))["ladder"]
    assert not found.fits and "not for a first sit" in found.why[-1]
    beside = corridor(at(PIEDMONT, 90, 520), (320, 300), (300, 20), id_="walk")
    order = [g for g in guest_sits(answered(ladder(), perch, far, corridors=(beside,))) if g.fits]
    assert [g.seat.stand.id for g in order] == ["far", "ladder"]
    assert any("to watch from" in line for line in order[1].why)
