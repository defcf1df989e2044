"""A folder of the user that is named wrongly is said on every screen, and nothing breaks."""

import os

import pytest
from streamlit.testing.v1 import AppTest

from core.ground.home import HOME_VARIABLE
from tests.conftest import ROOT


@pytest.mark.parametrize("page", ["", "map", "season_winds", "learn_the_ground", "words"])
def test_every_screen_says_it(monkeypatch, page):
    monkeypatch.setenv(HOME_VARIABLE, "deer")
    monkeypatch.chdir(os.path.realpath(ROOT))
    app = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=30)
    if page:
        app.switch_page(f"pages/{page}.py")
    app.run()
    assert not app.exception
    assert "not a whole path" in app.error[0].value
