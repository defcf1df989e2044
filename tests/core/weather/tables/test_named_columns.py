"""A table whose columns are under no known name: it is asked which is what, never guessed."""

import json
from pathlib import Path

import numpy as np
import pytest

from core.__main__ import main
from core.errors import BadRequest, BadWeather, NeedsAnswer
from core.units import MPS_PER_KMH, MPS_PER_MPH
from core.weather.answers import Answers, answered_columns
from core.weather.files.recognise import read_weather
from core.weather.hours import DIRECTED, VARIABLE

TRAPS = Path(__file__).resolve().parents[3] / "traps" / "forecast"
DAY = int(np.datetime64("2026-10-12T00", "s").astype(int))
ALL = ("time=Seen", "from=Vane", "speed=Puff (km/h)")
TABLE = "a,b,c,d\n2026-10-12 06:00Z,45,5,9\n2026-10-12 07:00Z,50,6,12\n"


def read(data, *words, zone="UTC", **more):
    data = data.encode() if isinstance(data, str) else data
    return read_weather(data, "mast.csv", Answers(zone, columns=answered_columns(words), **more))


def trap(name: str) -> bytes:
    return (TRAPS / name).read_bytes()


def asked(data, *words) -> NeedsAnswer:
    with pytest.raises(NeedsAnswer) as question:
        read(data, *words)
    assert question.value.asks == "columns"
    return question.value


def clock(hours):
    return list((hours.start_s - DAY) // 3600)


def test_unknown_headers_are_asked_with_samples_of_each():
    question = asked(trap("unknown_names_all.csv"))
    assert question.needs == ("time", "from", "speed")
    assert question.may == ("clock", "gust", "cloud")
    holds = {choice.value: choice.means for choice in question.choices}
    assert list(holds) == ["Seen", "Vane", "Puff (km/h)", "Blast", "Sky", "Note"]
    assert holds["Vane"] == "45 | 50 | VRB"
    assert holds["Blast"] == "15,1"
    assert "Answer with --column time=NAME --column from=NAME --column speed=NAME" in str(question)


def test_the_answer_is_used_with_what_the_header_says_besides():
    hours = read(trap("unknown_names_all.csv"), *ALL, "gust=Blast", "cloud=Sky")
    assert clock(hours) == [6, 7, 8]
    assert list(hours.state) == [DIRECTED, DIRECTED, VARIABLE]
    assert hours.wind_from_deg[:2].tolist() == [45, 50]
    # the unit is in the speed's own header: 11.2, 9.4 and 1 km/h
    np.testing.assert_allclose(hours.speed_mps, np.array([11.2, 9.4, 1.0]) * MPS_PER_KMH)
    np.testing.assert_allclose(hours.gust_mps, [15.1 * MPS_PER_KMH, np.nan, np.nan])
    np.testing.assert_allclose(hours.cloud_frac, [0.8, 0.9, 1.0])


def test_what_is_not_named_is_left_out():
    hours = read(trap("unknown_names_all.csv"), *ALL)
    assert np.isnan(hours.gust_mps).all() and np.isnan(hours.cloud_frac).all()


def test_only_what_the_header_leaves_open_is_asked():
    question = asked(trap("unknown_names.csv"))  # time_utc, alpha, beta
    assert question.needs == ("from", "speed") and "clock" not in question.may
    assert [choice.value for choice in question.choices] == ["alpha", "beta"]
    hours = read(trap("unknown_names.csv"), "from=alpha", "speed=beta", speed_unit="mph")
    assert clock(hours) == [6] and hours.wind_from_deg[0] == 45
    assert hours.speed_mps[0] == pytest.approx(5 * MPS_PER_MPH)


def test_of_two_speeds_the_named_one_is_read():
    question = asked(trap("two_speeds.csv"))
    assert "'wind_mph' and 'wind_kt' may each be the wind speed" in str(question)
    assert question.needs == ("speed",)
    assert [choice.value for choice in question.choices] == ["wind_mph", "wind_kt"]
    hours = read(trap("two_speeds.csv"), "speed=wind_mph")
    assert hours.speed_mps[0] == pytest.approx(5 * MPS_PER_MPH)


def test_an_answer_stands_over_a_known_name():
    """The header knows `wind_mph`; the user knows that the other mast is his."""
    data = "time_utc,wind_mph,wind_dir_deg,low mast\n2026-10-12 06:00,5,45,3\n"
    hours = read(data, "speed=low mast", speed_unit="mph")
    assert hours.speed_mps[0] == pytest.approx(3 * MPS_PER_MPH)


def test_a_named_time_stands_over_a_known_one():
    """`timestamp` is when the mast sent its report; the hour it is of is in `seen`."""
    data = (
        "timestamp,seen,wind_mph,wind_dir_deg\n2026-10-12 09:30Z,2026-10-12 06:00Z,5,45\n"
        "2026-10-12 09:30Z,2026-10-12 07:00Z,6,50\n"
    )
    assert clock(read(data, "time=seen")) == [6, 7]
    both_change = data.replace("2026-10-12 09:30Z,2026-10-12 07", "2026-10-12 10:30Z,2026-10-12 07")
    assert clock(read(both_change, "time=seen")) == [6, 7]


def test_a_table_without_a_header_is_answered_by_numbers():
    question = asked(trap("no_header.csv"))
    assert [choice.value for choice in question.choices] == ["1", "2", "3"]
    hours = read(trap("no_header.csv"), "time=1", "from=2", "speed=3", speed_unit="mph")
    assert clock(hours) == [6, 7]  # its first line is an hour too
    assert hours.wind_from_deg.tolist() == [45, 50]


def test_a_clock_apart_from_its_date():
    question = asked(trap("unknown_clock.csv"))
    assert question.needs == ("clock",)
    assert clock(read(trap("unknown_clock.csv"), "clock=klok")) == [6, 7]
    data = "dagen,h,b,c\n2026-10-12,06:00,45,5\n2026-10-12,07:00,50,6\n"
    assert asked(data).needs == ("time", "from", "speed")
    words = ("time=dagen", "clock=h", "from=b", "speed=c")
    assert clock(read(data, *words, speed_unit="mph")) == [6, 7]


def test_a_known_clock_stays_beside_a_named_date():
    data = "dagen,hour,b,c\n2026-10-12,06:00,45,5\n2026-10-12,07:00,50,6\n"
    hours = read(data, "time=dagen", "from=b", "speed=c", speed_unit="mph")
    assert clock(hours) == [6, 7]


def test_a_wind_of_plain_numbers_may_be_a_speed_or_a_direction():
    data = "time_utc,wind,what\n2026-10-12 06:00,45,5\n2026-10-12 07:00,50,6\n"
    assert asked(data).needs == ("from", "speed")
    hours = read(data, "from=wind", "speed=what", speed_unit="mph")
    assert hours.wind_from_deg.tolist() == [45, 50]


def test_a_name_that_says_where_the_wind_goes_is_turned_about():
    data = "a,drift to,c\n2026-10-12 06:00Z,90,5\n"
    hours = read(data, "time=a", "from=drift to", "speed=c", speed_unit="mph")
    assert hours.wind_from_deg[0] == 270  # towards the east is from the west
    assert any("says where the wind goes" in note for note in hours.notes)


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        (("time=a", "from=b", "speed=Tempo"), "no column is called 'Tempo'.*'a', 'b', 'c', 'd'"),
        (("time=a", "from=b", "speed=9"), "no column is called '9'"),
        (("time=a", "from=b", "speed=b"), "'b' is named for from and for speed"),
        (("time=a", "from=b", "speed=c", "cloud=d"), "'d' goes no higher than 8.*eighths"),
        (("speed=c", "speed=d"), "two columns are named for speed"),
        (("wetness=c",), "'wetness=c' names no column"),
        (("speed",), "'speed' names no column"),
    ],
)
def test_an_answer_that_fits_no_column_is_refused(words, seen):
    with pytest.raises(BadRequest, match=seen):
        read(TABLE.replace(",12\n", ",8\n").replace(",9\n", ",2\n"), *words)


