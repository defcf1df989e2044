"""Answers on the command line that nothing asked for: named on stderr, never silent."""

import json

import pytest

from core.__main__ import main
from core.errors import NeedsAnswer
from core.weather.answers import Answers, read_with
from core.weather.files.recognise import read_weather
from tests.few_stands import few_stands_file

DEMO = str(few_stands_file())
OPEN = b"date,time,wind speed,wind direction\n03/04/2026,06:00,8,NW\n03/04/2026,07:00,9,W\n"
CLOSED = b"time_utc,wind_dir_deg,wind_mph\n2026-10-12 06:00,45,8\n2026-10-12 07:00,50,9\n"
ALL = Answers(zone="-05:00", speed_unit="kt", dayfirst=False, columns=(("speed", "wind speed"),))


def reader(data: bytes):
    return lambda answers: read_weather(data, "log.csv", answers)


def test_a_file_that_leaves_all_open_uses_every_answer():
    hours, idle = read_with(reader(OPEN), ALL)
    assert idle == []
    # 8 knots of 1852 m an hour; 6:00 at five hours behind UTC
    assert hours.speed_mps[0] == pytest.approx(8 * 1852 / 3600)
    assert str(hours.start_s[0].astype("datetime64[s]")) == "2026-03-04T11:00:00"


def test_a_file_that_tells_it_all_uses_none_and_is_read_the_same():
    told = Answers(zone="-05:00", speed_unit="kt", dayfirst=False)
    hours, idle = read_with(reader(CLOSED), told)
    assert idle == ["zone", "speed_unit", "dayfirst"]
    plain = reader(CLOSED)(Answers())
    assert hours.speed_mps.tolist() == plain.speed_mps.tolist()
    assert hours.start_s.tolist() == plain.start_s.tolist()


def test_a_missing_answer_is_still_asked_for():
    with pytest.raises(NeedsAnswer) as fault:
        read_with(reader(OPEN), Answers(zone="-05:00", dayfirst=False))
    assert fault.value.asks == "speed_unit"


def test_an_answer_that_does_not_do_is_not_tried_for_ever():
    def asks(_):
        raise NeedsAnswer("it does not fit", "log.csv", "zone", ())

    with pytest.raises(NeedsAnswer, match="does not fit"):
        read_with(asks, Answers(zone="UTC"))


def run(capsys, *words):
    code = main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


NOT_USED = "was not used: this wind does not leave it open."


@pytest.mark.parametrize(
    ("words", "options"),
    [
        (("--zone", "-05:00"), ["--zone"]),
        (("--speed-unit", "kt", "--no-dayfirst"), ["--speed-unit", "--no-dayfirst"]),
        (("--dayfirst",), ["--dayfirst"]),
        ((), []),
    ],
)
def test_each_is_named_on_stderr_and_the_answer_stays_clean(capsys, tmp_path, words, options):
    path = tmp_path / "told.csv"
    path.write_bytes(CLOSED)
    code, out, err = run(capsys, "wind", str(path), "--json", *words)
    assert code == 0
    assert err.splitlines() == [f"{option} {NOT_USED}" for option in options]
    assert json.loads(out)["hours"]


def test_a_column_is_not_needed_where_the_format_has_its_own(capsys):
    code, _, err = run(
        capsys,
        "sits",
        "--property",
        DEMO,
        "--date",
        "2026-11-10",
        "--sit",
        "morning",
        "--wind",
        "NW 8",
        "--column",
        "from=Vane",
    )
    assert (code, err.strip()) == (0, f"--column {NOT_USED}")


def test_a_season_of_files_that_need_none_says_so(capsys, tmp_path):
    path = tmp_path / "999999-99999-2022"
    hours = [(day, hour) for day in (8, 9) for hour in range(24)]
    path.write_text(
        "".join(
            f"2022 11 {day:02d} {hour:02d} {50:5d} {10:5d} {10150:5d} {310:5d} {50:5d} {0:5d} "
            f"{-9999:5d} {-9999:5d}\n"
            for day, hour in hours
        )
    )
    code, _, err = run(
        capsys,
        "season",
        "--property",
        DEMO,
        "--history",
        str(path),
        "--no-candidates",
        "--zone",
        "UTC",
    )
    assert (code, err.strip()) == (0, f"--zone {NOT_USED}")
