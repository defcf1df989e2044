"""Lines of notes: understood piece by piece, asked where they are not clear."""

import datetime

import pytest

from core.ground.store import demo_path, open_property
from core.keep.entries import (
    AIR,
    HARVEST,
    NOTE,
    ROUND,
    SEEN,
    SIGN,
    SIT,
    VISIT,
    WORK,
    entry_of,
)
from core.keep.half_written import half_written, keep_half_written
from core.keep.names import find_names, names_of
from core.keep.sentence import understand, understand_more

TODAY = datetime.date(2026, 11, 27)  # a Friday, standard time in the East


@pytest.fixture(scope="module")
def ground():
    return open_property(demo_path()).property


def read(text, ground):
    return understand(text, ground, TODAY, now="2026-11-27T12:00:00-05:00")


def only(entries, kind):
    return [e for e in entries if e.kind == kind]


def test_the_line_of_a_morning(ground):
    said = read(
        "plum edge am. felt W 4. 7:40 2 does east trail. 8:15 buck 60 yd winded. left 9:30", ground
    )
    assert said.asked == ()
    (sit,) = only(said.entries, SIT)
    assert dict(sit.values) == {
        "stand": "plum-edge",
        "sit": "morning",
        "to": "2026-11-27T09:30:00-05:00",
    }
    (air,) = only(said.entries, AIR)
    assert (air.get("from_deg"), air.get("beaufort"), air.of) == (270.0, 2, sit.id)
    does, buck = only(said.entries, SEEN)
    assert (does.get("count"), does.get("deer"), does.get("trail")) == (2, "doe", "east-trail")
    assert does.get("at") == "2026-11-27T07:40:00-05:00"
    assert (buck.get("count"), buck.get("yards"), buck.get("winded")) == (1, 60.0, True)
    assert len(said.pieces) == 5


def test_an_evening_s_times_are_after_noon(ground):
    said = read("split oak pm. 4:50 doe. 12:10 fawn. out 6:05", ground)
    (sit,) = only(said.entries, SIT)
    assert sit.get("to") == "2026-11-27T18:05:00-05:00"
    assert [e.get("at")[11:16] for e in only(said.entries, SEEN)] == ["16:50", "12:10"]


def test_a_morning_s_times_may_run_past_noon(ground):
    said = read("split oak am. 7:10 doe. 1:15 pm buck. 2:30 doe", ground)
    assert [e.get("at")[11:16] for e in only(said.entries, SEEN)] == ["07:10", "13:15", "14:30"]


@pytest.mark.parametrize(
    ("piece", "expected"),
    [
        ("2 does 1 fawn", [(2, "doe"), (1, "fawn")]),
        ("three bucks", [(3, "buck")]),
        ("a big buck", [(1, "buck")]),
        ("5 deer", [(5, "unknown")]),
        ("spike", [(1, "buck")]),
    ],
)
def test_counts_and_kinds(ground, piece, expected):
    said = read(f"split oak am. 7:10 {piece}", ground)
    assert [(e.get("count"), e.get("deer")) for e in only(said.entries, SEEN)] == expected


def test_a_shot_and_how_far_it_went(ground):
    said = read("split oak pm. 5:20 buck 25 yd shot, recovered 80 yards", ground)
    (buck,) = only(said.entries, SEEN)
    told = {name: buck.get(name) for name in ("yards", "shot", "recovered", "recovered_yards")}
    assert told == {"yards": 25.0, "shot": True, "recovered": True, "recovered_yards": 80.0}


def test_air_as_told_and_round_and_round(ground):
    told, swirled = (
        only(read(f"split oak am. {piece}", ground).entries, AIR)[0].get("felt")
        for piece in ("air as told", "wind swirling")
    )
    assert (told, swirled) == ("as-told", ROUND)


def test_who_sat_and_for_how_long(ground):
    said = read("nell dry fork morning 6:10-9:30. no deer", ground)
    (sit,) = only(said.entries, SIT)
    assert (sit.get("who"), sit.get("stand"), sit.get("nothing_seen")) == ("Nell", "dry-fork", True)
    assert (sit.get("from")[11:16], sit.get("to")[11:16]) == ("06:10", "09:30")


