"""Several hunters on a small ground: who goes where, who stays, and what keeps two apart.

Grounds are laid out so that one thing at a time decides; expected seats follow from the
rule that each test names.
"""

import dataclasses
import json

import pytest

from core.__main__ import main
from core.answer.one_sit import answer_sit
from core.errors import BadRequest
from core.ground.layout import Mark, Person, Stand
from core.party import pairs as p
from core.party.pairs import Seated, findings
from core.party.seating import Hunter, seat_all
from core.say.hunters.party import party_lines, party_report
from core.sit import ways
from core.sit.scene import Scene
from tests.ground_files import document
from tests.ground_files import lane as lane_feature
from tests.ground_files import stand as stand_feature
from tests.grounds import NOV_10, PIEDMONT, at, corridor, ground, lane, sit_of, square, wind

PEOPLE = tuple(Person(name, 30.0) for name in ("Nell", "Owen", "Ida", "Sam", "Ruth", "Lee"))


def stands_at(*places, **more):
    """Stands named A, B... at (bearing, yards), each with a way in of its own from the north."""
    names = [chr(ord("A") + i) for i in range(len(places))]
    spots = [at(PIEDMONT, *place) for place in places]
    stands = tuple(
        Stand(n.lower(), n, spot, seat="ladder", height_ft=14.0, guest_ok=True, **more)
        for n, spot in zip(names, spots, strict=True)
    )
    lanes = tuple(
        lane(spot, (0, 440), (0, 5), id_=f"way-{n.lower()}", stands=(n.lower(),))
        for n, spot in zip(names, spots, strict=True)
    )
    return {"stands": stands, "lanes": lanes, "people": PEOPLE}


def trail_by(place, id_):
    """A trail that passes 20 yd east of a place, from south to north."""
    spot = at(PIEDMONT, *place)
    return corridor(spot, (176, 300), (90, 20), (4, 300), id_=id_)


def seated(prop, *hunters, weather=None, sit="morning"):
    out = [h if isinstance(h, Hunter) else Hunter(h) for h in hunters]
    found = seat_all(Scene(prop), weather or wind(0), NOV_10, sit, out)
    return found, {found.out[i].person.name: s.own.stand.id for i, s in found.seats.items()}


def both_ways(prop, one="a", other="b", **more):
    """What is found from one stand to another, as a set of kinds."""
    answer = answer_sit(sit_of(prop, more.pop("weather", wind(0)), **more))
    by_id = {own.stand.id: Seated(answer.sit, own) for own in answer.stands}
    return {f.kind for f in findings(by_id[one], by_id[other])}


def test_everybody_goes_where_nothing_is_in_the_way():
    found, where = seated(ground(**stands_at((90, 0), (90, 400))), "Nell", "Owen")
    assert sorted(where.values()) == ["a", "b"] and not found.staying
    assert "Neither's air or walk was found" in party_report(found)["pairs"][0]["text"]


def test_six_hunters_on_two_stands():
    found, where = seated(ground(**stands_at((90, 0), (90, 400))), *(x.name for x in PEOPLE))
    assert len(where) == 2 and len(found.staying) == 4
    report = party_report(found)
    assert len(report["staying"]) == 4 and all(s["why"] for s in report["staying"])


def test_two_too_near_do_not_both_go_and_a_setting_decides():
    prop = ground(**stands_at((90, 0), (90, 140)))
    found, where = seated(prop, "Nell", "Owen")
    assert len(where) == 1 and "too near" in party_report(found)["staying"][0]["why"]
    nearer = dataclasses.replace(prop, sit=dataclasses.replace(prop.sit, apart_yd=120.0))
    assert len(seated(nearer, "Nell", "Owen")[1]) == 2


def test_air_on_anothers_seat_and_trail_hour_by_hour():
    """In a north wind the air of A lies on B, 55 yd south of it, and not the other way round."""
    near = ground(**stands_at((0, 0), (180, 55)), corridors=(trail_by((180, 55), "run"),))
    assert {p.AIR_ON_SEAT, p.AIR_ON_TRAIL} <= both_ways(near)
    assert not {p.AIR_ON_SEAT, p.AIR_ON_TRAIL} & both_ways(near, "b", "a")
    far = ground(**stands_at((0, 0), (180, 900)), corridors=(trail_by((180, 900), "run"),))
    assert not both_ways(far)


