"""Every screen on grounds that lack something: it says what to do, and never breaks."""

import pytest

from core.ground.store import demo_path, new_path, open_property, save_property
from tests.pages.conftest import opened

SCREENS = ("", "season_winds", "learn_the_ground", "map", "words", "log", "work")
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
def test_a_screen_on_a_bare_ground(screen, lacking):
    demo = open_property(demo_path())
    left = [f for f in demo.document["features"] if f["properties"]["kind"] not in LACKING[lacking]]
    path = new_path(lacking)
    save_property(demo, {**demo.document, "features": left}, path, now_s=1_790_000_000)
    app = opened(screen, ground=path.stem, wind="NW 8")
    assert not app.exception, app.exception[0].message
    assert app.title or app.header or app.get("html")
