"""A sit by the clock: its stretches, its marks, until when; on a hill and on the demo."""

import datetime
import re

import numpy as np
import pytest

from core.angles import opposite_deg, point_name, separation_deg
from core.answer.one_sit import answer_sit
from core.answer.reached import worst_case
from core.ground.store import demo_path, open_property
from core.judge.causes import IS_TURNING, SURE
from core.judge.still import NOT_KNOWN
from core.say.answer_lines import air_line, sit_lines
from core.say.headline import head_of
from core.say.pieces.stretches import TURNS, Stretch, stretches
from core.say.pieces.told import clock_lines, clock_marks, leave_by_s, until_line, until_text
from core.say.reason_kinds import AirReaches
from core.say.reasons import reasons
from core.say.words import clock_digits, clock_text
from core.sit.minutes import TURNING
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.entry import parse_wind
from tests.hill_ground import hill_ground

OCT_6, NOV_8 = datetime.date(2026, 10, 6), datetime.date(2026, 11, 8)
SITS = (
    ("hill", "E 5", OCT_6, "evening"),
    ("hill", "SW 4", NOV_8, "evening"),
    ("hill", "calm", OCT_6, "morning"),
    ("hill", "NW 5", NOV_8, "morning"),
    ("demo", "NNW 4", OCT_6, "evening"),
    ("demo", "W 6", NOV_8, "all-day"),
    ("hill", "NNE 5", OCT_6, "evening"),
)


@pytest.fixture(scope="module")
def answers():
    scenes = {
        "hill": Scene(hill_ground()),
        "demo": Scene(open_property(demo_path()).property),
    }
    return {
        case: answer_sit(prepare_sit(scenes[case[0]], parse_wind(case[1], 0.0), case[2], case[3]))
        for case in SITS
    }


def seats(answers):
    return [(answer.sit, seat) for answer in answers.values() for seat in answer.stands]


def test_stretches_fill_the_window_end_to_end(answers):
    for sit, seat in seats(answers):
        told = stretches(sit, seat)
        edges = [sit.clock.start_s, *(one.end_s for one in told)]
        assert [one.start_s for one in told] == edges[:-1]
        assert edges[-1] == sit.clock.end_s


def test_no_stretch_is_cleaner_than_an_hour_in_it(answers):
    for sit, seat in seats(answers):
        told = stretches(sit, seat)
        for start_s, verdict in zip(seat.rows.start_s, seat.hours.verdict, strict=True):
            (one,) = [s for s in told if s.start_s <= start_s < s.end_s]
            assert one.verdict >= verdict


def test_a_turning_stretch_has_turning_rows_that_swing_and_no_others(answers):
    for sit, seat in seats(answers):
        for one in stretches(sit, seat):
            rows = (seat.rows.start_s >= one.start_s) & (seat.rows.end_s <= one.end_s)
            if one.turning:
                assert one.way == TURNS and one.lies.startswith("swings over ")
                long = rows & seat.rows.deciding
                assert (seat.hours.kind[long] == TURNING).all()
                unsure = seat.hours.verdict[long] == CANT_CALL
                assert ((seat.hours.swing_deg[long] >= 20.0) | unsure).all()


def test_all_of_it_is_in_the_words(answers):
    for sit, seat in seats(answers):
        said = " ".join(clock_lines(sit, seat)).casefold()
        for one in stretches(sit, seat):
            assert clock_digits(one.start_s, sit.timezone) in said
            assert one.lies.casefold() in said
        for mark in clock_marks(sit, seat):
            assert mark.words.casefold() in said


def test_marks_are_of_the_window_and_in_order(answers):
    for sit, seat in seats(answers):
        at = [mark.time_s for mark in clock_marks(sit, seat)]
        assert at == sorted(at)
        assert all(sit.clock.start_s <= time_s <= sit.clock.end_s for time_s in at)


