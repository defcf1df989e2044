"""What is kept of services: read only as it was written, found again close by."""

import gzip
import json

import pytest

from core.weather.services import records
from core.weather.services.records import BROKEN, keep_record, kept_record, place_folder

PLACE = (-82.44, 40.01)
MARK = "a record of this test"


def test_a_record_comes_back_and_another_kind_does_not(tmp_path):
    path = tmp_path / "a" / "one.json.gz"
    keep_record(path, {"body": [1, 2]}, MARK)
    assert kept_record(path, MARK)["body"] == [1, 2]
    with pytest.raises(ValueError, match="no forecast"):
        kept_record(path, "forecast")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"no gzip",
        gzip.compress(json.dumps({"kept": MARK, "version": 1}).encode())[:-9],
        gzip.compress(json.dumps({"kept": MARK, "version": 2}).encode()),
        gzip.compress(b"{}"),
        gzip.compress(b"[]"),
    ],
    ids=["empty", "unpacked", "cut", "newer", "bare", "list"],
)
def test_what_is_broken_is_of_the_faults_that_are_passed_over(tmp_path, data):
    path = tmp_path / "one.json.gz"
    path.write_bytes(data)
    with pytest.raises(BROKEN):
        kept_record(path, MARK)


def test_neither_a_large_file_nor_what_unpacks_to_one_is_read_whole(tmp_path, monkeypatch):
    monkeypatch.setattr(records, "LARGEST_FILE_BYTES", 200)
    path = tmp_path / "one.json.gz"
    keep_record(path, {"body": "a" * 5000}, MARK)  # packs to few bytes
    assert path.stat().st_size < 200
    with pytest.raises(ValueError, match="Unterminated"):
        kept_record(path, MARK)
    path.write_bytes(bytes(201))
    with pytest.raises(ValueError, match="too large"):
        kept_record(path, MARK)


def test_the_nearest_folder_that_counts_is_a_places_own(tmp_path):
    own = tmp_path / "40.01_-82.44"
    assert place_folder(tmp_path / "none", PLACE).name == own.name
    for name in ("40.03_-82.44", "40.02_-82.44", "40.07_-82.44", "notes", "nan_nan"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "x").touch()
    assert place_folder(tmp_path, PLACE).name == "40.02_-82.44"
    own.mkdir()
    assert place_folder(tmp_path, PLACE).name == "40.02_-82.44"  # an empty one holds nothing
    (own / "x").touch()
    assert place_folder(tmp_path, PLACE) == own
    assert place_folder(tmp_path, PLACE, "*.gz") == own  # none has such: the place's own
    (tmp_path / "40.03_-82.44" / "y.gz").touch()
    assert place_folder(tmp_path, PLACE, "*.gz").name == "40.03_-82.44"