def test_a_seat_in_range_of_the_gun_and_a_no_shoot_area_between():
    more = stands_at((90, 0), (90, 200), range_yd=250.0)
    more["people"] = (Person("Nell", None), Person("Owen", None))
    prop = ground(**more)
    assert p.IN_RANGE in both_ways(prop)
    house = Mark("house", "House", "no-shoot", "Polygon", square(at(PIEDMONT, 90, 100), 20.0))
    assert p.IN_RANGE not in both_ways(dataclasses.replace(prop, marks=(house,)))


def test_a_shot_in_line_with_another():
    prop = ground(**stands_at((90, 0), (90, 250)), corridors=(trail_by((90, 0), "run"),))
    assert p.IN_LINE in both_ways(prop) and p.IN_LINE not in both_ways(prop, "b", "a")


def test_walks_in_the_order_in_which_they_are_walked():
    """A's lane goes on to B: who sits farther walks first, and nobody has to pass a sitter."""
    more = stands_at((90, 0), (180, 400))
    shared = lane(PIEDMONT, (5, 440), (10, 20), (180, 390), id_="long", stands=("a", "b"))
    prop = ground(**{**more, "lanes": (shared,)})
    assert p.PAST_SEAT not in both_ways(prop, "b", "a", weather=wind(270))
    found, where = seated(prop, "Nell", "Owen", weather=wind(270))
    assert sorted(where.values()) == ["a", "b"]
    text = party_report(found)["pairs"][0]["text"]
    first = next(name for name, stand in where.items() if stand == "b")
    assert f"{first} leaves first" in text and "Both walk Long" in text
    setting_up = dataclasses.replace(more["stands"][0], set_up_min=60.0)
    early = dataclasses.replace(prop, stands=(setting_up, more["stands"][1]))
    assert p.PAST_SEAT in both_ways(early, "b", "a", weather=wind(270))


def test_a_way_over_the_trail_that_another_waits_on():
    more = stands_at((90, 0), (90, 400))
    over = lane(at(PIEDMONT, 90, 400), (278, 440), (270, 5), id_="over", stands=("b",))
    prop = ground(**{**more, "lanes": (more["lanes"][0], over)})
    prop = dataclasses.replace(prop, corridors=(trail_by((90, 0), "run"),))
    assert p.THROUGH_TRAIL in both_ways(prop, "b", "a", weather=wind(180))


def test_the_beginner_first_on_a_seat_to_climb_with_a_shot():
    more = stands_at((90, 0), (90, 400), (90, 800))
    high, watch, low = more["stands"]
    more["stands"] = (dataclasses.replace(high, height_ft=18.0), watch, low)
    trails = (trail_by((90, 0), "run"), trail_by((90, 800), "walk"))
    ida = dataclasses.replace(PEOPLE[2], beginner=True)
    more["people"] = (*PEOPLE[:2], ida)
    prop = ground(**more, corridors=trails)
    _, where = seated(prop, "Nell", "Owen", "Ida", weather=wind(90))
    assert where["Ida"] == "c"
    one = dataclasses.replace(prop, stands=more["stands"][:2], lanes=prop.lanes[:2])
    found, where = seated(one, "Ida", weather=wind(90))
    assert not where and "too high to climb" in party_report(found)["staying"][0]["why"]
    assert "without a shot in range" in party_report(found)["staying"][0]["why"]
    _, where = seated(one, Hunter("Ida", beginner=False), weather=wind(90))
    assert where == {"Ida": "a"}


def test_what_is_chosen_by_hand_stays_and_is_warned_of():
    prop = ground(**stands_at((90, 0), (90, 140), (90, 600)))
    found, where = seated(prop, Hunter("Nell", stand="a"), Hunter("Owen", stand="b"), "Ida")
    assert where == {"Nell": "a", "Owen": "b", "Ida": "c"}
    assert "too near" in party_report(found)["pairs"][0]["text"]
    kept, where = seated(prop, "Owen", Hunter("Nell", stand="b"))
    assert where == {"Nell": "b", "Owen": "c"} and not kept.staying


