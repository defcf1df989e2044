"""Broken weather files end in a table or in the program's own error, never else.

    python tests/traps/test_fuzz.py 20000

runs as many examples as it is told; the suite runs a few hundred.
"""

import dataclasses
import sys
import warnings
from pathlib import Path

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

ROOT = Path(__file__).resolve().parents[2]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from core.errors import StandWindError  # noqa: E402
from core.weather.answers import Answers  # noqa: E402
from core.weather.files.history import read_history  # noqa: E402
from core.weather.files.recognise import read_weather  # noqa: E402
from core.weather.hours import CALM, DIRECTED, MISSING, VARIABLE  # noqa: E402
from core.weather.reading.observations import FASTEST_MPS  # noqa: E402

HERE = Path(__file__).parent
HISTORY = sorted((HERE / "history").iterdir())
FORECAST = sorted((HERE / "forecast").iterdir())
# what a user may have answered already, so that the readers run on behind the questions
ANSWERS = some.sampled_from(
    (
        Answers(),
        Answers(zone="America/New_York", speed_unit="kt", dayfirst=True),
        Answers(zone="UTC-05:00", speed_unit="mph", dayfirst=False),
    )
)
COLUMNS = {  # the answers of those whose columns are under no known name
    "unknown_names_all.csv": (("time", "Seen"), ("from", "Vane"), ("speed", "3"), ("cloud", "5")),
    "unknown_names.csv": (("from", "alpha"), ("speed", "beta")),
    "unknown_clock.csv": (("clock", "klok"),),
    "no_header.csv": (("time", "1"), ("from", "2"), ("speed", "3")),
    "two_speeds.csv": (("speed", "wind_kt"),),
}
PIECES = (
    b'"',
    b",",
    b"\n",
    b"\r",
    b"-",
    b"9" * 12,
    b"\x00",
    b"1e999",
    b"nan",
    b"inf",
    b"\xff\xfe",
    b"NA",
    b"\t",
    b" ",
    b"-9999",
    b"24:00",
)
SPOT = some.floats(0, 1, exclude_max=True)
CHANGES = some.lists(
    some.tuples(
        some.sampled_from(["cut", "flip", "put", "drop", "swap", "twice", "mix"]),
        SPOT,
        SPOT,
        some.integers(0, 255),
    ),
    min_size=1,
    max_size=4,
)


def changed(data: bytes, change) -> bytes:
    """One change: a cut, a flipped bit, a piece put in or taken out, lines or cells moved."""
    what, first, second, number = change
    at = int(first * len(data))
    if what == "cut":
        return data[:at]
    if what == "flip":
        return data[:at] + bytes(b ^ (1 << number % 8) for b in data[at : at + 1]) + data[at + 1 :]
    if what == "put":
        return data[:at] + PIECES[number % len(PIECES)] + data[at:]
    if what == "drop":
        return data[:at] + data[at + number % 40 :]
    lines = data.split(b"\n")
    row, other = int(first * len(lines)), int(second * len(lines))
    if what == "swap":
        lines[row], lines[other] = lines[other], lines[row]
    elif what == "twice":
        lines.insert(other, lines[row])
    else:
        cells = lines[row].split(b",")
        lines[row] = b",".join(cells[number % len(cells) :] + cells[: number % len(cells)])
    return b"\n".join(lines)


def check(path: Path, changes, answers) -> None:
    data = path.read_bytes()
    if answers.zone:
        answers = dataclasses.replace(answers, columns=COLUMNS.get(path.name, ()))
    for change in changes:
        data = changed(data, change)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of pandas, about cells that are no numbers
            if path in HISTORY:
                hours = read_history([(data, path.name)])
            else:
                hours = read_weather(data, path.name, answers)
    except StandWindError as fault:
        assert str(fault)
        return
    state, speed = hours.state, hours.speed_mps
    assert (np.diff(hours.start_s) > 0).all()
    assert (hours.start_s % 900 == 0).all()  # half-hour zones keep their own starts
    assert ((state == DIRECTED) == ~np.isnan(hours.wind_from_deg)).all()
    assert ((state == MISSING) == np.isnan(speed)).all()
    assert (speed[state == CALM] == 0).all()
    moving = speed[(state == DIRECTED) | (state == VARIABLE)]
    assert ((moving > 0) & (moving <= FASTEST_MPS)).all()
    wind = hours.wind_from_deg[state == DIRECTED]
    assert ((wind >= 0) & (wind < 360)).all()


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(some.sampled_from(HISTORY), CHANGES, ANSWERS)
def test_a_broken_history_file_ends_in_a_table_or_an_own_error(path, changes, answers):
    check(path, changes, answers)


@settings(max_examples=500, suppress_health_check=[HealthCheck.too_slow])
@given(some.sampled_from(FORECAST), CHANGES, ANSWERS)
def test_a_broken_forecast_file_ends_in_a_table_or_an_own_error(path, changes, answers):
    check(path, changes, answers)


if __name__ == "__main__":
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    run = settings(
        max_examples=n, deadline=None, suppress_health_check=list(HealthCheck), database=None
    )(given(some.sampled_from(HISTORY + FORECAST), CHANGES, ANSWERS)(check))
    run()
    print(f"{n} broken files: each a table or an own error")
