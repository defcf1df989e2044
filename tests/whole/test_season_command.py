"""python -m core season: its JSON, its CSV, and what it refuses."""

import csv
import itertools
import json

import numpy as np
import pytest

from core.__main__ import main
from core.cli.shared import scene_at
from core.judge.stand_rows import rows_of
from core.season.review import dates_in, season_sits
from core.sit.clock import HALVES
from core.weather.files.typical import typical_year
from tests import ground_files
from tests.few_stands import few_stands, few_stands_file

NO_SLOPE = ("cane-blind", "saddle-stand")
STANDS = ("dry-fork", "plum-edge", *NO_SLOPE)
DEMO = str(few_stands_file(STANDS))


def run(capsys, *words):
    code = main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture(scope="module")
def report(tmp_path_factory):
    import contextlib
    import io

    path = tmp_path_factory.mktemp("season") / "out.csv"
    text = io.StringIO()
    with contextlib.redirect_stdout(text):
        words = ["season", "--property", DEMO, "--typical", "--no-candidates"]
        code = main([*words, "--json", "--csv", str(path)])
    assert code == 0
    return json.loads(text.getvalue()), path


def test_shares_add_up_and_counts_agree(report):
    found, _ = report
    assert len(found["stands"]) == len(STANDS)
    for row in found["stands"]:
        assert row["sits"] == 222 == row["morning"]["sits"] + row["evening"]["sits"]
        assert row["go"] + row["cant_call"] + row["stay_out"] == pytest.approx(1, abs=2e-4)
        halves = (row["morning"]["go"] + row["evening"]["go"]) / 2
        assert row["go"] == pytest.approx(halves, abs=2e-4)
        assert sum(row["why_out"].values()) == pytest.approx(1 - row["go"], abs=5e-4)
        assert set(row["hours"]) == {"clean", "just_off", "wrong", "cant_call"}
        months = [m[s] for m in row["months"].values() for s in ("morning", "evening")]
        assert sum(m["sits"] for m in months) == 222
        goes = sum(m["sits"] * m["go"] for m in months)
        assert goes / 222 == pytest.approx(row["go"], abs=1e-3)
        assert row["years"] is None


