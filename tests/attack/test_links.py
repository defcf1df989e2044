"""Links, attacked: every parameter that a screen takes, empty, repeated, of another kind, far
too long; a screen then shows what it says it shows, and never a traceback."""

import ast

import pytest
from streamlit.components.v2 import manifest_scanner
from streamlit.testing.v1 import AppTest

from tests.attack.runs import ROOT
from tests.few_stands import few_stands_file
from tests.ground_files import SEASON, as_bytes, whole_ground
from tests.pages.conftest import components_of_libraries

PAGES = {
    "home": (
        "",
        (
            "date",
            "sit",
            "hunter",
            "weapon",
            "by",
            "wind",
            "point",
            "sign",
            "cloud",
            "source",
            "seat0",
            "stand",
            "puff",
            "pocket_days",
            "pocket_for",
        ),
    ),
    "season": (
        "season_winds",
        (
            "winds_by",
            "season_sit",
            "season_part",
            "season_from",
            "season_to",
            "ruler_mph",
            "own_wind",
            "history_years",
        ),
    ),
    "learn": (
        "learn_the_ground",
        (
            "learn",
            "learn_point",
            "learn_strength",
            "learn_sit",
            "learn_stand",
            "learn_second",
            "learn_seed",
            "learn_shown",
            "learn_lesson",
        ),
    ),
    "map": ("map", ("map_more", "settings_view")),
    "work": ("work", ("work_view", "work_all", "work_place")),
    "log": ("log", ("log_many", "log_change")),
    "words": ("words", ("word",)),
}
# what has to be chosen first for a parameter to matter
SETTINGS = {
    "home": ({}, {"by": "point"}, {"by": "forecast"}),
    "season": ({}, {"season_part": "other dates", "winds_by": "my own ground"}),
    "learn": ({}, {"learn": "Lessons"}, {"learn": "Pick one"}, {"learn": "First sit"}),
    "map": ({"map_more": "Settings"},),
    "work": ({},),
    "log": ({},),
    "words": ({},),
}
PEOPLE = [{"name": "Ann", "range_yd": 25}, {"name": "Ben", "range_yd": 35}]
PARTS = [{"name": "rut", "first": "11-05", "last": "11-20"}]
GUN = {**SEASON, "weapon": "gun", "first": "11-14", "last": "12-05"}
ABSURD = ["", ["", ""], ["a", "b"], "x", "-1", "1e999", "²", "\0", "[]", "a" * 3000]


def names_taken(path) -> set[str]:
    """Names of the parameters in a file of the screens: keys of widgets that are bound to
    the link, and plain choices."""
    found = set()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    named = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign):
            targets, value = ast.unparse(node.targets[0]), ast.unparse(node.value)
            pairs = [side.strip("()").split(", ") for side in (targets, value)]
            named |= dict(zip(*pairs, strict=False))
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = ast.unparse(node.func)
        is_bound = called == "one_of" or any(
            k.arg is None and "KEPT" in ast.unparse(k.value) for k in node.keywords
        )
        keys = [k.value for k in node.keywords if k.arg == "key"] if is_bound else []
        keys += node.args[:1] if called in ("state.chosen", "state.choose") else []
        for key in keys:
            text = ast.unparse(key)
            found.add(named.get(text, text).strip("'\""))
    return found


def test_every_parameter_is_attacked():
    """A new one belongs on the list above."""
    files = [ROOT / "dashboard.py", *(ROOT / "pages").rglob("*.py")]
    taken = set().union(*map(names_taken, files)) - {"key"}
    plain = {name for name in taken if name.isidentifier() and name.islower()}
    known = {name for _, names in PAGES.values() for name in names}
    assert plain - known == set()
    assert {"cloud", "learn_point", "ruler_mph", "stand", "learn_seed"} <= plain


@pytest.fixture
def small(tmp_path) -> str:
    """A ground of two stands with all that has a parameter: screens of it are quickly made."""
    ground = whole_ground(people=PEOPLE, parts=PARTS, seasons=[SEASON, GUN])
    (tmp_path / "small.json").write_bytes(as_bytes(ground))
    return "small"


@pytest.fixture
def visit(tmp_path, monkeypatch):
    """visit(page, parameters) opens a page by a link, on the demo where it names no ground."""
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T04:30:00-05:00")
    monkeypatch.setattr("core.ground.store.DEMO", few_stands_file(("dry-fork",)))
    monkeypatch.setattr(manifest_scanner, "scan_component_manifests", components_of_libraries)

    def by_link(page: str, parameters: dict) -> AppTest:
        app = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=120)
        if page:
            app.switch_page(f"pages/{page}.py")
        for name, value in parameters.items():
            app.query_params[name] = value
        app.run()
        assert not app.exception, (parameters, app.exception[0].stack_trace[-3:])
        return app

    return by_link


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("value", ABSURD, ids=lambda value: repr(value)[:12])
def test_absurd_links_end_in_a_screen(visit, small, page, value):
    address, names = PAGES[page]
    ground = {"ground": small} if value else {}  # one of them on the demo
    for setting in SETTINGS[page]:
        visit(address, dict.fromkeys(names, value) | setting | ground)


@pytest.mark.parametrize(
    ("page", "name", "told", "setting"),
    [
        ("home", "cloud", "Cloud: the link says nothing, so it is not known", {}),
        ("home", "sit", "Sit: the link says nothing, so it is morning", {}),
        ("home", "point", "It comes from: the link says nothing, so it is NW", {"by": "point"}),
        ("learn", "learn_point", "The wind comes from: the link says nothing, so it is NW", {}),
        ("learn", "learn_strength", "the link says nothing, so it is steady", {}),
        ("season", "ruler_mph", "Wind, mph: the link says nothing, so it is 8", {}),
    ],
)
def test_what_an_empty_parameter_means_is_said(visit, page, name, told, setting):
    app = visit(PAGES[page][0], {name: "", **setting})
    said = [caption.value.replace("\\", "") for caption in app.caption]
    assert any(told in line for line in said), said


@pytest.mark.parametrize("date", ["0001-01-01", "9999-12-31", "2026-02-30", "1969-12-31", "0"])
def test_days_that_are_none_or_far_away(visit, date):
    for by in ("type it", "typical day"):
        visit("", {"date": date, "by": by})
