"""Rows keep their own starts where a zone's clock stands at half or quarter hours."""

import datetime
from zoneinfo import ZoneInfo

import pytest

from core.answer.one_sit import answer_sit
from core.judge.stand import stand_sits
from core.season.review import judge_season
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import WRONG
from core.weather.answers import Answers
from core.weather.files.recognise import read_weather
from tests.grounds import NOV_10, bed, ground

UTC = datetime.UTC
LEAVE_BEFORE = datetime.timedelta(minutes=15)  # before the first wrong hour


def turning(change: datetime.datetime, written) -> bytes:
    """A table whose wind turns into the bed at an instant. Args: it; how a time is written."""
    hours = [change + datetime.timedelta(hours=step) for step in range(-12, 13)]
    rows = [f"{written(at)},{315 if at >= change else 135},8" for at in hours]
    return "\n".join(["time,wind direction,wind speed mph", *rows]).encode()


@pytest.mark.parametrize(
    ("timezone", "center", "whole_utc"),
    [
        # the first whole UTC hour after nine by the clock there, as that clock tells it
        ("America/St_Johns", (-52.7, 47.56), "09:30"),  # UTC-3:30
        ("Australia/Adelaide", (138.6, -34.9), "09:30"),  # UTC+10:30 in November
        ("Asia/Kathmandu", (85.3, 27.7), "09:45"),  # UTC+5:45
        ("Pacific/Chatham", (-176.5, -43.9), "09:45"),  # UTC+13:45 in November
        ("America/New_York", (-79.9, 36.1), "09:00"),
    ],
)
@pytest.mark.parametrize("of_the_zone", [True, False])
def test_the_hunter_is_down_a_quarter_hour_before_the_wind_turns(
    timezone, center, whole_utc, of_the_zone
):
    zone = ZoneInfo(timezone)
    clock = "09:00" if of_the_zone else whole_utc
    change = datetime.datetime.fromisoformat(f"2026-11-10T{clock}").replace(tzinfo=zone)
    assert of_the_zone or change.astimezone(UTC).minute == 0
    prop = ground(center, timezone, areas=(bed(center, 135, 150),))
    for written in (
        lambda at: f"{at.astimezone(zone):%Y-%m-%d %H:%M}",
        lambda at: f"{at.astimezone(UTC):%Y-%m-%dT%H:%MZ}",
    ):
        weather = read_weather(turning(change, written), "t.csv", Answers(zone=timezone))
        sit = prepare_sit(Scene(prop), weather, NOV_10, "morning")
        assert answer_sit(sit).best.leave_by_s == (change - LEAVE_BEFORE).timestamp()
    (mornings,) = judge_season(Scene(prop), weather, kinds=("morning",)).reviews
    own = stand_sits(mornings.sits, prop.stands[0])
    verdict = own.rows.judged.by_sit(own.hours.verdict)[0]  # the one morning that has hours
    first = int((verdict == WRONG).argmax())
    assert verdict[first] == WRONG
    assert own.rows.judged.rows.start_s[0, first] == change.timestamp()


@pytest.mark.parametrize("day", ["2026-04-03", "2026-04-05"])  # before and after it moves
def test_so_it_is_on_either_side_of_a_clock_that_moves_by_half_an_hour(day):
    # Lord Howe's clock goes from UTC+11 to UTC+10:30 at 15:00 UTC on 4 April 2026
    timezone = "Australia/Lord_Howe"
    zone, change = ZoneInfo(timezone), datetime.datetime.fromisoformat(f"{day}T09:00")
    start = datetime.datetime.fromisoformat("2026-04-03T00:00")
    hours = [start + datetime.timedelta(hours=step) for step in range(72)]
    rows = [f"{at:%Y-%m-%d %H:%M},{315 if at >= change else 135},8" for at in hours]
    table = "\n".join(["time,wind direction,wind speed mph", *rows]).encode()
    weather = read_weather(table, "t.csv", Answers(zone=timezone))
    prop = ground((159.08, -31.55), timezone, areas=(bed((159.08, -31.55), 135, 150),))
    sit = prepare_sit(Scene(prop), weather, change.date(), "morning")
    assert (
        answer_sit(sit).best.leave_by_s == (change.replace(tzinfo=zone) - LEAVE_BEFORE).timestamp()
    )