def test_work_sign_and_notes(ground):
    said = read("yesterday sprayed backbone 40 min. fresh scrape at cane. note buy straps", ground)
    (work,), (sign,), (note,) = (only(said.entries, kind) for kind in (WORK, SIGN, NOTE))
    assert work.date == "2026-11-26"
    assert (work.get("what"), work.get("feature"), work.get("minutes")) == ("spray", "backbone", 40)
    assert (sign.get("what"), sign.get("feature"), sign.get("fresh")) == ("scrape", "cane", True)
    assert note.get("text") == "buy straps"


@pytest.mark.parametrize(
    ("piece", "where", "fresh"),
    [
        ("old scrape orchard clover", "orchard", False),  # not Old ridge road
        ("fresh rub at dry fork", "dry-fork", True),
        ("rub at dry fork", "dry-fork", None),  # the fork is dry, not the rub
        ("old rub", None, False),
    ],
)
def test_a_word_of_how_old_a_sign_is_names_no_place(ground, piece, where, fresh):
    said = read(f"plum edge am. {piece}. left 9:30", ground)
    (sign,) = only(said.entries, SIGN)
    assert said.asked == () and (sign.get("feature"), sign.get("fresh")) == (where, fresh)


def test_a_young_buck_walks_in_no_young_pines_and_a_sign_at_two_places_is_asked(ground):
    said = read("plum edge am. 8:15 young buck 60 yd. rub east trail orchard clover", ground)
    (buck,) = only(said.entries, SEEN)
    assert buck.get("plot") is None and buck.get("trail") is None
    assert [q.asks for q in said.asked] == ["Where?"] and not only(said.entries, SIGN)


def test_a_week_of_lines(ground):
    said = read(
        "Mon: split oak am. no deer\n\nTue: plum edge pm. 5:01 doe\n10 Nov: note rain", ground
    )
    assert [e.date for e in said.entries] == [
        "2026-11-23",
        "2026-11-24",
        "2026-11-24",
        "2026-11-10",
    ]
    assert said.asked == ()


@pytest.mark.parametrize("written", ["dry frok", "Dry Fork", "drye fork", "dry fork"])
def test_the_nearest_spelling(ground, written):
    (sit,) = only(read(f"{written} am", ground).entries, SIT)
    assert sit.get("stand") == "dry-fork"


def test_when_two_fit_it_is_asked(ground):
    said = read("hay am. 7:10 doe", ground)  # Hay edge and Hay tripod
    assert said.entries == () or only(said.entries, SIT) == []
    (asked,) = (q for q in said.asked if q.asks == "Which stand?")
    assert set(asked.choices) == {"Hay edge", "Hay tripod"}


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("orchard corner", "Morning, evening or all day?"),
        ("split oak am. felt sideways 8", "Which wind?"),
        ("split oak am. dunno what", "What is this?"),
        ("9/10 split oak am", "Which day is it?"),
        ("split oak am. 25:10 doe", "Which time is it?"),
    ],
)
def test_what_is_not_clear_is_asked(ground, line, asks):
    said = read(line, ground)
    assert [q.asks[: len(asks)] for q in said.asked] == [asks]


def test_nothing_of_a_line_whose_day_is_open_is_an_entry(ground):
    assert read("9/10 split oak am. 7:10 doe", ground).entries == ()
    assert read("9/13 split oak am. 7:10 doe", ground).entries[0].date == "2026-09-13"


def test_a_time_that_is_none_is_left_out(ground):
    (doe,) = only(read("split oak am. 25:10 doe", ground).entries, SEEN)
    assert doe.get("at") is None


def test_a_clock_in_the_zone_of_the_ground_on_both_sides_of_the_change(ground):
    before, after = (
        only(read(f"{day} split oak am. left 9:00", ground).entries, SIT)[0].get("to")
        for day in ("31 Oct 2026", "1 Nov 2026")
    )
    assert (before[-6:], after[-6:]) == ("-04:00", "-05:00")


def test_hostile_lines_are_only_text(ground):
    said = read("note <script>alert(1)</script> \x1b[2J; DROP TABLE entries", ground)
    (note,) = only(said.entries, NOTE)
    assert "<script>" in note.get("text")
    assert [q.asks for q in said.asked] == ["What is this?"]


