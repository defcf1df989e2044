"""The answer without a screen: shapes, same bytes, and bad input."""

import json
import re
import shlex
import subprocess
import sys
import time
from pathlib import Path

import pytest

from core.__main__ import _parser, main
from core.cli.help_texts import EXAMPLES
from tests.few_stands import STANDS, few_stands_file

ROOT = Path(__file__).resolve().parents[2]
DEMO = str(few_stands_file())
BASE = ["sits", "--property", DEMO, "--date", "2026-11-10", "--sit", "morning"]


def run(capsys, *words):
    code = main(list(words))
    out = capsys.readouterr()
    return code, out.out, out.err


def answer(capsys, *words):
    code, out, err = run(capsys, *words, "--json")
    assert (code, err) == (0, "")
    return json.loads(out)


def test_the_first_answer_is_at_most_twelve_lines(capsys):
    code, out, _ = run(capsys, *BASE, "--wind", "NW 8 mph")
    first, others, clock = out.split("\n\n")
    assert code == 0
    assert re.match(r"Dry fork by the clock:\n6:21( am)? to \d+:\d\d am: ", clock)
    assert len(first.splitlines()) <= 12
    assert first.startswith(("GO", "STAY OUT", "CAN'T CALL"))
    assert others.strip().startswith("Above ")
    assert len(others.strip().splitlines()) == len(STANDS)


def test_every_stand_is_there_with_a_rank_from_one(capsys):
    report = answer(capsys, *BASE, "--wind", "NW 8")
    assert [s["rank"] for s in report["stands"]] == list(range(1, len(STANDS) + 1))
    groups = [s["group"] for s in report["stands"]]
    assert groups == sorted(groups, key=["go", "cant-call", "stay-out"].index)
    for stand in report["stands"]:
        assert [z["id"] for z in stand["zones"]] == sorted(z["id"] for z in stand["zones"])
        assert stand["reasons"]


def test_air_goes_south_east_on_a_north_west_wind(capsys):
    for stand in answer(capsys, *BASE, "--wind", "NW 12")["stands"]:
        for hour in stand["hours"]:
            assert hour["wind_from_deg"] == 315.0
            assert abs(hour["air_to_deg"] - 135.0) < 45  # a slope may turn it


def test_winds_that_work_are_go_when_typed(capsys):
    """The sweep and a typed wind in degrees are the same sums."""
    first = answer(capsys, *BASE, "--wind", "300 at 8 mph")["stands"]
    for stand in first:
        if stand["group"] == "stay-out" and "not-now" in " ".join(stand["reasons"]):
            continue
        inside = any(
            (300 - a) % 360 <= (b - a) % 360 or (a, b) == (0, 360)
            for a, b in stand["works_from_deg"]
        )
        assert inside == (stand["group"] == "go"), stand["id"]


def test_calm_has_no_direction(capsys):
    report = answer(capsys, *BASE, "--wind", "calm")
    hour = report["stands"][0]["hours"][0]
    assert (hour["state"], hour["air_to_deg"], hour["verdict"]) == ("calm", None, "cant-call")
    assert all(z["relation"] in ("none", None) for z in report["stands"][0]["zones"])


def test_outside_every_season_all_stay_out(capsys):
    words = ["sits", "--property", DEMO, "--date", "2026-05-10", "--sit", "evening"]
    report = answer(capsys, *words, "--wind", "W 6")
    assert report["legal_light"] is None
    assert {s["group"] for s in report["stands"]} == {"stay-out"}


def test_a_taken_stand_is_out(capsys):
    report = answer(capsys, *BASE, "--wind", "NW 8", "--taken", "plum-edge:Somebody")
    taken = next(s for s in report["stands"] if s["id"] == "plum-edge")
    assert taken["group"] == "stay-out"
    assert "Somebody sits here." in taken["reasons"]


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        ([*BASE, "--wind", "NNN 8"], "NNN 8"),
        ([*BASE, "--wind", "NW 8", "--hunter", "Nobody"], "Nobody"),
        ([*BASE, "--wind", "NW 8", "--weapon", "sling"], "sling"),
        ([*BASE, "--wind", "NW 8", "--taken", "nowhere:X"], "nowhere"),
        ([*BASE, "--wind", "NW 8", "--taken", "plum-edge:A", "plum-edge:B"], "taken by A and by B"),
        ([*BASE, "--wind", "NW 8", "--cloud", "7"], "7"),
        ([*BASE, "--forecast", "no-such-file.json"], "no-such-file.json"),
        (["daylight", "--property", DEMO, "--date", "2026-13-01"], "2026-13-01"),
        (["check", "no-such-property.json"], "no-such-property.json"),
    ],
)
def test_bad_input_is_one_message_and_exit_code_two(capsys, words, seen):
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert seen in err
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err


