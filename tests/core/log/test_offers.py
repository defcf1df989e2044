"""Offers of felt turns and swirls: when they are made, what taking them up and back does."""

import dataclasses
import datetime

import numpy as np

from core.air.felt import felt_from_deg
from core.answer.one_sit import answer_sit
from core.ground.layout import FeltTurn, Stand, Swirls
from core.ground.store import demo_path, open_property, save_property
from core.keep.entries import AIR, SIT, entry_of
from core.log.offers import felt_at, offers, taken_back, taken_up
from core.say.answer_lines import other_line
from core.say.as_json import stand_dict
from core.say.headline import head_of
from core.say.log.felt import felt_here, offer_range, offer_text, turn_text
from core.say.reason_kinds import AsFelt
from core.say.reasons import reasons
from core.season.visor import visor_rows
from core.show.card import told_places
from core.show.compared import compared
from core.show.visor import visor_sheet
from core.sit.scene import Scene
from tests.grounds import NOV_10, PIEDMONT, at, bed, ground, judged, sit_of, wind

OAK = Stand("oak", "Oak", PIEDMONT)
TODAY = datetime.date(2026, 11, 12)
NW_FROM_W = FeltTurn(((270.0, 360.0),), -45.0, 7, 9, "2026-11-12")


def air(told, from_deg, day=1, **more):
    values = {"stand": "oak", "told_from_deg": float(told), **more}
    if from_deg is not None:
        values |= {"felt": "otherwise", "from_deg": float(from_deg)}
    return entry_of(AIR, f"2026-11-{day:02d}", values)


def seven_of_nine():
    turned = [air(315, felt, d) for d, felt in enumerate((270, 265, 275, 270, 268, 272, 270), 1)]
    return [*turned, air(315, 318, 8), air(315, 320, 9)]


def test_nw_comes_from_w_seven_of_nine_times():
    (offer,) = offers(seven_of_nine(), OAK)
    assert (offer.told_deg, offer.felt, offer.of) == (315.0, 7, 9)
    assert -40 < offer.turn_deg < -25  # seven of 45 degrees and two of -4: -34, shrunk a little
    assert offer.from_deg == ((270.0, 0.0),)
    prop = ground()
    assert offer_text(offer, prop) == "Oak: NW comes from W here, 7 of 9 times. Use it?"
    assert "counter-clockwise" in offer_range(offer)


def test_fewer_than_five_and_scatter_about_none_offer_nothing():
    assert offers(seven_of_nine()[:4], OAK) == []
    spread = [air(315, 315 + off, d) for d, off in enumerate((-40, 40, -20, 20, 0, 10, -10), 1)]
    assert offers(spread, OAK) == []


def test_the_same_winds_are_offered_once():
    around = [air(told, told - 45, d) for d, told in enumerate(range(290, 350, 6), 1)]
    assert len(offers(around, OAK)) == 1


def test_what_is_in_use_is_not_offered_again():
    assert offers(seven_of_nine(), dataclasses.replace(OAK, turns=(NW_FROM_W,))) == []


def test_the_wind_told_comes_from_the_sit_that_was_planned():
    told = {
        "hours": [
            {"start": "2026-11-10T06:00:00-05:00", "wind_from_deg": 300.0},
            {"start": "2026-11-10T07:00:00-05:00", "wind_from_deg": 320.0},
        ]
    }
    plan = entry_of(SIT, "2026-11-10", {"stand": "oak", "sit": "morning", "told": told})
    line = entry_of(SIT, "2026-11-10", {"stand": "oak", "sit": "morning"})
    felt = {"at": "2026-11-10T07:20:00-05:00", "from_deg": 270.0}
    later = entry_of(AIR, "2026-11-10", felt, of=line.id)
    at_first = entry_of(AIR, "2026-11-10", {"felt": "as-told"}, of=plan.id)
    found = felt_at([plan, line, later, at_first], OAK)
    assert [(x.told_deg, x.felt_deg) for x in found] == [(320.0, 270.0), (300.0, 300.0)]


def test_air_as_told_after_a_turn_is_in_use_came_from_where_the_screen_had_it():
    stand = dataclasses.replace(OAK, turns=(NW_FROM_W,))
    before, after = (air(315, None, d, felt="as-told") for d in (11, 12))
    assert [x.felt_deg for x in felt_at([before, after], stand)] == [315.0, 270.0]


def rounds(n, told=180):
    return [air(told + i, None, i + 1, felt="round") for i in range(n)]


def test_round_and_round_three_times_offers_a_swirl():
    assert offers(rounds(2), OAK) == []
    (offer,) = offers(rounds(3), OAK)
    assert (offer.turn_deg, offer.from_deg, offer.felt) == (None, ((157.5, 202.5),), 3)
    assert "round and round, 3 of 3 times" in offer_text(offer, ground())


