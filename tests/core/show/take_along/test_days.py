"""Some days in the pocket: an index, a sheet a day, what is missing said, small enough."""

import datetime
import html
import io
import re

import numpy as np
import pytest
from PIL import Image

from core.__main__ import main
from core.answer.one_sit import answer_sit
from core.answer.other_winds import other_winds
from core.errors import BadRequest, NoForecast
from core.ground.store import demo_path, open_property
from core.party.seating import Hunter, seat_all
from core.show.take_along.day_sheet import TOGETHER, OwnSeat, day_sheet
from core.show.take_along.days import index_rows, party_seats, pocket_days
from core.show.take_along.icon import PHONE_PX, icon_png
from core.sit.clock import HALVES
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.entry import parse_wind
from tests.few_stands import few_stands_file, few_stands_scene
from tests.grounds import NOV_10, hourly

MIDNIGHT_S = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
NELL, OWEN = "Nell", "Owen"


@pytest.fixture(scope="module", autouse=True)
def tables_made_once():
    """The tables of other winds differ by minutes from day to day, and take long: one does."""
    patch, made = pytest.MonkeyPatch(), {}

    def table(scene, date, sit, **who):
        if sit not in made:
            made[sit] = other_winds(scene, date, sit, **who)
        return made[sit]

    patch.setattr("core.show.take_along.day_sheet.other_winds", table)
    yield
    patch.undo()


@pytest.fixture(scope="module")
def scene():
    return few_stands_scene()


@pytest.fixture(scope="module")
def three_days():
    """A forecast of three days whose wind goes round."""
    return hourly(MIDNIGHT_S, list(np.arange(3 * 24) * 7.0 % 360.0))


@pytest.fixture(scope="module")
def four(scene, three_days):
    return pocket_days(scene, three_days, NOV_10, 4, MIDNIGHT_S)


@pytest.fixture(scope="module")
def party(scene, three_days):
    return pocket_days(scene, three_days, NOV_10, 1, MIDNIGHT_S, hunters=[NELL, OWEN])