def minutes_good(sit, seat):
    """Whether each minute of the window is clean or just-off, straight from the rows."""
    every = np.arange(sit.clock.start_s, sit.clock.end_s, 60)
    row = np.searchsorted(seat.rows.start_s, every, side="right") - 1
    return np.isin(seat.hours.verdict[row], (CLEAN, JUST_OFF))


def test_until_when_is_told_as_the_minutes_have_it(answers):
    told = 0
    for sit, seat in seats(answers):
        good, words = minutes_good(sit, seat), until_text(sit, seat)
        if words in ("all evening", "all morning", "all day"):
            assert good.mean() > 0.9
        elif found := re.fullmatch(r"until (\d+:\d\d)", words):
            ends = [one for one in stretches(sit, seat) if one.verdict in (CLEAN, JUST_OFF)][-1]
            assert clock_digits(ends.end_s, sit.timezone) == found[1]
            n = (ends.end_s - sit.clock.start_s) // 60
            assert good[:n].all() and good[n:].mean() < 0.15
            told += 1
        elif words in ("not at all", "can't call"):
            assert good.mean() < 0.1
            assert (words == "not at all") == (seat.group == STAY)
    assert told >= 4


def test_leave_by_is_told_where_good_air_ends_for_good(answers):
    told = 0
    for sit, seat in seats(answers):
        if sit.clock.sit != "evening" or (down_s := leave_by_s(sit, seat)) is None:
            continue
        good = minutes_good(sit, seat)
        n = int((down_s - sit.clock.start_s) // 60) + 15  # as many minutes before as by day
        assert seat.group != GO and good[: n - 15].all() and good[n + 15 :].mean() < 0.1
        told += 1
    assert told >= 4


def test_still_air_is_told_by_what_the_slope_would_make_of_it(answers):
    answer = answers[SITS[2]]
    likely = [until_text(answer.sit, seat) for seat in answer.stands]
    assert all(words.startswith("likely ") for words in likely)
    for seat in answer.stands:
        for one in stretches(answer.sit, seat):
            assert ("likely" in one.way) == (one.likely != NOT_KNOWN)


def test_a_stand_kept_out_by_another_cause_is_told_by_it(answers):
    words = {
        seat.stand.id: until_text(sit, seat) for sit, seat in seats({SITS[5]: answers[SITS[5]]})
    }
    assert words["saddle-stand"] == "not now"


def test_every_stand_is_in_the_line_and_in_the_answer_in_words(answers):
    for answer in answers.values():
        line = until_line(answer)
        assert all(seat.stand.name in line for seat in answer.stands)
        assert line in sit_lines(answer, None, None)


def test_short_stretches_are_joined_to_a_neighbour_that_is_no_cleaner():
    from core.say.pieces.stretches import _joined, _without_short

    def some(*minutes_and_verdicts):
        found, at = [], 0
        for minutes, verdict in minutes_and_verdicts:
            found.append(Stretch(at, at + 60 * minutes, verdict, False, "to the N", f"{verdict}"))
            at += 60 * minutes
        return [(s.start_s // 60, s.end_s // 60, s.verdict) for s in _without_short(found)]

    assert some((60, WRONG), (10, CLEAN), (60, JUST_OFF)) == [(0, 70, WRONG), (70, 130, JUST_OFF)]
    assert some((5, CLEAN), (60, WRONG)) == [(0, 65, WRONG)]
    assert some((60, CLEAN), (10, CANT_CALL), (60, CLEAN)) == [
        (0, 60, CLEAN),
        (60, 70, CANT_CALL),
        (70, 130, CLEAN),
    ]
    heads = (("up to", "NE"), ("up to", "E"), ("down to", "SE"), ("down to", "SE"))
    alike = [
        Stretch(i, i + 1, CLEAN, False, "", "cane", heads=(head,)) for i, head in enumerate(heads)
    ]
    assert [one.way for one in _joined(alike[:2])] == ["up to the NE, then E"]
    assert [one.way for one in _joined(alike)] == ["up to the NE, then down to the SE"]


def test_a_line_of_the_answer_says_cant_call_once(answers):
    told = [line for a in answers.values() for line in sit_lines(a, None, None)]
    asked = [line for line in told if line.startswith(("can't call: ", "CAN'T CALL."))]
    assert any(" swings over " in line for line in asked)
    assert any(": no wind, and" in line for line in asked)
    assert all(len(re.findall("can't call", line, re.IGNORECASE)) <= 1 for line in told)


def test_a_place_is_told_at_its_worst_by_a_piece_that_decides(answers):
    """The verdict of the pieces of 15 minutes and more, not that of a few minutes between."""
    milder = 0
    for _, seat in seats(answers):
        hours, long = seat.hours, seat.rows.minutes >= 15
        for place in range(hours.counts.shape[1]):
            case, counts = worst_case(seat, place), hours.counts[:, place]
            if not (counts & long).any():
                assert (case is None) == (not counts.any())
                continue
            assert long[case]
            worst = hours.place_verdict[counts & long, place].max()
            assert hours.place_verdict[case, place] == worst
            milder += bool(worst < hours.place_verdict[counts, place].max())
    assert milder  # a few minutes were worse somewhere, else nothing was tried


def test_the_air_line_goes_where_the_stands_own_air_goes(answers):
    """Not where the wind goes, and nowhere at all where the air may go any way."""
    followed, no_way = 0, 0
    for sit, seat in seats(answers):
        rows = seat.rows.minutes >= 15
        any_way = ~np.isin(seat.hours.cause, (SURE, IS_TURNING))
        told = air_line(sit, seat)
        if seat.rows.minutes[any_way].sum() > seat.rows.minutes.sum() / 2:
            no_way += 1
            assert " air goes " not in told.replace("slope's own air goes", "")
            continue
        to_deg = seat.hours.air.air_to_deg[rows & ~any_way]
        first, last = (point_name(float(x)) for x in to_deg[[0, -1]])
        assert f"air goes {first}" in told and (first == last or f", then {last}:" in told)
        followed += separation_deg(to_deg[0], opposite_deg(sit.mean_wind_deg)) > 45
    assert followed and no_way


def test_a_sit_that_ends_early_is_called_no_longer_than_it_is():
    """On the hill in a light south wind: clean, then beside the trail, swinging over it, on it."""
    sit = prepare_sit(Scene(hill_ground()), parse_wind("S 4", 0.0), OCT_6, "morning")
    seat = answer_sit(sit).best
    assert (seat.group, seat.verdict) == (GO, CLEAN) and seat.leave_by_s is not None
    course = [one.verdict for one in stretches(sit, seat)]
    assert course == [CLEAN, JUST_OFF, CANT_CALL, WRONG]
    clean, _, _, wrong = stretches(sit, seat)
    until, since = (clock_text(t, sit.timezone) for t in (clean.end_s, wrong.start_s))
    told = head_of(sit, seat).summary
    assert told.startswith(f"Clean until {until}, wrong wind from {since}. Be down by ")
    assert sit_lines(answer_sit(sit), None, None)[0] == f"GO: Ridge end (clean). {told}"


def test_why_an_evening_is_just_off_is_told_of_the_hours_that_are_sat():
    """Just-off before the wrong hour too: nobody sits then."""
    scene = Scene(open_property(demo_path()).property)
    sit = prepare_sit(scene, parse_wind("N 4", 0.0), OCT_6, "evening")
    seat = answer_sit(sit).best
    assert (seat.group, seat.verdict) == (GO, JUST_OFF) and seat.not_before_s is not None
    off = seat.hours.verdict == JUST_OFF
    assert (seat.rows.start_s[off] < seat.not_before_s).any()
    (first,) = (
        one for one in reasons(sit, seat) if isinstance(one, AirReaches) and one.verdict == JUST_OFF
    )
    assert first.first.start_s >= seat.not_before_s