def test_swirls_that_the_owner_knows_are_left_to_him():
    for known in (Swirls(from_deg=((170.0, 190.0),)), Swirls(under_mph=5.0)):
        assert offers(rounds(3), dataclasses.replace(OAK, swirls=known)) == []


# --- taken up, judged by, taken back ---


def test_turns_are_applied_in_their_sector_alone():
    told = np.array([280.0, 315.0, 359.0, 90.0, np.nan])
    np.testing.assert_allclose(felt_from_deg((NW_FROM_W,), told), [235, 270, 314, 90, np.nan])


def prop_with(turns=()):
    """A bed to the east of Oak: west winds spoil it, north-west ones pass by."""
    stand = dataclasses.replace(OAK, turns=turns)
    return ground(stand=stand, areas=(bed(PIEDMONT, 90, 120),))


def test_a_turn_is_judged_like_the_wind_that_was_felt():
    turned = judged(prop_with((NW_FROM_W,)), wind(315, half_width_deg=5.0))
    felt = judged(prop_with(), wind(270, half_width_deg=5.0))
    plain = judged(prop_with(), wind(315, half_width_deg=5.0))
    assert turned.hours.verdict.tolist() == felt.hours.verdict.tolist()
    np.testing.assert_allclose(turned.hours.air.air_to_deg, felt.hours.air.air_to_deg)
    assert turned.hours.verdict.tolist() != plain.hours.verdict.tolist()


def test_the_visor_is_judged_by_it_too():
    def cells(turns):
        (row,) = visor_rows(Scene(prop_with(turns)), NOV_10, points=("S",))
        return row.cells

    s_from_w = FeltTurn(((135.0, 225.0),), 90.0)
    assert cells(()) != cells((s_from_w,))


def test_it_is_said_where_the_wind_is_told():
    sit = sit_of(prop_with((NW_FROM_W,)), wind(315))
    seat = answer_sit(sit).best
    assert felt_here(sit, seat) == "You felt NW come from W here."
    assert "You felt NW come from W here." in head_of(sit, seat).wind
    other = sit_of(prop_with((NW_FROM_W,)), wind(180))
    assert felt_here(other, answer_sit(other).best) == ""
    assert turn_text(NW_FROM_W).startswith("Wind from W to N counts as 45° counter-clockwise")


def test_it_is_said_of_every_stand_whose_wind_is_turned_wherever_stands_are_told():
    elm = Stand("elm", "Elm", at(PIEDMONT, 180, 300), turns=(NW_FROM_W,))
    own = ground(stands=(OAK, elm), areas=(bed(PIEDMONT, 90, 120),))
    answer = answer_sit(sit_of(own, wind(315)))
    said, seat = (
        "You felt NW come from W here.",
        next(s for s in answer.stands if s.stand.id == "elm"),
    )
    assert said in other_line(answer.sit, seat)
    assert said in compared(answer, None)["elm"].why
    assert said not in compared(answer, None)["oak"].why
    assert said in told_places(answer, answer.stands[0])["elm"]
    told = stand_dict(answer.sit, seat, None)
    assert said in told["reasons"]
    assert AsFelt(315.0, -45.0, always=True) in reasons(answer.sit, seat)
    assert "As you felt it: Elm: Wind from W to N counts as" in visor_sheet(Scene(own), NOV_10, 0.0)
    assert "As you felt it" not in visor_sheet(Scene(prop_with()), NOV_10, 0.0)


def test_taken_up_and_taken_back(tmp_path):
    opened = open_property(demo_path())
    name = opened.property.stands[0].id
    stand = opened.property.stands[0]
    entries = [dataclasses.replace(e, values={**e.values, "stand": name}) for e in seven_of_nine()]
    (offer,) = offers(entries, stand)
    document = taken_up(opened.document, offer, TODAY)
    assert (
        "turns" not in next(f for f in opened.document["features"] if f["id"] == name)["properties"]
    )
    saved = save_property(opened, document, tmp_path / "own.json", now_s=0)
    (turn,) = saved.property.stand(name).turns
    assert (turn.turn_deg, turn.felt, turn.of, turn.since) == (offer.turn_deg, 7, 9, "2026-11-12")
    again = save_property(saved, taken_back(saved.document, name, 0), now_s=1)
    assert again.property.stand(name).turns == ()
    swirl = offers(
        [dataclasses.replace(e, values={**e.values, "stand": name}) for e in rounds(3)],
        dataclasses.replace(stand, swirls=None),
    )[0]
    marked = save_property(again, taken_up(again.document, swirl, TODAY), now_s=2)
    assert (157.5, 202.5) in marked.property.stand(name).swirls.from_deg
