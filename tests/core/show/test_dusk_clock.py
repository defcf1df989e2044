"""The clock of a sit as it is drawn: true to scale, each verdict its own bar."""

import datetime
import itertools
import re

import pytest

from core.answer.one_sit import answer_sit
from core.say.pieces.stretches import stretches
from core.say.words import VERDICTS_SAID, clock_digits
from core.show.card import hours_html
from core.show.fitting import width_of
from core.show.hours.dusk_clock import SCREEN, bar, dusk_clock, strip, wrapped
from core.show.palette import DARK
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from core.weather.entry import parse_wind
from tests.hill_ground import hill_ground

OCT_6 = datetime.date(2026, 10, 6)
SIZES = " ".join(f'{name}="([\\d.]+)"' for name in ("x", "y", "width", "height"))
RECT = re.compile(f'<rect {SIZES} fill="([^"]+)" stroke')
TEXT = re.compile(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]*)</text>')


@pytest.fixture(scope="module")
def answer():
    scene = Scene(hill_ground())
    return answer_sit(prepare_sit(scene, parse_wind("E 5", 0.0), OCT_6, "evening"))


def test_bars_are_as_long_as_their_times(answer):
    for seat in answer.stands:
        told, drawn = stretches(answer.sit, seat), dusk_clock(answer.sit, seat, DARK)
        bars = [[float(v) for v in found[:4]] for found in RECT.findall(drawn)]
        assert len(bars) == len(told)
        scale = bars[0][3] / (told[0].end_s - told[0].start_s)
        for (_, top, _, high), one in zip(bars, told, strict=True):
            assert high == pytest.approx(scale * (one.end_s - one.start_s), abs=0.2)
            assert top == pytest.approx(
                bars[0][1] + scale * (one.start_s - told[0].start_s), abs=0.2
            )


def test_when_each_stretch_begins_and_what_it_is_stands_beside_it(answer):
    for seat in answer.stands:
        words = " ".join(text for *_, text in TEXT.findall(dusk_clock(answer.sit, seat, DARK)))
        for one in stretches(answer.sit, seat):
            assert clock_digits(one.start_s, answer.sit.timezone) in words
            if not one.is_short:
                assert VERDICTS_SAID[one.verdict].split()[0] in words.replace("&#x27;", "'")
        assert "sunset" in words and "light ends" in words


def test_no_words_lie_over_others_or_beyond_the_sheet(answer):
    for seat in answer.stands:
        drawn = dusk_clock(answer.sit, seat, DARK)
        high = float(re.search(r'height="([\d.]+)"', drawn)[1])
        for side in (True, False):
            rows = [float(y) for x, y, _ in TEXT.findall(drawn) if (float(x) < SCREEN.left) == side]
            assert all(b - a >= 14.9 for a, b in itertools.pairwise(rows))
            assert max(rows) < high
        for x, _, text in TEXT.findall(drawn):
            if float(x) > SCREEN.left:
                assert float(x) + width_of(text, 12.5) <= SCREEN.width


def test_full_half_hatched_and_open():
    looks = {
        v: bar((0.0, 0.0, 12.0, 80.0), v, DARK, "m") for v in (CLEAN, JUST_OFF, CANT_CALL, WRONG)
    }
    assert f'fill="{DARK.blue}"' in looks[CLEAN][0]
    assert 'fill="url(#m-unsure)"' in looks[CANT_CALL][0]
    assert 'fill="none"' in looks[WRONG][0] and len(looks[WRONG]) == 1
    assert 'width="6"' in looks[JUST_OFF][1] and 'height="80"' in looks[JUST_OFF][1]
    lying = bar((0.0, 0.0, 80.0, 12.0), JUST_OFF, DARK, "m")
    assert 'width="80"' in lying[1] and 'height="6"' in lying[1]


def test_the_strip_of_a_table_says_what_it_shows(answer):
    seat = answer.stands[0]
    told = stretches(answer.sit, seat)
    drawn = strip(answer.sit, told, DARK)
    assert len(RECT.findall(drawn)) == len(told)
    label = re.search(r'aria-label="([^"]*)"', drawn)[1]
    assert label.count("until") == len(told)


def test_words_are_broken_where_they_fit():
    assert wrapped("", 100.0) == []
    assert wrapped("just past Saddle, by noon", 130.0) == ["just past Saddle,", "by noon"]
    assert wrapped("Saddle, like 75 yd; on", 80.0) == ["Saddle,", "like 75 yd;", "on"]
    assert wrapped("Averyverylongname", 10.0) == ["Averyverylongname"]


def test_turning_pieces_are_marked_in_the_row_of_hours(answer):
    turning = [s for s in answer.stands if any(one.turning for one in stretches(answer.sit, s))]
    assert turning
    for seat in turning:
        assert "<span>turning</span>" in hours_html(answer.sit, seat)
