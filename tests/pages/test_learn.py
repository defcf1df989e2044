"""The learning screen and the words, without a browser."""

import json
import re

import pytest

from core.angles import POINTS_16
from core.ground.store import demo_path, open_property
from core.learn.glossary import words as glossary
from core.learn.lessons import LESSONS
from core.learn.pick_one import Pick, best_of, judge_pick
from core.learn.situations import draw_situation
from core.learn.tally import read_tally, tally_path
from core.sit.scene import Scene
from tests.pages.conftest import opened, words

PARTS = ["Turn the wind", "Lessons", "Pick one", "First sit"]


@pytest.fixture
def app(monkeypatch):
    """The learning screen on the demo, on a fixed day."""
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-25T09:00:00-05:00")
    return opened("learn_the_ground")


def part(app, name: str):
    return app.segmented_control(key="learn").set_value(name).run()


def said(app) -> str:
    """Everything that is read on the screen, but what it is told."""
    return words(app, "title", "header", "subheader", "markdown", "caption")


@pytest.mark.parametrize("name", PARTS)
def test_every_part_opens_on_the_demo(app, name):
    shown = part(app, name)
    assert not shown.exception
    assert not shown.error
    assert len(said(shown)) > 200


@pytest.mark.whole_demo
def test_turning_the_wind_regroups_every_stand(app):
    stands = open_property(demo_path()).property.stands
    before = said(app)
    assert re.search(r"A north-west wind: \d+ of 14 stands are go", before)
    app.pills(key="learn_point").set_value("SE").run()
    after = said(app)
    assert re.search(r"A south-east wind: \d+ of 14 stands are go", after)
    for text in (before, after):
        told = [
            s
            for s in stands
            if re.search(
                rf"\b{s.name}\b.* your air goes |{s.name} itself "
                rf"would do|one can call .*{s.name}|{s.name}: |"
                rf"From {s.name} ",
                text,
            )
        ]
        assert len(told) == len(stands)
    assert "your air goes south-east" in before
    assert "your air goes north-west" in after


def test_the_controls_are_large_steps(app):
    assert app.pills(key="learn_point").options == list(POINTS_16)
    assert app.segmented_control(key="learn_strength").options == ["light", "steady", "strong"]
    assert "8 to 12 mph, leaves and twigs keep moving" in said(app)
    app.segmented_control(key="learn_strength").set_value("strong").run()
    assert "13 to 18 mph, small branches move" in said(app)


def test_a_tap_on_a_stand_lights_up_its_places(app):
    app.button(key="learn-look-split-oak").click().run()
    assert "From **Split oak** these light up: **" in said(app)
    assert app.query_params["learn_stand"] in ("split-oak", ["split-oak"])


def test_all_eight_lessons_open(app):
    part(app, "Lessons")
    titles = []
    for i in range(len(LESSONS)):
        assert not app.exception
        titles += [h.value for h in app.header]
        text = said(app)
        assert "**Physics.**" in text
        assert "**Common practice.**" in text
        assert "**Nobody has tested.**" in text
        assert "**Try it.**" in text
        if i + 1 < len(LESSONS):
            next(b for b in app.button if b.label == "Next lesson").click().run()
    assert titles == [f"{i + 1}. {title}" for i, (title, _) in enumerate(LESSONS.values())]


def test_trying_it_tells_right_from_not_so(app):
    part(app, "Lessons")
    choice = next(r for r in app.radio)
    right = next(i for i, o in enumerate(choice.options) if "ground" in o)
    wrong = (right + 1) % len(choice.options)
    choice.set_value(choice.options[wrong]).run()
    assert "**Not so.**" in said(app)
    next(r for r in app.radio).set_value(choice.options[right]).run()
    assert "**Right.**" in said(app)


def situation(seed: int, second: bool = False):
    scene = Scene(open_property(demo_path()).property)
    return draw_situation(scene, 2026, seed, second=second)


def answer(app, pick: Pick, tag: str):
    """Says go by a stand and a lane, or stay out, and asks for the answer."""
    going = app.segmented_control(key=f"learn_go-{tag}")
    going.set_value("stay out" if pick.stand is None else "go").run()
    if pick.stand is not None:
        app.selectbox(key=f"learn_pick-{tag}").set_value(pick.stand).run()
        app.selectbox(key=f"learn_way-{tag}-{pick.stand}").set_value(pick.lane).run()
    return next(b for b in app.button if b.label == "Show the answer").click().run()


def test_the_best_pick_is_right_and_counts(app):
    part(app, "Pick one")
    best = best_of(situation(1))
    assert "straight downwind" not in said(app), "verdicts before the answer"
    answer(app, Pick(best.stand.id, best.way_in.way.lane.id), "1-False")
    assert not app.exception
    text = said(app)
    assert f"Right. {best.stand.name} comes first." in text
    assert "| hour | wind | your pick | best |" in text
    assert (read_tally().tried, read_tally().right) == (1, 1)