def rows(page: str) -> list[str]:
    """The lines of the index, as they are read."""
    index = re.search(r"<nav.*?</nav>", page, re.DOTALL)[0]
    found = re.findall(r"<tr>(.*?)</tr>", index, re.DOTALL)[1:]
    return [re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", r))).strip() for r in found]


def test_some_days_are_one_file_without_script_that_asks_for_nothing(four):
    assert "<script" not in four
    assert not re.findall(r'(?:src|href)="(?!#|data:)', four)
    for target in re.findall(r'href="#(d\d+|top)"', four):
        assert f'id="{target}"' in four
    ids = re.findall(r'\sid="([^"]+)"', four)
    assert len(ids) == len(set(ids))  # two drawings never share a pattern


def test_a_week_of_all_the_demo_s_stands_is_under_700_kb(three_days):
    """No more than seven files of a day."""
    day = pocket_days(Scene(open_property(demo_path()).property), three_days, NOV_10, 1, MIDNIGHT_S)
    assert 7 * len(day.encode()) < 700_000


def test_the_index_tells_day_half_stand_and_when_to_leave_as_each_answer_does(
    four, scene, three_days
):
    told = rows(four)
    assert len(told) == 8
    for step in range(3):
        date = NOV_10 + datetime.timedelta(days=step)
        for half, sit in enumerate(("morning", "evening")):
            best = answer_sit(prepare_sit(scene, three_days, date, sit)).best
            line = told[2 * step + half]
            assert sit in line
            assert (best.stand.name in line) == (best.group == GO)
    assert told[0].startswith("Tue 10 Nov morning")


def test_the_day_after_its_end_is_said_to_be_missing(four):
    assert rows(four)[6:] == ["Fri 13 Nov morning no forecast", "evening no forecast"]
    assert "no hour of the weather lies in the morning of 2026-11-13" in four


def test_the_head_says_until_when_it_holds_and_what_it_was_made_from(four):
    head = four[four.index("<nav") : four.index("</nav>")]
    assert "Made Tue 10 Nov 12:00 am from typed" in head
    assert "Its wind holds until Fri 13 Nov 12:00 am, and no longer." in head


def test_the_seats_of_a_party_are_those_of_the_seating(party, scene, three_days):
    told = rows(party)
    assert [NELL in told[0], OWEN in told[2]] == [True, True]
    assert "for Owen" in party
    for half, sit in enumerate(("morning", "evening")):
        seating = seat_all(scene, three_days, NOV_10, sit, [Hunter(NELL), Hunter(OWEN)])
        for i in range(2):
            line = told[2 * i + half]
            if i in seating.seats:
                assert seating.seats[i].own.stand.name in line
            else:
                assert "stays" in line or "stay out" in line or "call" in line


def test_nobody_chooses_first_for_being_named_first(scene, three_days):
    one, other = (
        {sit: party_seats(scene, three_days, NOV_10, sit, names, taken={}) for sit in HALVES}
        for names in ([NELL, OWEN], [OWEN, NELL])
    )
    for sit in HALVES:
        assert {seat.stand for seat in one[sit]} == {seat.stand for seat in other[sit]}


def test_a_seat_by_hand_stays_and_a_stand_of_others_is_nobodys(scene, three_days):
    free = party_seats(scene, three_days, NOV_10, "morning", [NELL, OWEN], taken={})
    held = next(seat.stand for seat in free if seat.stand)
    taken = {held: "Somebody"}
    found = party_seats(scene, three_days, NOV_10, "morning", [NELL, OWEN], taken=taken)
    assert held not in {seat.stand for seat in found}
    assert all(seat.taken[held] == "Somebody" for seat in found)
    by_hand = party_seats(scene, three_days, NOV_10, "morning", [NELL, OWEN], taken={held: OWEN})
    assert by_hand[1].stand == held


def test_who_stays_is_told_why_where_a_stand_would_be_go(scene, three_days):
    best = answer_sit(prepare_sit(scene, three_days, NOV_10, "morning")).best
    assert best.group == GO
    seats = {sit: OwnSeat({}, stays="the way in is shared.") for sit in HALVES}
    sheet = day_sheet(scene, three_days, NOV_10, MIDNIGHT_S, seats=seats, hunter=NELL)
    assert sheet.stays[0] == "Nell stays: the way in is shared."
    assert best.stand.name not in sheet.sits[0]
    assert index_rows([sheet])[0]["stand"] == ""


def test_a_seat_found_for_a_hunter_comes_before_his_best(scene, three_days):
    answer = answer_sit(prepare_sit(scene, three_days, NOV_10, "morning"))
    second = answer.stands[1].stand
    seats = {sit: OwnSeat({}, second.id) for sit in HALVES}
    sheet = day_sheet(scene, three_days, NOV_10, MIDNIGHT_S, seats=seats, hunter=NELL)
    assert sheet.answers[0].best.stand.id == second.id
    assert TOGETHER in sheet.sits[0]
    assert "Above" not in sheet.sits[0]


def test_several_days_of_a_typed_wind_are_refused(scene):
    with pytest.raises(BadRequest, match="a wind that is no forecast"):
        pocket_days(scene, parse_wind("NW 8"), NOV_10, 2, MIDNIGHT_S)
    for days in (0, 8):
        with pytest.raises(BadRequest, match=f"{days} days"):
            pocket_days(scene, parse_wind("NW 8"), NOV_10, days, MIDNIGHT_S)


def test_no_page_without_any_wind(scene, three_days):
    with pytest.raises(NoForecast):
        pocket_days(scene, three_days, datetime.date(2026, 12, 24), 2, MIDNIGHT_S)


def test_the_command_takes_days_and_a_party(tmp_path, capsys):
    out = tmp_path / "days.html"
    words = [
        "pocket",
        "--property",
        str(few_stands_file()),
        "--date",
        "2026-11-10",
        "--out",
        str(out),
    ]
    assert main([*words, "--wind", "NW 8", "--days", "2"]) == 2
    assert "no forecast" in capsys.readouterr().err
    assert main([*words, "--wind", "NW 8", "--party"]) == 0
    assert len(rows(out.read_text(encoding="utf-8"))) == 4


def test_the_picture_for_the_home_screen_is_a_small_png():
    data = icon_png()
    assert Image.open(io.BytesIO(data)).size == (PHONE_PX, PHONE_PX)
    assert len(data) < 4000
