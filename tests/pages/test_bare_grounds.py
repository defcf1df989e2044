"""Every screen on grounds that lack something: it says what to do, and never breaks."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from core.ground.store import demo_path, new_path, open_property, save_property

ROOT = Path(__file__).resolve().parents[2]
RUN_S = 60
SCREENS = (
    "dashboard.py",
    "pages/season_winds.py",
    "pages/learn_the_ground.py",
    "pages/map.py",
    "pages/words.py",
)
LACKING = {
    "nothing": (
        "stand",
        "lane",
        "corridor",
        "bedding",
        "food",
        "boundary",
        "draw",
        "truck",
        "water",
        "no-shoot",
        "sign",
        "camera",
        "other",
    ),
    "stands": ("stand", "lane"),
    "lanes": ("lane",),
    "beds": ("bedding",),
}


@pytest.mark.parametrize("lacking", LACKING)
@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_on_a_bare_ground(monkeypatch, tmp_path, screen, lacking):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T04:30:00-05:00")
    demo = open_property(demo_path())
    left = [f for f in demo.document["features"] if f["properties"]["kind"] not in LACKING[lacking]]
    path = new_path(lacking)
    save_property(demo, {**demo.document, "features": left}, path, now_s=1_790_000_000)
    app = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=RUN_S)
    app.query_params["ground"], app.query_params["wind"] = path.stem, "NW 8"
    app.run()
    if screen != "dashboard.py":
        app.switch_page(screen)
        app.query_params["ground"] = path.stem
        app.run()
    assert not app.exception, app.exception[0].message
    assert app.title or app.header or app.get("html")