def test_a_miss_counts_by_its_reason_once(app):
    found = situation(1)
    out = next(s for s in found.answer.stands if "prime-hour" in s.causes and s.way_in)
    pick = Pick(out.stand.id, out.way_in.way.lane.id)
    part(app, "Pick one")
    answer(app, pick, "1-False")
    told = judge_pick(found, pick)
    text = said(app)
    assert told.headline in text
    assert "To practise: " in text
    assert "the sit" in text
    answer(app, Pick(None), "1-False")  # a second thought on the same situation
    assert read_tally().tried == 1
    assert read_tally().by_reason["sit"] == 1


def test_another_one_is_another(app):
    part(app, "Pick one")
    before = said(app)
    next(b for b in app.button if b.label == "Another one").click().run()
    assert said(app) != before
    assert app.query_params["learn_seed"] in ("2", ["2"])


def test_a_second_hunter_is_placed(app):
    part(app, "Pick one")
    app.segmented_control(key="learn_second").set_value("a second hunter").run()
    (taken,) = situation(1, second=True).taken
    name = open_property(demo_path()).property.name_of(taken)
    assert f"Suppose a second hunter sits at {name}. No shot toward {name}" in said(app)
    app.segmented_control(key="learn_go-1-True").set_value("go").run()
    assert name not in app.selectbox(key="learn_pick-1-True").options


def test_the_tally_can_be_cleared(app):
    part(app, "Pick one")
    answer(app, Pick(None), "1-False")
    assert read_tally().tried == 1
    next(b for b in app.button if b.label == "Clear the tally").click().run()
    assert read_tally().tried == 0
    assert "None yet." in said(app)


def test_a_broken_tally_is_told_and_can_be_cleared(app):
    tally_path().parent.mkdir(parents=True)
    tally_path().write_text("{broken")
    part(app, "Pick one")
    assert not app.exception
    assert "JSONDecodeError" in app.error[0].value
    next(b for b in app.button if b.label == "Clear the tally").click().run()
    assert not app.error


def test_a_guest_is_led_to_a_marked_seat(app):
    part(app, "First sit")
    text = said(app)
    assert "full-body harness from the ground up" in text
    assert re.search(r"First: (Oats box|Hay edge|Orchard corner|Cane blind)", text)
    assert "within 400 yards (common practice)" in text
    assert "not for a first sit (common practice)" in text


def test_no_colours_of_a_traffic_light(app):
    """Nothing on this screen is said in green, yellow or red."""
    for name in PARTS:
        part(app, name)
        assert not app.success
        assert not app.warning
        assert not app.error
        assert not re.search(
            r":(green|red|orange|yellow|violet)\[", "\n".join(m.value for m in app.markdown)
        )


# --- an own ground, and one without anything on it ---


@pytest.fixture
def bare(app, tmp_path):
    """The learning screen on an empty property."""
    file = json.loads(demo_path().read_text(encoding="utf-8"))
    file["features"] = []
    file["property"]["name"] = "Bare <b>ground</b>"
    (tmp_path / "bare.json").write_text(json.dumps(file))
    app.session_state["ground"] = "bare"
    app.query_params["ground"] = "bare"
    return app.run()


@pytest.mark.parametrize("name", PARTS)
def test_every_part_opens_on_an_empty_ground(bare, name):
    part(bare, name)
    assert not bare.exception
    assert not bare.error
    if name != "Lessons":
        assert "No stands yet. Draw one on the Map page." in said(bare)


def test_an_empty_ground_is_not_said_to_have_seats_on_the_ground(bare):
    part(bare, "Lessons")
    assert "No stand is drawn here yet." in said(bare).replace("\\", "")
    assert "Every seat here" not in said(bare)


def test_every_lesson_opens_on_an_empty_ground(bare):
    part(bare, "Lessons")
    for number in range(1, 9):
        bare.segmented_control(key="learn_lesson").set_value(str(number)).run()
        assert not bare.exception


# --- words ---


def test_the_page_of_words(app):
    app.switch_page("pages/words.py").run()
    assert not app.exception
    text = said(app)
    for word in glossary():
        assert f"**{word.word}.**" in text
    assert "between like 250 and like 500 yards" in text


def test_every_link_leads_to_a_word_that_is_there():
    from pages.ui.learn import first_sit, lessons, pick_one, turn_the_wind

    known = {w.key for w in glossary()}
    for one in (turn_the_wind, lessons, pick_one, first_sit):
        assert set(one.WORDS) <= known


def test_a_link_brings_its_word_to_the_top(app):
    app.query_params["word"] = "just-off"
    app.switch_page("pages/words.py")
    app.query_params["word"] = "just-off"
    app.run()
    assert app.info[0].value.startswith("**Just\\-off.**")
