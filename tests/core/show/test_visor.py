"""The sheet on the sun visor: what it says, and that it holds what users write."""

import dataclasses
import datetime
import html
import re

import pytest

from core.__main__ import main
from core.answer.one_sit import answer_sit
from core.answer.other_winds import STEADY
from core.errors import BadRequest
from core.ground.layout import Closed, Property, Season
from core.season.visor import HEADS, middle_of_season, visor_rows
from core.show.visor import visor_sheet
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.entry import parse_wind
from tests.few_stands import few_stands_file, few_stands_scene
from tests.grounds import PIEDMONT, ground, lane

DATE = datetime.date(2026, 11, 7)
AUGUST_10_S = datetime.datetime(2026, 8, 10, 15, tzinfo=datetime.UTC).timestamp()


@pytest.fixture(scope="module")
def demo():
    return few_stands_scene()


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    """The sheet of it as the command writes it."""
    out = tmp_path_factory.mktemp("visor") / "sheet.html"
    words = ["visor", "--property", str(few_stands_file()), "--out", str(out)]
    assert main([*words, "--now", "2026-08-10T10:00-04:00"]) == 0
    return out.read_text(encoding="utf-8")


def test_cells_are_the_home_pages_first_and_second_choice(demo):
    rows = visor_rows(demo, DATE, points=("N", "SSW", "ESE", "NNW"))
    assert [len(r.cells) for r in rows] == [4] * 4
    for point, column in (("N", 0), ("SSW", 1), ("ESE", 2), ("NNW", 3)):
        sit, strength = HEADS[column]
        found = answer_sit(prepare_sit(demo, parse_wind(f"{point} {strength}"), DATE, sit))
        good = [s for s in found.stands if s.group == GO][:2]
        cell = next(r for r in rows if r.point == point).cells[column]
        assert [c.stand for c in cell.choices] == [s.stand.name for s in good]
        assert [c.lane for c in cell.choices] == [s.way_in.way.lane.name for s in good]
        light_s = found.sit.clock.legal_end_s if sit == "evening" else found.sit.clock.legal_start_s
        for choice, own in zip(cell.choices, good, strict=True):
            assert choice.minutes * 60 == pytest.approx(light_s - own.leave_truck_s, abs=30)


def test_a_ground_where_nothing_is_go_says_none_or_cant_call():
    prop = ground(seasons=(Season("bow", "09-01", "12-31"),))
    shut = tuple(dataclasses.replace(s, closed=True) for s in prop.stands)
    sheet = visor_sheet(Scene(dataclasses.replace(prop, stands=shut)), DATE, AUGUST_10_S)
    assert sheet.count(">none<") == 64
    no_way = dataclasses.replace(prop, lanes=())
    other = html.unescape(visor_sheet(Scene(no_way), DATE, AUGUST_10_S))
    assert other.count(">can't call<") == 64


def test_what_users_write_is_harmless_and_nothing_is_fetched():
    bad = "<img src=x>&\"'"  # short enough to stand uncut
    prop = ground(lanes=(dataclasses.replace(lane(PIEDMONT, (0, 440), (0, 5)), name=bad),))
    stands = tuple(dataclasses.replace(s, name=bad) for s in prop.stands)
    sheet = visor_sheet(
        Scene(dataclasses.replace(prop, name=bad, stands=stands)), DATE, AUGUST_10_S, "bow"
    )
    assert "<img" not in sheet
    assert html.unescape(sheet).count(bad) > 60
    assert "<script" not in sheet
    assert re.findall(r"(?:src|href)=[\"'](?!#)", sheet) == []
    assert "http:" not in sheet and "https:" not in sheet


def test_it_carries_its_dates_and_the_warning(sheet):
    assert sheet.startswith("<!doctype html>")
    assert sheet.count("<tr><th scope=row>") == 16
    for words in ("Worked out for 7 November", "Made 10 August 2026", "Check today's legal light"):
        assert words in sheet


def test_the_date_in_the_middle_has_no_closed_hours():
    season = Season("bow", "11-01", "11-29", closed=(Closed(("Sun",), "09:00", "12:00"),))
    prop = ground(seasons=(season,))
    assert datetime.date(2026, 11, 15).weekday() == 6
    assert middle_of_season(prop, 2026) in (
        datetime.date(2026, 11, 14),
        datetime.date(2026, 11, 16),
    )
    over = ground(seasons=(Season("bow", "12-01", "01-31"),))
    assert middle_of_season(over, 2026) == datetime.date(2027, 1, 1)


def test_a_date_outside_every_season_is_refused(demo):
    with pytest.raises(BadRequest, match="2026-07-04"):
        visor_rows(demo, datetime.date(2026, 7, 4))


def test_the_command_names_a_date_outside_the_season(tmp_path, capsys):
    words = ["visor", "--property", str(few_stands_file()), "--out", str(tmp_path / "sheet.html")]
    assert main([*words, "--date", "2026-07-04"]) == 2
    assert "2026-07-04" in capsys.readouterr().err


def long_named(prop: Property) -> str:
    """The sheet of a ground where every stand and way has a long name, alike but for its end."""
    stands = tuple(
        dataclasses.replace(s, name=f"Broomsedge hollow ladder stand {i:02d}")
        for i, s in enumerate(prop.stands)
    )
    lanes = tuple(
        dataclasses.replace(w, name=f"Long way round the timber {i:02d}")
        for i, w in enumerate(prop.lanes)
    )
    scene = Scene(dataclasses.replace(prop, stands=stands, lanes=lanes))
    return visor_sheet(scene, DATE, AUGUST_10_S)


def test_long_names_are_told_apart(demo):
    sheet = long_named(demo.ground)
    assert "Brooms…stand 00" in sheet and "Brooms…stand 01" in sheet


def test_the_evening_is_told_in_hours_and_minutes(demo, sheet):
    row = visor_rows(demo, DATE, points=("N",))[0]
    minutes = row.cells[HEADS.index(("evening", STEADY))].choices[0].minutes
    assert 180 < minutes < 300  # the last three and a half hours, and the walk
    assert f"<b>{minutes // 60}:{minutes % 60:02d}</b>" in sheet
    assert f"<b>{minutes}</b>" not in sheet
