"""The home page does its sums anew when something new is asked, and only then."""

import json
import os
import re

import pytest

from core.answer import one_sit
from core.ground.store import demo_path
from tests.pages.conftest import opened, sheet_words


@pytest.fixture
def sums(monkeypatch):
    """How often the whole answer has been worked out."""
    done, own = [], one_sit.answer_sit

    def counted(sit, taken=None):
        done.append(sit)
        return own(sit, taken)

    monkeypatch.setattr(one_sit, "answer_sit", counted)
    return done


@pytest.fixture
def home(tmp_path):
    """The home page on a copy of the demo of the user's own."""
    (tmp_path / "own.json").write_bytes(demo_path().read_bytes())
    return opened(ground="own", wind="NW 8")


def but_its_clock(app) -> str:
    """What stands on the screen, without the instant at which it was last heard of."""
    return re.sub(r'="\d{10}\.\d+"', "", sheet_words(app))


def test_another_stand_of_the_same_sit_asks_for_no_sums(sums, home):
    first = but_its_clock(home)
    home.button(key="look-oats-box").click().run()
    assert len(sums) == 1 and but_its_clock(home) != first
    home.button(key="back").click().run()
    assert len(sums) == 1 and but_its_clock(home) == first


def test_whatever_is_asked_anew_is_worked_out_anew(sums, home):
    home.text_input(key="wind").set_value("E 12").run()
    home.segmented_control(key="cloud").set_value("overcast").run()
    home.segmented_control(key="sit").set_value("evening").run()
    home.selectbox(key="hunter").set_value("Owen").run()
    assert len(sums) == 5 and sums[-1].hunter.name == "Owen"
    home.selectbox(key="seat0").set_value("oats-box").run()
    assert len(sums) == 6 and "oats-box" in str(home.session_state["answer"][0])
    home.run()
    assert len(sums) == 6


def test_a_ground_that_was_changed_is_judged_anew(sums, home, tmp_path):
    document = json.loads((tmp_path / "own.json").read_bytes())
    for feature in document["features"]:
        if feature["properties"]["kind"] == "stand":
            feature["properties"]["closed"] = True
    (tmp_path / "own.json").write_text(json.dumps(document))
    os.utime(tmp_path / "own.json", (1, 1))
    home.run()
    assert len(sums) == 2 and "Stay out" in sheet_words(home)