@pytest.mark.parametrize(
    ("hunters", "words"),
    [
        ([], "0 hunters"),
        ([f"x{i}" for i in range(7)], "7 hunters"),
        (["Nell", "nell"], "'nell' is named twice"),
        (["Tom"], "no hunter is called 'Tom'"),
        ([Hunter("Nell", stand="nowhere")], "'nowhere'"),
        ([Hunter("Nell", "sling")], "sling"),
    ],
)
def test_what_cannot_be_seated_is_named(hunters, words):
    with pytest.raises(BadRequest) as fault:
        seated(ground(**stands_at((90, 0))), *hunters)
    assert words in fault.value.text()


def test_the_command_and_hostile_names(tmp_path, capsys):
    name = "<b>Nell</b>\u202e: x"
    file = tmp_path / "g.json"
    prop = document(
        stand_feature("oak", 0, 0),
        stand_feature("elm", 500, 0),
        lane_feature("way", [(0, 400), (0, 10)], ["oak", "elm"]),
        people=[{"name": name, "range_yd": 30}, {"name": "Owen"}],
    )
    file.write_text(json.dumps(prop), encoding="utf-8")
    words = ["party", "--property", str(file), "--date", "2026-11-10", "--sit", "morning"]
    words += ["--wind", "N 8", "--hunter", name, "Owen:bow", "--seat", "Owen:elm"]
    assert main([*words, "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert list(report) == ["date", "sit", "seats", "staying", "pairs"]
    assert {s["hunter"]: s["stand"] for s in report["seats"]} == {name: "oak", "Owen": "elm"}
    assert list(report["seats"][0]) == [
        *("hunter", "weapon", "stand", "group", "verdict", "leave_truck", "reasons")
    ]
    assert report["pairs"][0]["hunters"] == [name, "Owen"]
    assert main(words) == 0
    assert "\u202e" not in capsys.readouterr().out
    bad = (("owen:oak", "two seats"), (":oak", "NAME:STAND"), ("Ann:", "NAME:STAND"))
    for seat, said in (*bad, ("Ann:ash", "no stand is called 'ash'")):
        assert main([*words, "--seat", seat]) == 2
        told = capsys.readouterr().err
        assert said in told
        assert "--seat" in told and "--taken" not in told
    assert main([*words, "--seat", "Ida:oak"]) == 2
    assert "not among those who are out" in capsys.readouterr().err


def test_a_closed_season_keeps_a_weapon_at_home():
    found, where = seated(ground(**stands_at((90, 0))), Hunter("Nell", "bow"))
    assert where and "bow" in party_lines(found)[1]


def test_six_ranges_are_each_ones_own_and_share_what_no_hunter_changes(monkeypatch):
    """Alone or with others a hunter is told the same; walks are worked out once for all."""
    people = tuple(Person(p.name, 10.0 + 4 * i) for i, p in enumerate(PEOPLE))
    more = stands_at((90, 0), (90, 400), (0, 300)) | {"people": people}
    prop = ground(**more, corridors=(trail_by((90, 0), "run"), trail_by((90, 400), "walk")))
    walked = []
    given_by = ways.given_by
    monkeypatch.setattr(ways, "given_by", lambda *a: walked.append(a) or given_by(*a))

    def told(out):
        return {
            own.stand.id: (own.range_yd, own.corridors, own.verdict, own.score, own.leave_truck_s)
            for own in out.answer.stands
        }

    together, _ = seated(prop, *(p.name for p in people))
    assert len(walked) == 6  # a way in and a way out of three stands
    for i, person in enumerate(people):
        alone, _ = seated(prop, person.name)
        assert told(together.out[i]) == told(alone.out[0])
        assert together.out[i].answer.sit.hunter == person
    assert len({own["a"][:2] for own in map(told, together.out)}) == 6
