"""Several hunters on the home screen: the weapon asked once, seats for all, the sheet to leave."""

import json

import pytest

from tests.pages.conftest import opened, sheet_words, words

THREE = [
    {"name": "Nell", "range_yd": 30},
    {"name": "<b>Owen</b>", "range_yd": 24},
    {"name": "Ida", "range_yd": 20, "beginner": True},
]


@pytest.fixture(autouse=True)
def three(farm):
    document = json.loads(farm.read_bytes())
    document["property"]["people"] = THREE
    farm.write_text(json.dumps(document), encoding="utf-8")


def test_which_weapon_is_asked_once_and_orange_is_said_whatever_the_answer():
    home = opened(ground="farm", date="2026-11-27", sit="morning", wind="NW 8")
    assert "Which weapon today?" in words(home, "markdown")
    assert "Wear orange, with the bow too" in sheet_words(home)
    home.button(key="first-weapon1").click().run()
    assert "Which weapon today?" not in words(home, "markdown")
    assert home.query_params["weapon"] == ["gun"] or home.query_params["weapon"] == "gun"
    assert "Wear orange, on the walk" in sheet_words(home)
    again = opened(ground="farm", date="2026-11-10", sit="morning", wind="NW 8")
    assert "Which weapon today?" not in words(again, "markdown")
    assert "Wear orange" not in sheet_words(again)


def test_seats_for_three_are_proposed_and_taken():
    home = opened(ground="farm", date="2026-11-10", sit="morning", wind="S 9")
    home.button(key="seat-us-all").click().run()
    assert not home.exception
    told = words(home)
    assert "Nell" in told and "<b>Owen</b>" in told and "No shot" in told
    assert "No warning is not clearance" in told
    home.button(key="take-seats").click().run()
    assert not home.exception
    seats = [home.selectbox(key=f"seat{i}").value for i in range(3)]
    assert len({s for s in seats if s}) >= 2


def test_the_sheet_to_leave_is_offered():
    home = opened(ground="farm", date="2026-11-10", sit="morning", wind="NW 8")
    labels = [b.proto.label for b in home.get("download_button")]
    assert "The sheet to leave with someone" in labels
