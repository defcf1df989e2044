"""The form beside the map: what is typed goes into the draft, and what is wrong is told."""

import pytest

from core.ground.drawing.edits import feature_of, model_of
from pages.ui.draw.page_draft import PageDraft
from tests import ground_files as g
from tests.pages.conftest import opened


@pytest.fixture
def form(tmp_path):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    return Form(opened("map", ground="farm"), path)


class Form:
    def __init__(self, app, path) -> None:
        self.app, self.path = app, path

    @property
    def held(self) -> PageDraft:
        return self.app.session_state["drafts"][str(self.path)]

    def model(self, id_: str):
        document = self.held.document
        return model_of(document, feature_of(document, id_))

    def pick(self, id_: str) -> None:
        self.app.selectbox(key="choose").set_value(id_).run()
        assert not self.app.exception

    def tell(self, how: str, key: str, value) -> None:
        getattr(self.app, how)(key=key).set_value(value).run()
        assert not self.app.exception


@pytest.mark.parametrize(
    ("id_", "how", "member", "value", "held"),
    [
        ("oak", "text_input", "name", "Big oak", "Big oak"),
        ("oak", "number_input", "height_ft", 12.0, 12),
        ("oak", "selectbox", "seat", "box", "box"),
        ("oak", "checkbox", "closed", True, True),
        ("gum", "number_input", "max_gust_mph", 20.0, 20),
        ("east-way", "multiselect", "stands", ["oak"], ("oak",)),
        ("east-way", "number_input", "minutes", 9.0, 9),
        ("main", "text_input", "cut_on", "2026-02-14", "2026-02-14"),
        ("cane", "text_input", "with_wind_deg", "270-60, 90-100", ((270, 60), (90, 100))),
        ("cane", "multiselect", "months", [12, 11], (11, 12)),
        ("clover", "selectbox", "held", "always", "always"),
        ("gate", "text_area", "notes", "Shut it.", "Shut it."),
    ],
)
def test_each_answer_reaches_the_draft_as_one_step(form, id_, how, member, value, held):
    form.pick(id_)
    form.tell(how, f"ask-{id_}-{member}", value)
    assert getattr(form.model(id_), member) == held
    assert len(form.held.draft.past) == 1


def test_how_much_a_stand_is_wanted_and_that_it_is_taken_back(form):
    form.pick("oak")
    form.tell("selectbox", "ask-oak-wanted.morning", "not-now")
    assert form.model("oak").wanted.morning == "not-now"
    form.tell("selectbox", "ask-oak-wanted.morning", "")
    assert form.model("oak").wanted.morning is None


@pytest.mark.parametrize(
    ("id_", "how", "member", "value", "said"),
    [
        ("oak", "number_input", "height_ft", 400.0, "400"),
        ("cane", "text_input", "with_wind_deg", "north", "north"),
        ("cane", "text_input", "with_wind_deg", "270-999", "999"),
        ("main", "text_input", "cut_on", "last winter", "last winter"),
    ],
)
def test_what_is_wrong_is_told_and_the_box_goes_back(form, id_, how, member, value, said):
    form.pick(id_)
    key = f"ask-{id_}-{member}"
    before = getattr(form.app, how)(key=key).value
    form.tell(how, key, value)
    assert form.held.is_trouble
    assert said in form.held.note
    assert form.held.draft.past == ()
    assert getattr(form.app, how)(key=key).value == before


def test_the_list_says_how_many_things_there_are(form):
    choices = form.app.selectbox(key="choose").options
    assert choices[0] == f"{len(choices) - 1} things: choose one"
