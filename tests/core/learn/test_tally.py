"""The tally: counts by reason, one whole file, cleared on request."""

import json
import threading

import pytest

from core.learn import tally
from core.learn.tally import BadTally, Tally, add_to_tally, clear_tally, read_tally, tally_path


@pytest.fixture(autouse=True)
def empty_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    return tmp_path


def test_nothing_kept_is_an_empty_tally(empty_folder):
    assert read_tally() == Tally(0, 0)
    assert list(empty_folder.iterdir()) == []


def test_it_lies_apart_from_the_property_files(empty_folder):
    from core.ground.store import own_properties

    add_to_tally(True, [])
    assert tally_path() == empty_folder / "learn" / "tally.json"
    assert own_properties() == ()


def test_counts_add_up_by_reason():
    add_to_tally(True, [])
    add_to_tally(False, [tally.SIT, tally.WAY_IN])
    told = add_to_tally(False, [tally.SIT, tally.SIT])
    assert told == read_tally()
    assert (told.tried, told.right) == (3, 1)
    assert told.by_reason == {
        "way-in": 1,
        "sit": 2,
        "trail": 0,
        "calm": 0,
        "safety": 0,
        "stayed-home": 0,
    }
    assert told.to_practise == ["sit", "way-in"]


def test_the_file_is_plain_json():
    add_to_tally(False, [tally.CALM])
    kept = json.loads(tally_path().read_text())
    assert kept["format"] == "stand-and-wind-tally"
    assert kept["version"] == 1
    assert kept["tried"] == 1
    assert kept["by_reason"]["calm"] == 1


def test_clearing_starts_again():
    add_to_tally(False, [tally.CALM])
    clear_tally()
    assert read_tally() == Tally(0, 0)


def test_an_unknown_reason_counts_nothing():
    with pytest.raises(ValueError, match="luck"):
        add_to_tally(False, ["luck"])
    assert read_tally().tried == 0


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("{not json", "JSONDecodeError"),
        ("[]", "is not a tally"),
        ('{"format": "other"}', "is not a tally"),
        ('{"format": "stand-and-wind-tally", "version": 7}', "version 7"),
        (
            '{"format": "stand-and-wind-tally", "version": 1, "tried": -1, "right": 0}',
            "tried is -1",
        ),
        (
            '{"format": "stand-and-wind-tally", "version": 1, "tried": true, "right": 0}',
            "tried is True",
        ),
        (
            '{"format": "stand-and-wind-tally", "version": 1, "tried": 1, "right": 0,'
            ' "by_reason": [3]}',
            r"by_reason is \[3\]",
        ),
        (
            '{"format": "stand-and-wind-tally", "version": 1, "tried": 1, "right": 0,'
            ' "by_reason": {"sit": "two"}}',
            "sit is 'two'",
        ),
    ],
)
def test_a_file_that_is_no_tally_is_refused_and_left(text, seen):
    tally_path().parent.mkdir()
    tally_path().write_text(text)
    with pytest.raises(BadTally, match=seen):
        read_tally()
    with pytest.raises(BadTally, match="Clear it"):
        add_to_tally(True, [])
    assert tally_path().read_text() == text
    clear_tally()
    assert read_tally() == Tally(0, 0)


def test_a_reason_of_an_older_file_counts_from_nothing():
    tally_path().parent.mkdir()
    tally_path().write_text(
        '{"format": "stand-and-wind-tally", "version": 1, "tried": 2, "right": 1, '
        '"by_reason": {"sit": 1}}'
    )
    assert add_to_tally(False, [tally.SAFETY]).by_reason["safety"] == 1
    assert read_tally().by_reason["sit"] == 1


def test_a_save_that_fails_leaves_the_old_file(monkeypatch):
    add_to_tally(True, [])
    before = tally_path().read_bytes()

    def broken(*_):
        raise OSError("disk full")

    monkeypatch.setattr(tally, "write_atomic", broken)
    with pytest.raises(OSError, match="disk full"):
        add_to_tally(True, [])
    assert tally_path().read_bytes() == before


def test_two_at_once_lose_no_count():
    threads = [threading.Thread(target=add_to_tally, args=(True, [])) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert read_tally().tried == 8
    left = {p.name for p in tally_path().parent.iterdir()}
    assert left == {"tally.json", "tally.lock"}