def counted_hours(sits, stand) -> float:
    """Hours of some sits by counting: every hour of a window, cut where a span of turning air
    begins and ends in it, unless its wind leaves no slope wind; pieces under 15 minutes decide
    nothing and are left out."""
    clock, found, turns = sits.clock, sits.found, rows_of(sits, stand).turns
    fades_mps, minutes = sits.ground.air.slope_fades_at_mps, 0.0
    for i in range(len(sits)):
        start_s, end_s = int(clock.start_s[i]), int(clock.end_s[i])
        cuts = []
        if turns is not None:
            own = turns.sit == i
            cuts = [*turns.start_s[own].tolist(), *turns.end_s[own].tolist()]
        for hour_s in range(start_s // 3600 * 3600, end_s, 3600):
            first_s, last_s = max(start_s, hour_s), min(end_s, hour_s + 3600)
            blown = found.hours.speed_mps[found.index_of(hour_s, i)] >= fades_mps
            inner = [] if blown else sorted(c for c in set(cuts) if first_s < c < last_s)
            edges = [first_s, *inner, last_s]
            lengths = [(b - a) / 60 for a, b in itertools.pairwise(edges)]
            minutes += sum(length for length in lengths if length >= 15)
    return minutes / 60


def test_hours_are_those_of_the_windows_without_pieces_that_decide_nothing(report):
    scene = scene_at(DEMO)
    weather = typical_year()
    dates = dates_in(scene.ground, weather, None, None)
    both = [season_sits(scene, weather, dates, sit) for sit in HALVES]
    told = {row["id"]: sum(row["hours"].values()) for row in report[0]["stands"]}
    counted = {
        stand.id: sum(counted_hours(sits, stand) for sits in both) for stand in scene.ground.stands
    }
    assert len({round(counted[name], 6) for name in NO_SLOPE}) == 1 < len(set(counted.values()))
    # four whole numbers, each rounded by half an hour at most
    assert told == pytest.approx(counted, abs=2.0)


def test_the_property_and_its_holes(report):
    found, _ = report
    whole = found["property"]
    lost = sum(h["sits_lost"] for h in whole["holes"])
    assert whole["sits"] == 222
    assert lost == round(222 * (1 - whole["some_stand_go"]))
    assert sum(r["none"] for r in whole["left"]) == lost
    assert set(whole["without_stand"]) == {"still", "unsure", "wrong", "shut"}
    assert sum(whole["without_stand"].values()) == lost
    assert all(r["sits"] == r["none"] + r["one"] + r["two"] + r["more"] for r in whole["left"])
    assert sum(r["sits"] for r in whole["left"]) == 222
    assert set(whole["smallest_set"]) <= {s["id"] for s in found["stands"]}
    one = sum(r["one"] for r in whole["left"])
    assert sum(s["only_stand_sits"] for s in found["stands"]) == one
    assert found["candidates"] == []


def test_a_spot_for_a_next_stand_is_told_with_what_it_adds(capsys, tmp_path):
    """One stand and one trail: spots are tried along each, and each takes half a second."""
    document = few_stands(("dry-fork",))
    ways = [f for f in document["features"] if f["properties"]["kind"] == "corridor"]
    others = [f["id"] for f in ways if f["id"] != "east-trail"]
    document["features"] = [f for f in document["features"] if f["id"] not in others]
    path = tmp_path / "one.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    code, out, _ = run(capsys, "season", "--property", str(path), "--typical", "--json")
    found = json.loads(out)
    assert code == 0 and found["candidates"]
    whole = found["property"]
    lost = round(whole["sits"] * (1 - whole["some_stand_go"]))
    for spot in found["candidates"]:
        assert {"lon", "lat", "corridor", "adds_sits", "adds_share"} <= set(spot)
        assert spot["corridor"] == "east-trail" and 0 < spot["adds_sits"] <= lost
        assert spot["adds_share"] == pytest.approx(spot["adds_sits"] / whole["sits"], abs=1e-3)


def test_the_csv_holds_the_same_shares(report):
    found, path = report
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    by_key = {(r["id"], r["sit"], r["month"]): r for r in rows}
    for stand in found["stands"]:
        for sit in ("morning", "evening"):
            assert float(by_key[stand["id"], sit, "all"]["go"]) == stand[sit]["go"]


def test_part_of_a_season_in_words(capsys):
    code, out, _ = run(
        capsys,
        "season",
        "--property",
        DEMO,
        "--typical",
        "--from",
        "11-01",
        "--to",
        "11-07",
        "--no-candidates",
    )
    assert code == 0
    assert "14 sits" in out.splitlines()[0]
    assert "winds that leave no stand" in out
    assert "without a stand." in out.splitlines()[-2]


def isd_lite(year: int) -> str:
    """A made-up November in ISD-Lite: NW 5 m/s, every fourth day calm."""
    lines = []
    for day in range(1, 31):
        for hour in range(24):
            deg, speed = (0, 0) if day % 4 == 0 else (310, 50)
            lines.append(
                f"{year} 11 {day:02d} {hour:02d} {50:5d} {10:5d} {10150:5d} "
                f"{deg:5d} {speed:5d} {0:5d} {-9999:5d} {-9999:5d}"
            )
    return "\n".join(lines) + "\n"


def test_files_of_several_years_tell_the_spread(capsys, tmp_path):
    files = []
    for year in (2021, 2022, 2023):
        path = tmp_path / f"999999-99999-{year}"
        path.write_text(isd_lite(year), encoding="ascii")
        files.append(str(path))
    code, out, err = run(
        capsys, "season", "--property", DEMO, "--history", *files, "--json", "--no-candidates"
    )
    assert (code, err) == (0, "")
    found = json.loads(out)
    assert found["years"] == [2021, 2022, 2023]
    assert found["property"]["sits"] == pytest.approx(180, abs=4)
    spread = [s["years"] for s in found["stands"]]
    assert all(s["years"] == 3 and s["lowest_go"] <= s["highest_go"] for s in spread)
    assert np.ptp([s["highest_go"] for s in spread]) > 0.1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--from", "13-45", "--to", "11-07"), "13-45"),
        (("--from", "11-01"), "Give both"),
        (("--from", "06-01", "--to", "06-05"), "06-01 to 06-05"),
        (("--weapon", "sling"), "sling"),
        (("--csv", "/nowhere/at/all/x.csv"), "/nowhere/at/all/x.csv"),
    ],
)
def test_what_it_refuses_names_what_is_wrong(capsys, words, said):
    code, out, err = run(
        capsys, "season", "--property", DEMO, "--typical", "--no-candidates", *words
    )
    assert (code, out) == (2, "")
    assert said in err
    assert len(err.strip().splitlines()) == 1


def test_a_history_that_is_not_there_is_named(capsys, tmp_path):
    gone = tmp_path / "gone.csv"
    code, _, err = run(capsys, "season", "--property", DEMO, "--history", str(gone))
    assert code == 2
    assert "gone.csv" in err


def test_in_other_country_the_first_line_says_whose_wind_it_is(capsys, tmp_path):
    """Iowa by the year of Greensboro, some 700 miles off; the demo lies beside it."""
    file = tmp_path / "iowa.json"
    moved = ground_files.document(ground_files.stand("oak", 0, 0), center=[-92.3, 42.1])
    moved["features"][0]["geometry"]["coordinates"] = [-92.3, 42.1]
    file.write_text(json.dumps(moved), encoding="utf-8")
    words = ("--typical", "--no-candidates", "--from", "11-01", "--to", "11-07")
    _, told, _ = run(capsys, "season", "--property", str(file), *words)
    assert told.startswith("This is not this ground's wind: ")
    _, told, _ = run(capsys, "season", "--property", DEMO, *words)
    assert "not this ground's wind" not in told