def test_a_name_within_a_longer_one_is_not_taken(ground):
    (match,) = find_names("east trail", names_of(ground))
    assert [n.id for n in match.fits] == ["east-trail"]


def test_the_words_of_the_taps_stand_for_themselves_in_a_line(ground):
    said = read(
        "plum edge am. round and round. winded me\nline oak pm. as told. felt round. swirling",
        ground,
    )
    assert said.asked == ()
    felt = [e.get("felt") for e in said.entries if e.kind == AIR]
    assert felt == [ROUND, "as-told", ROUND, ROUND]
    (seen,) = (e for e in said.entries if e.kind == SEEN)
    assert (seen.get("deer"), seen.get("winded")) == ("unknown", True)


def test_a_bed_with_a_half_of_the_day_asks_for_the_stand(ground):
    said = read("cane am", ground)
    assert [(a.asks, a.choices) for a in said.asked] == [("Which stand?", ("Cane blind",))]
    assert said.entries == ()


def test_a_visit_says_from_when_to_when_by_which_way_and_where(ground):
    said = read("visit camera cane 1:10 to 1:30 by west road\nchecked camera at oats box", ground)
    first, second = (dict(e.values) for e in said.entries)
    assert {e.kind for e in said.entries} == {VISIT} and said.asked == ()
    assert first == {
        "what": "camera",
        "from": "2026-11-27T13:10:00-05:00",
        "to": "2026-11-27T13:30:00-05:00",
        "lane": "west-road",
        "feature": "cane",
    }
    assert second["what"] == "camera" and second["feature"] == "oats-box"
    assert [q.asks for q in read("visited cane by the moon", ground).asked] == ["By which way?"]


def test_a_deer_that_was_tagged_with_the_owner_s_own_deadline(ground):
    said = read(
        "10 Nov: plum edge am. harvest buck 140 lb age 3.5 tag A-17 report by 3 Jan", ground
    )
    (deer,) = only(said.entries, HARVEST)
    assert said.asked == () and deer.date == "2026-11-10"  # not the day of the deadline
    assert dict(deer.values) == {
        "sex": "buck",
        "pounds": 140.0,
        "age_years": 3.5,
        "tag": "A-17",
        "report_by": "2027-01-03",  # the next one: a deadline lies ahead
        "stand": "plum-edge",
    }
    (told,) = only(read("tagged doe, not reported", ground).entries, HARVEST)
    assert dict(told.values) == {"sex": "doe", "reported": False}
    assert "Report by which day" in read("harvest doe report by 9/10", ground).asked[0].asks


def test_more_about_a_sit_that_is_in_the_log(ground):
    sit = entry_of(SIT, "2026-11-10", {"stand": "plum-edge", "sit": "evening", "who": "Nell"})
    changed, said = understand_more("4:50 2 does east trail. huh. left 6:05", sit, ground, "now")
    assert (changed.id, changed.get("who"), changed.get("to")) == (
        sit.id,
        "Nell",
        "2026-11-10T18:05:00-05:00",
    )
    (does,) = said.entries
    assert (does.of, does.get("stand"), does.get("at")[11:16]) == (sit.id, "plum-edge", "16:50")
    assert [q.text for q in said.asked] == ["huh"]
    none = entry_of(SIT, sit.date, {**sit.values, "nothing_seen": True})
    assert understand_more("4:50 doe", none, ground, "now")[0].get("nothing_seen") is None
    assert understand_more("left 6:05", none, ground, "now")[0].get("nothing_seen") is True


def test_half_written_notes_are_kept_apart_and_go_once_they_are_empty(tmp_path):
    for key, text in (("a", "plum edge <script>"), ("b", "x" * 30_000)):
        keep_half_written("u", key, text, tmp_path)
    assert half_written("u", "a", tmp_path) == "plum edge <script>"
    assert len(half_written("u", "b", tmp_path)) == 20_000
    keep_half_written("u", "a", " ", tmp_path)
    assert half_written("u", "a", tmp_path) == "" == half_written("other", "b", tmp_path)
    (file,) = (tmp_path / "journal").iterdir()
    file.write_text("[1", encoding="utf-8")
    assert half_written("u", "b", tmp_path) == ""