def test_two_columns_of_one_name_are_told_by_number():
    data = TABLE.replace("a,b,c,d", "a,b,x,x")
    assert [c.value for c in asked(data).choices] == ["a", "b", "3", "4"]
    with pytest.raises(BadRequest, match=r"2 columns are called 'x'.*3 or 4"):
        read(data, "time=a", "from=b", "speed=x")
    hours = read(data, "time=a", "from=b", "speed=4", speed_unit="mph")
    np.testing.assert_allclose(hours.speed_mps, np.array([9, 12]) * MPS_PER_MPH)


def test_a_column_of_another_kind_is_refused_by_line():
    with pytest.raises(BadWeather, match="such as line 2: '45' is no time"):
        read(TABLE, "time=b", "from=c", "speed=d", speed_unit="mph", direction_unit="deg")


@pytest.mark.parametrize(
    "text",
    [
        "Dear all,\nthe wind was bad, and cold, and wet\nso we went home, again, and ate\n",
        "a,b\n2026-10-12 06:00,45\n2026-10-12 07:00,50\n",
        "1 2 3\n4 5 6\n",
        "name,score,rank,x\nNell,a,b,c\nTom,d,e,f\n",
    ],
)
def test_what_is_no_table_of_wind_is_refused_and_not_asked_about(text):
    with pytest.raises(BadWeather, match="first line is"):
        read(text)


def test_a_message_names_thirty_columns_and_says_that_there_are_more():
    names = ",".join(f"c{i}" for i in range(40))
    row = ",".join(["2026-10-12 06:00Z", *map(str, range(39))])
    question = asked(f"{names}\n{row}\n")
    assert len(question.choices) == 40
    assert "; c29 (28); and 10 more." in str(question) and "c30" not in str(question)


def test_with_no_column_left_there_is_nothing_to_ask():
    with pytest.raises(BadWeather, match=r"known as its wind direction \('time_utc', 'wind_mph'\)"):
        read(trap("no_direction.csv"))


def test_on_the_command_line(capsys):
    path = str(TRAPS / "unknown_names_all.csv")
    assert main(["wind", path]) == 2
    assert "Vane (45 | 50 | VRB)" in capsys.readouterr().err
    named = [word for pair in ALL for word in ("--column", pair)]
    assert main(["wind", path, *named, "--zone", "UTC", "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert report["hours"][0]["wind_from_deg"] == 45
    assert main(["wind", path, "--column", "speed"]) == 2
    assert "'speed' names no column" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["sits", "next", "season"])
def test_every_command_that_takes_a_table_takes_the_answer(command, capsys):
    path, demo = str(TRAPS / "unknown_names_all.csv"), "demo_property.json"
    given = {
        "sits": ["--date", "2026-10-12", "--sit", "morning", "--forecast", path],
        "next": ["--now", "2026-10-12T01:00Z", "--forecast", path],
        "season": ["--history", path],
    }[command]
    assert main([command, "--property", demo, *given]) == 2
    assert "Answer with --column time=NAME" in capsys.readouterr().err
    named = [word for pair in ALL for word in ("--column", pair)]
    main([command, "--property", demo, *given, *named, "--zone", "UTC"])
    assert "--column" not in capsys.readouterr().err
