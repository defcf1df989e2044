"""Where the user's own files live: one place, wherever the program is started from."""

from pathlib import Path

import pytest

from core.errors import BadRequest
from core.ground.home import HOME_VARIABLE, data_folder, own_properties
from tests.attack.runs import core

ROOT = Path(__file__).resolve().parents[3]


def test_a_tilde_is_the_home_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.setenv(HOME_VARIABLE, "~/deer")
    assert data_folder() == tmp_path / "deer"
    monkeypatch.setenv(HOME_VARIABLE, "~")
    assert data_folder() == tmp_path


@pytest.mark.parametrize("named", ["deer", "./deer", "../deer", " ", "~nobody-of-that-name/deer"])
def test_a_name_that_leads_elsewhere_from_every_place_is_refused(monkeypatch, named):
    monkeypatch.setenv(HOME_VARIABLE, named)
    with pytest.raises(BadRequest, match="not a whole path") as caught:
        data_folder()
    assert named in caught.value.what and "~/deer" in caught.value.fix


def test_a_file_is_no_folder(monkeypatch, tmp_path):
    (tmp_path / "deer").write_text("")
    monkeypatch.setenv(HOME_VARIABLE, str(tmp_path / "deer"))
    with pytest.raises(BadRequest, match="a file and not a folder"):
        data_folder()
    monkeypatch.setenv(HOME_VARIABLE, str(tmp_path / "deer" / "farm"))
    with pytest.raises(BadRequest, match="can't be looked into"):
        own_properties()


def test_without_a_name_the_platform_says(monkeypatch):
    monkeypatch.setenv(HOME_VARIABLE, "")
    assert data_folder().is_absolute()


def test_what_is_no_property_file_is_not_listed(monkeypatch, tmp_path):
    monkeypatch.setenv(HOME_VARIABLE, str(tmp_path))
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "note.txt").write_text("")
    for name in ("b.json", "a.json"):
        (tmp_path / name).write_text("{}")
    assert [path.name for path in own_properties()] == ["a.json", "b.json"]


def test_a_command_says_it_in_one_line(monkeypatch):
    monkeypatch.setenv(HOME_VARIABLE, "deer")
    done = core("forecast", "--property", "demo_property.json", "--offline")
    assert done.returncode == 2 and 'STAND_WIND_HOME is "deer"' in done.stderr
    assert not (ROOT / "deer").exists()
