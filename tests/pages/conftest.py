"""What the tests of screens share: a folder and a moment of their own, opening and reading."""

import functools
import html
import re
from pathlib import Path

import pytest
from streamlit.components.v2 import manifest_scanner
from streamlit.testing.v1 import AppTest

from core.ground.store import demo_path, open_property, save_property
from tests.conftest import NOW, ROOT
from tests.few_stands import few_stands_file

RUN_S = 120
TOLD = ("error", "warning", "success", "info")
# AppTest reads the notes of every library that is installed for each new screen, most of its time
components_of_libraries = functools.cache(manifest_scanner.scan_component_manifests)


@pytest.fixture(autouse=True)
def own_moment(monkeypatch, tmp_path):
    """A folder of the test's own, and before dawn on 10 November unless it says otherwise."""
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_NOW", NOW)


@pytest.fixture(autouse=True)
def libraries_read_once(monkeypatch):
    monkeypatch.setattr(manifest_scanner, "scan_component_manifests", components_of_libraries)


@pytest.fixture(autouse=True)
def small_demo(request, monkeypatch):
    """The demo is small, but for a test (or a file of them) that is marked whole_demo.

    One that is marked demo_of has these stands alone, and its season where one is named.
    """
    if not request.node.get_closest_marker("whole_demo"):
        own = request.node.get_closest_marker("demo_of")
        small = few_stands_file(own.args, own.kwargs.get("season")) if own else few_stands_file()
        monkeypatch.setattr("core.ground.store.DEMO", small)


@pytest.fixture
def farm(tmp_path, monkeypatch) -> Path:
    """The demo as a ground of the user's own; panels that run alone are told where."""
    path = tmp_path / "farm.json"
    demo = open_property(demo_path())
    save_property(demo, demo.document, path, now_s=0)
    monkeypatch.setenv("PANEL_FILE", str(path))
    return path


def opened(page: str = "", **query: str) -> AppTest:
    """A screen by its address, run once: opened("map", ground="farm")."""
    app = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=RUN_S)
    app.query_params.update(query)
    if page:
        app.switch_page(f"pages/{page}.py")
    return app.run()


def opened_panel(function, **state) -> AppTest:
    """A panel that runs alone, as a function of its own says."""
    app = AppTest.from_function(function, default_timeout=RUN_S)
    for key, value in state.items():
        app.session_state[key] = value
    app.run()
    assert not app.exception
    return app


def sheet_words(app) -> str:
    """What stands in the HTML of a screen, with its tags."""
    return html.unescape(" ".join(str(e.proto.body) for e in app.get("html")))


def words(app, *kinds: str) -> str:
    """What is read on a screen, Markdown's escapes taken out; of the kinds named, or of all."""
    kinds = kinds or ("title", "header", "subheader", "markdown", "caption", *TOLD)
    texts = [str(e.value) for kind in kinds for e in getattr(app, kind)]
    return re.sub(r"\\(.)", r"\1", "\n".join(texts))
