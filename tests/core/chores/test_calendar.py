"""The calendar file, read back by another parser (vobject), and what the command writes."""

import datetime
import json
import time
from dataclasses import replace

import pytest
import vobject

from core.__main__ import main
from core.chores.due import chores
from core.say.work.calendar import calendar_text
from tests import hostile
from tests.core.chores.test_due import farm

TODAY = datetime.date(2026, 7, 30)
NOW_S = 1785369600  # 2026-07-30T00:00:00Z
ZONES = (
    *("Pacific/Honolulu", "America/Los_Angeles", "America/New_York", "UTC"),
    *("Europe/Berlin", "Asia/Kolkata", "Pacific/Auckland", "Pacific/Kiritimati"),
)


def read(data: bytes) -> dict:
    calendar = vobject.readOne(data.decode())
    assert calendar.version.value == "2.0"
    return {event.uid.value: event for event in calendar.vevent_list}


@pytest.fixture
def zone(request, monkeypatch):
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield request.param
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize("zone", ZONES, indirect=True)
def test_days_are_the_same_in_every_zone(zone):
    ground = farm()
    found = chores(ground, [], TODAY)
    events = list(read(calendar_text(found, ground, TODAY, NOW_S)).values())
    assert len(events) == len(found)
    assert [e.dtstart.value for e in events] == [c.opens for c in found], zone
    ends = [e.dtend.value - datetime.timedelta(days=1) for e in events]
    assert ends == [c.due for c in found]
    assert all(type(e.dtstart.value) is datetime.date for e in events)
    assert {e.dtstamp.value.astimezone(datetime.UTC).isoformat() for e in events} == {
        "2026-07-30T00:00:00+00:00"
    }


def test_a_second_reading_changes_instead_of_doubling():
    ground = farm()
    later = datetime.date(2027, 9, 30)
    first = read(calendar_text(chores(ground, [], TODAY), ground, TODAY, NOW_S))
    second = read(calendar_text(chores(ground, [], later), ground, later, NOW_S + 86400 * 427))
    assert first.keys() == second.keys()
    for uid, event in first.items():
        assert int(event.sequence.value) < int(second[uid].sequence.value)


def test_lines_are_short_and_names_harmless():
    ground = farm()
    lane = replace(ground.lanes[0], name=" ".join(map(str, hostile.NAMES.values())))
    named = replace(ground, lanes=(lane,))
    data = calendar_text(chores(named, [], TODAY), named, TODAY, NOW_S)
    assert max(map(len, data.split(b"\r\n"))) <= 75  # octets, RFC 5545 3.1
    assert len(read(data)) == data.count(b"BEGIN:VEVENT") == len(chores(ground, [], TODAY))


def test_the_command_gives_json_and_a_calendar(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    out = tmp_path / "work.ics"
    words = ["chores", "--property", "demo_property.json", "--date", "2026-11-10", "--json"]
    assert main([*words, "--ics", str(out)]) == 0
    told = json.loads(capsys.readouterr().out)["chores"]
    wanted = {"kind", "feature", "opens", "due", "state", "why", "cautions"}
    assert all(wanted <= set(chore) for chore in told)
    branch = next(c for c in told if (c["kind"], c["feature"]) == ("cut", "branch-trail"))
    assert (branch["state"], branch["due"], branch["last"]) == (
        "overdue",
        "2026-03-31",
        "2025-03-08",
    )
    event = next(e for e in read(out.read_bytes()).values() if "Branch trail" in e.summary.value)
    assert event.summary.value == "Overdue: Cut Branch trail"
    assert event.dtstart.value == datetime.date(2026, 11, 10)
    assert main([*words, "--ics", str(out)]) == 2  # it is there, and --replace was not said
    assert main(["chores", "--property", "demo_property.json", "--date", "10 Nov"]) == 2
    assert "'10 Nov' is no date" in capsys.readouterr().err
