"""A weather file that was brought on the home screen outlives a restart until its sit is over."""

import pytest

from core.ground.looking import LOOK_VARIABLE
from core.ground.store import demo_path
from core.weather.answers import Answers
from core.weather.given_file import ENDING, GivenFile, drop_file, file_now, keep_file
from tests.pages.conftest import opened, sheet_words, words

pytestmark = pytest.mark.demo_of("dry-fork", "plum-edge")
ROWS = "".join(f"2026-11-10 {h:02d}:00,SW,12\n" for h in range(24))
TABLE = f"time,wind dir,wind mph\n{ROWS}".encode()  # which zone is asked
MORNING = {"date": "2026-11-10", "sit": "morning"}


def given(**where):
    """The home screen on which the file was brought and its question answered."""
    home = opened(**where)
    home.segmented_control(key="by").set_value("file").run()
    home.file_uploader(key="weather_file").set_value(("camp.csv", TABLE, "text/csv")).run()
    zone = next(r for r in home.radio if r.key.startswith("zone_"))
    zone.set_value("America/New_York").run()
    assert not home.exception
    assert "SW 12 mph" in sheet_words(home)
    return home


@pytest.fixture
def own(tmp_path):
    (tmp_path / "own.json").write_bytes(demo_path().read_bytes())
    return tmp_path


@pytest.mark.usefixtures("own")
def test_it_opens_again_with_what_was_answered_until_the_sit_is_over(monkeypatch):
    home = given(ground="own")
    assert "through a restart too" in words(home, "caption")
    again = opened(ground="own", **MORNING)  # nothing of the session is left
    assert not again.exception
    assert again.segmented_control(key="by").value == "file"
    assert "SW 12 mph" in sheet_words(again) and not again.radio
    assert "In use: camp.csv" in words(again)
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T12:00:00-05:00")
    over = opened(ground="own", **MORNING)
    assert over.segmented_control(key="by").value != "file"
    assert "SW 12 mph" not in sheet_words(over)


def test_a_file_left_out_and_one_followed_by_words_do_not_come_back(own):
    given(ground="own").button(key="leave_file").click().run()
    assert list(own.glob(f"*{ENDING}")) == []
    home = given(ground="own")
    assert len(list(own.glob(f"*{ENDING}"))) == 1
    home.segmented_control(key="by").set_value("type it").run()
    home.text_input(key="wind").set_value("E 9").run()
    assert "E 9 mph" in sheet_words(opened(ground="own", **MORNING))
    assert list(own.glob(f"*{ENDING}")) == []


def test_where_nothing_is_kept_that_is_said(own, monkeypatch):
    assert "bring it again" in words(given(), "caption")  # the demo
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    assert "bring it again" in words(given(ground="own"), "caption")
    assert list(own.glob(f"*{ENDING}")) == []


def test_what_is_kept_may_be_spoiled_and_is_dropped_once_over(tmp_path):
    file = GivenFile(b"a\nb\n", "x.csv", Answers(zone="UTC", columns=(("time", "t"),)), 10.0, 20.0)
    assert keep_file("../up", file)
    assert file_now("../up", 15.0) == file
    assert [file_now("../up", at) is not None for at in (5, 10, 19, 20)] == [
        False,
        True,
        True,
        False,
    ]
    (kept,) = tmp_path.iterdir()  # a uid leads nowhere else
    for spoiled in (b"", b"{}\nx", kept.read_bytes()[3:], b"[]\n", b'{"answers": {"columns": 3}}'):
        kept.write_bytes(spoiled)
        assert file_now("../up", 15.0) is None
    keep_file("later", GivenFile(b"", "y", Answers(), 30.0, 40.0))
    assert kept not in tmp_path.iterdir()  # what can't be read, or is over, goes
    drop_file("later")
    assert list(tmp_path.iterdir()) == []