def forecast(tmp_path, first, hours):
    body = {
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "hourly_units": {"time": "iso8601", "wind_speed_10m": "mp/h"},
        "hourly": {
            "time": [f"{first}T{h:02d}:00" for h in range(hours)],
            "wind_speed_10m": [8.0] * hours,
            "wind_direction_10m": [315] * hours,
        },
    }
    path = tmp_path / "forecast.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    return str(path)


def test_a_forecast_without_the_sit_is_refused(capsys, tmp_path):
    code, _, err = run(capsys, *BASE, "--forecast", forecast(tmp_path, "2026-10-01", 24))
    assert code == 2
    assert "2026-11-10" in err


def test_a_forecast_that_ends_in_the_sit_has_missing_hours(capsys, tmp_path):
    report = answer(capsys, *BASE, "--forecast", forecast(tmp_path, "2026-11-10", 13))
    states = [h["state"] for h in report["stands"][0]["hours"]]
    assert sorted(set(states), key=states.index) == ["directed", "missing"]
    assert states.count("missing") == 3  # no air is known, so nothing is cut


def test_next_names_the_sits_of_the_forecast(capsys, tmp_path):
    file = forecast(tmp_path, "2026-11-10", 24)
    words = ["next", "--property", DEMO, "--forecast", file, "--now", "2026-11-10T03:00:00-05:00"]
    report = answer(capsys, *words)
    assert [s["sit"] for s in report["sits"]] == ["morning", "evening"]


def test_same_bytes_whatever_the_zone_of_the_machine(capsys, monkeypatch):
    """A process of its own in one zone, this one in another."""
    env = {"TZ": "Asia/Tokyo", "PATH": "", "PYTHONHASHSEED": "1", "LC_ALL": "C"}
    words = [*BASE, "--typical", "--json"]
    far = [sys.executable, "-m", "core", *words]
    told = subprocess.run(far, cwd=ROOT, env=env, capture_output=True, check=True).stdout
    try:
        monkeypatch.setenv("TZ", "America/New_York")
        getattr(time, "tzset", bool)()
        assert run(capsys, *words) == (0, told.decode(), "")
    finally:
        monkeypatch.undo()
        getattr(time, "tzset", bool)()


def test_a_reader_that_has_had_enough_is_no_fault():
    ours = subprocess.Popen(
        [sys.executable, "-m", "core", "daylight", "--property", DEMO, "--date", "2026-11-10"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    ours.stdout.close()  # before a word is written
    assert ours.stderr.read() == b""
    assert ours.wait() == 0


def test_every_option_says_what_it_is_and_every_command_shows_one_that_works():
    parser = _parser()
    (commands,) = (a for a in parser._actions if a.dest == "command")
    assert set(commands.choices) == set(EXAMPLES)
    for name, command in commands.choices.items():
        assert [a.dest for a in command._actions if not a.help] == [], name
        command.parse_args(shlex.split(EXAMPLES[name])[1:])  # exits where it is wrong


def test_the_light_of_a_day_is_told_in_clock_times_and_as_not_confirmed(capsys):
    code, out, _ = run(capsys, "daylight", "--property", DEMO, "--date", "2026-11-10")
    assert code == 0 and "Sunrise 6:50 am" in out
    assert "Legal light is not confirmed: check your state's rule." in out
    _, out, _ = run(capsys, "daylight", "--property", DEMO, "--date", "2026-07-10")
    assert "Legal" not in out and "No season of this property covers this date." in out


def test_a_stand_that_is_not_there_is_answered_with_those_that_are(capsys):
    code, _, err = run(capsys, *BASE, "--wind", "NW 8", "--taken", "zzz:Nell")
    assert code == 2 and "'zzz'" in err and "dry-fork" in err and "oats-box" in err
