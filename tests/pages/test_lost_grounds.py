"""Grounds that are gone, broken, of a later version, or never were: nothing drawn is lost,
and every screen says what it shows."""

import copy
import json
import shutil

import pytest
from streamlit.testing.v1 import AppTest

from core.ground.drawing.edits import feature_of
from core.ground.drawing.kept_drafts import kept_drafts
from core.ground.store import demo_path, open_property, own_properties, save_property
from tests import ground_files as g
from tests.pages.conftest import opened

PAGES = ["", "season_winds", "learn_the_ground", "map", "words"]


@pytest.fixture
def home(tmp_path, monkeypatch):
    """The user's folder; in a folder of its own, so that it can be gone as a whole."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("STAND_WIND_HOME", str(home))
    return home


@pytest.fixture
def path(home):
    path = home / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    return path


def visit(name: str | None, page: str = "map") -> AppTest:
    app = opened(page, **({} if name is None else {"ground": name}))
    assert not app.exception, app.exception[0].stack_trace
    return app


def run(app: AppTest) -> AppTest:
    app.run()
    assert not app.exception, app.exception[0].stack_trace
    return app


def told(app: AppTest) -> str:
    words = [*app.error, *app.warning, *app.caption, *app.markdown, *app.success]
    return " ".join(word.value for word in words).replace("\\", "")


def press(app: AppTest, key: str) -> AppTest:
    app.button(key=key).click()
    return run(app)


def called(app: AppTest, id_: str, name: str) -> None:
    app.selectbox(key="choose").set_value(id_).run()
    app.text_input(key=f"ask-{id_}-name").set_value(name)
    run(app)


def drawn(app: AppTest) -> dict:
    (draft,) = app.session_state["drafts"].values()
    return draft.document


def saved_as(app: AppTest, name: str) -> None:
    app.text_input(key="save-name").set_value(name)
    press(app, "save-as")


# --- gone


def test_a_file_that_is_moved_away_leaves_the_drawing_on_the_screen(path, tmp_path):
    app, uid = visit("farm"), open_property(path).property.uid
    called(app, "oak", "Elm")
    path.rename(tmp_path / "elsewhere.json")
    run(app)
    assert "farm.json is gone" in told(app) and "demo" not in told(app)
    assert feature_of(drawn(app), "oak")["properties"]["name"] == "Elm"
    assert not [b for b in app.button if b.key == "save"]
    called(app, "gum", "Ash")  # one goes on drawing
    saved_as(app, "Rescued")
    (own,) = own_properties()
    assert own.name == "rescued.json" and open_property(own).property.uid == uid
    names = [s.name for s in open_property(own).property.stands]
    assert "Elm" in names and "Ash" in names
    assert "is gone" not in told(app)
    assert kept_drafts(path)[0] == ()


def test_it_can_be_saved_where_it_lay(path, tmp_path):
    app = visit("farm")
    called(app, "oak", "Elm")
    path.rename(tmp_path / "elsewhere.json")
    run(app)
    saved_as(app, "Farm")
    assert own_properties() == (path,)
    assert open_property(path).property.stands[0].name == "Elm"


def test_the_file_comes_back_and_all_is_as_before(path, tmp_path):
    app = visit("farm")
    called(app, "oak", "Elm")
    path.rename(tmp_path / "elsewhere.json")
    run(app)
    (tmp_path / "elsewhere.json").rename(path)
    run(app)
    assert "is gone" not in told(app)
    press(app, "save")
    assert open_property(path).property.stands[0].name == "Elm"


def test_a_renamed_file_and_its_rescued_drawing_are_two_properties(path):
    app = visit("farm")
    called(app, "oak", "Elm")
    path.rename(path.with_name("renamed.json"))
    run(app)
    saved_as(app, "Rescued")
    uids = [open_property(own).property.uid for own in own_properties()]
    assert len(set(uids)) == 2


@pytest.mark.usefixtures("path")
def test_the_whole_folder_gone_loses_nothing(home):
    app = visit("farm")
    called(app, "oak", "Elm")
    shutil.rmtree(home)
    run(app)
    assert "farm.json is gone" in told(app)
    saved_as(app, "Rescued")
    (own,) = own_properties()
    assert open_property(own).property.stands[0].name == "Elm"


def test_the_drawing_is_found_again_by_a_new_page(path, tmp_path):
    called(visit("farm"), "oak", "Elm")
    path.rename(tmp_path / "elsewhere.json")
    home_page = visit("farm", "")
    assert "no ground called" in told(home_page) and "the Map shows it" in told(home_page)
    app = visit("farm")
    assert "farm.json is gone" in told(app)
    assert feature_of(drawn(app), "oak")["properties"]["name"] == "Elm"
    other = visit("")  # on the demo it stands in the list
    box = next(b for b in other.selectbox if b.label == "Property")
    assert box.options == ["the demo", "farm (gone; a drawing is left)"]
    box.select_index(1)
    run(other)
    assert "farm.json is gone" in told(other)
    press(other, "throw")
    assert "is gone" not in told(other) and kept_drafts(path)[0] == ()


def test_thrown_away_it_is_gone_for_good(path):
    app = visit("farm")
    called(app, "oak", "Elm")
    path.unlink()
    run(app)
    press(app, "throw")
    assert "gone" not in told(app) and app.session_state["ground"] == ""


# --- broken


def test_a_broken_file_goes_back_to_an_earlier_version(path):
    opened = open_property(path)
    save_property(opened, opened.document, now_s=1)
    broken = path.read_bytes()[:700]
    path.write_bytes(broken)
    app = visit("farm")
    assert "not JSON" in told(app)
    press(app, "back-to-1")
    assert "It is as it was" in told(app)
    assert open_property(path).property.stands == opened.property.stands
    assert open_property(path).property.revision == 2
    kept = sorted((path.parent / "versions" / "farm.json").glob("*.json"))
    assert [one.read_bytes() == broken for one in kept] == [False, True]
    app.segmented_control(key="grounds_part").set_value("Earlier versions")
    run(app)
    assert "It can't be read." in told(app)  # the broken one, kept all the same


@pytest.mark.parametrize("data", [b"", b"\x00" * 900, b"{}", b"[" * 5000, b"\xff\xfe"])
def test_however_it_is_broken(path, data):
    opened = open_property(path)
    save_property(opened, opened.document, now_s=1)
    path.write_bytes(data)
    press(visit("farm"), "back-to-1")
    assert open_property(path).property.stands == opened.property.stands


def test_broken_while_it_is_drawn_on(path):
    app = visit("farm")
    called(app, "oak", "Elm")
    path.write_bytes(b"{")
    run(app)
    assert "not JSON" in told(app) and "What is drawn here is not lost" in told(app)
    saved_as(app, "Rescued")
    assert path.read_bytes() == b"{"
    assert open_property(path.with_name("rescued.json")).property.stands[0].name == "Elm"
    assert open_property(path.with_name("rescued.json")).property.uid


@pytest.mark.parametrize("page", ["", "season_winds", "learn_the_ground", "words"])
def test_other_screens_say_that_it_cannot_be_read(path, page):
    path.write_bytes(b"{")
    assert "not JSON" in told(visit("farm", page))


# --- of a later version


@pytest.fixture
def later(path):
    document = copy.deepcopy(g.whole_ground())
    document["property"]["version"] = 2
    document["property"]["moon_rule"] = {"full": True}
    path.write_bytes(g.as_bytes(document))
    return path


def test_a_later_version_is_looked_at_and_said_to_be(later):
    app, before = visit("farm"), later.read_bytes()
    assert "farm.json is of version 2, newer than this program's 1" in told(app)
    assert "looked at here, and not changed" in told(app)
    assert not [t for t in app.text_input if (t.key or "").startswith("ask-")]
    gesture = {"n": 1, "act": "delete", "id": "oak"}
    app.session_state["ground_map"] = {"ops": {"tab": "t", "list": [gesture]}}
    run(app)
    assert feature_of(drawn(app), "oak") is not None
    assert later.read_bytes() == before and kept_drafts(later)[0] == ()


def test_a_copy_of_it_can_be_drawn_on(later):
    app, before = visit("farm"), later.read_bytes()
    app.text_input(key="copy-name").set_value("Mine")
    press(app, "copy-later")
    copied = json.loads(later.with_name("mine.json").read_bytes())["property"]
    assert copied["version"] == 1 and copied["moon_rule"] == {"full": True}
    assert copied["uid"] != open_property(later).property.uid
    called(app, "oak", "Elm")
    press(app, "save")
    assert open_property(later.with_name("mine.json")).property.stands[0].name == "Elm"
    assert later.read_bytes() == before


def test_no_copy_where_this_program_does_not_know_it_all(later):
    document = json.loads(later.read_bytes())
    document["features"].append(g.feature("post", "tower", "Point", g.lonlat(20, 20)))
    later.write_bytes(g.as_bytes(document))
    app = visit("farm")
    assert "No copy to draw on can be made here" in told(app) and "tower" in told(app)
    assert not [b for b in app.button if b.key == "copy-later"]


@pytest.mark.parametrize("panel", ["Files", "Look it over", "Try a tree", "Slopes"])
def test_no_panel_changes_a_later_version(later, panel):
    app, before = visit("farm"), later.read_bytes()
    app.segmented_control(key="map_more").set_value(panel)
    run(app)
    assert "of a later version" in told(app)
    assert later.read_bytes() == before


def test_what_was_drawn_before_a_later_program_saved_is_not_lost(path):
    called(visit("farm"), "oak", "Elm")
    document = json.loads(path.read_bytes())
    document["property"]["version"] = 2
    path.write_bytes(g.as_bytes(document))
    app, before = visit("farm"), path.read_bytes()
    assert feature_of(drawn(app), "oak")["properties"]["name"] == "Elm"
    saved_as(app, "Mine")
    assert open_property(path.with_name("mine.json")).property.stands[0].name == "Elm"
    assert path.read_bytes() == before


# --- never there, and named like the demo


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize(
    ("page", "name"),
    [
        *((page, "nowhere") for page in PAGES),
        *(("words", name) for name in ("../../etc/passwd", "a" * 3000, "a\x00b", ".", "*")),
    ],
)
def test_a_ground_that_is_not_there_is_said(page, name):
    app = visit(name, page)
    assert "There is no ground called" in told(app) and "this is the demo" in told(app)


@pytest.mark.usefixtures("path")
@pytest.mark.parametrize("page", PAGES)
def test_the_demo_and_ones_own_ground_say_nothing_of_the_kind(page):
    assert "no ground called" not in told(visit("", page))
    assert "no ground called" not in told(visit("farm", page))


def test_earlier_versions_of_a_ground_that_is_gone_are_named(path):
    opened = open_property(path)
    save_property(opened, opened.document, now_s=1)
    path.unlink()
    assert str(path.parent / "versions" / "farm.json") in told(visit("farm", ""))


def test_a_file_named_like_the_demos_has_drafts_of_its_own(home):
    own = home / demo_path().name
    own.write_bytes(g.as_bytes(g.whole_ground()))
    called(visit(own.stem), "oak", "Elm")
    assert kept_drafts(demo_path())[0] == () and len(kept_drafts(own)[0]) == 1
    demo = visit("")
    assert feature_of(drawn(demo), "oak") is None and "Another tab" not in told(demo)
    stand = open_property(demo_path()).property.stands[0].id
    called(demo, stand, "Pine")
    again = visit(own.stem)
    assert feature_of(drawn(again), "oak")["properties"]["name"] == "Elm"
    assert len(kept_drafts(own)[0]) == 1


def test_no_two_names_share_a_folder_of_drafts(home):
    from core.ground.drawing import kept_drafts as drafts

    stems = ["demo_property", "demo_property.json", "demo_property.json.json", "farm", "farm.json"]
    paths = [demo_path(), *(home / f"{stem}.json" for stem in stems)]
    assert len({drafts._folder(path) for path in paths}) == len(paths)
