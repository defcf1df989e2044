"""The Log screen and the plan on the home screen, without a browser."""

import io

import pytest

from core.ground.looking import LOOK_VARIABLE
from core.ground.store import demo_path, open_property
from core.keep.entries import AIR, NOTE, SEEN, SIGN, SIT, entry_of
from core.keep.log import kept_entries, open_journal
from core.log.whole import everything_to
from core.weather.plain import hours_from_plain
from tests.pages.conftest import opened, sheet_words, words

UID = open_property(demo_path()).property.uid
DAWN, NOON = "2026-11-10T04:30:00-05:00", "2026-11-10T12:30:00-05:00"


@pytest.fixture
def app(monkeypatch):
    """app(now) opens the home page; app(now, "log") the log."""

    def screen(now, page=""):
        monkeypatch.setenv("STAND_WIND_NOW", now)
        test = opened(page)
        assert not test.exception
        return test

    return screen


def planned(app):
    home = app(DAWN)
    home.button(key="sit_here").click().run()
    assert not home.exception
    (sit,) = kept_entries(UID)
    return home, sit


def texts(app) -> str:
    return words(app, "markdown", "caption", "success", "warning", "subheader")


def test_the_plan_keeps_what_was_told_and_on_which_wind(app):
    home, sit = planned(app)
    assert (sit.kind, sit.get("planned"), sit.get("sit")) == (SIT, True, "morning")
    told = sit.get("told")
    assert (told["id"], told["group"]) == (sit.get("stand"), "go")
    assert sit.get("wind") == "an example"
    with open_journal(UID) as journal:
        kept = hours_from_plain(journal.weather(sit.get("weather")))
    assert kept.held and kept.wind_from_deg[0] == 315.0
    assert "in the log" in texts(home)
    assert "leave-planned" in str([b.key for b in home.get("download_button")])
    assert "sit_here" not in [button.key for button in home.button]


def test_who_sits_here_is_asked_by_name_and_is_taken_for_the_others(app):
    """Nell's plan is hers: the page goes on as hers, and for Owen the stand is taken."""
    home = app(DAWN)
    home.button(key="sits_here_0").click().run()
    assert not home.exception
    (sit,) = kept_entries(UID)
    assert sit.get("who") == "Nell" and home.selectbox(key="hunter").value == "Nell"
    assert "In the log: Nell sits here." in texts(home)
    home.selectbox(key="hunter").set_value("Owen").run()
    assert not home.exception and "In the log: Nell sits here." in texts(home)
    assert "Nell sits here." in sheet_words(home)
    assert not {b.key for b in home.button} & {"sit_here", "sits_here_0", "sits_here_1"}


def test_three_taps_after_the_sit(app):
    _, sit = planned(app)
    log = app(NOON, "log")
    assert "How was Dry fork this morning?" in texts(log)
    log.segmented_control(key=f"air_{sit.id}").set_value("as told").run()
    log.segmented_control(key=f"deer_{sit.id}").set_value("winded me").run()
    log.button(key=f"done_{sit.id}").click().run()
    assert not log.exception
    assert "How was" not in texts(log)
    kept = {entry.kind: entry for entry in kept_entries(UID)}
    assert not kept[SIT].get("planned")
    assert (kept[AIR].get("felt"), kept[AIR].get("from_deg"), kept[AIR].of) == (
        "as-told",
        315.0,
        sit.id,
    )
    assert (kept[SEEN].get("winded"), kept[SEEN].of) == (True, sit.id)


def test_it_is_not_asked_before_the_sit_is_over(app):
    planned(app)
    assert "How was" not in texts(app("2026-11-10T09:00:00-05:00", "log"))


def test_a_plan_that_came_to_nothing_goes(app):
    _, sit = planned(app)
    app(NOON, "log").button(key=f"not_{sit.id}").click().run()
    assert kept_entries(UID) == []


def test_a_line_is_understood_beside_it_and_kept(app):
    log = app(NOON, "log")
    log.text_area(key="log_line").set_value("plum edge am. 7:40 2 does east trial. huh").run()
    said = texts(log)
    assert "2 does on East trail" in said
    assert "Not clear" in said and "huh" in said
    (keep,) = [b for b in log.button if b.label == "Keep what is clear"]
    keep.click().run()
    assert not log.exception
    assert [e.kind for e in kept_entries(UID)] == [SIT, SEEN]
    assert log.text_area(key="log_line").value == ""


def test_a_line_half_written_comes_back_after_a_reload(app):
    app(NOON, "log").text_area(key="log_line").set_value("plum edge am. 7:40").run()
    assert app(NOON, "log").text_area(key="log_line").value == "plum edge am. 7:40"


def test_what_is_taken_out_comes_back(app):
    _, sit = planned(app)
    log = app(NOON, "log")
    log.button(key=f"out_{sit.id}").click().run()
    assert kept_entries(UID) == []
    (back,) = [b for b in log.button if b.label.startswith("Bring back")]
    back.click().run()
    assert [e.id for e in kept_entries(UID)] == [sit.id]


def test_more_of_a_sit_that_was_told_is_added_where_it_was_asked(app):
    _, sit = planned(app)
    log = app(NOON, "log")
    log.button(key=f"done_{sit.id}").click().run()
    box = f"more_{sit.id}"
    log.text_area(key=box).set_value("7:40 2 does east trail. left 9:15. huh").run()
    again = app(NOON)  # a reload, on the home screen: half a note comes back
    assert again.text_area(key=box).value == "7:40 2 does east trail. left 9:15. huh"
    again.button(key=f"keep_{box}").click().run()
    assert not again.exception and again.text_area(key=box).value == ""
    kept = kept_entries(UID)
    (seen,), (sat,) = ([e for e in kept if e.kind == kind] for kind in (SEEN, SIT))
    assert (seen.of, seen.get("trail"), seen.get("stand")) == (sit.id, "east-trail", "dry-fork")
    assert sat.get("to")[11:16] == "09:15" and sat.get("told") == sit.get("told")
    assert app(NOON).text_area(key=box).value == ""


def test_an_entry_is_filled_in_by_hand_and_changed(app):
    log = app(NOON, "log")
    log.segmented_control(key="new_kind").set_value("harvest").run()
    log.text_input(key="new_harvest_tag").set_value("<b>7")
    log.number_input(key="new_harvest_age_years").set_value(30.0)
    (keep,) = [b for b in log.button if b.label == "Keep it"]
    keep.click().run()
    assert "30" in log.error[0].value and not kept_entries(UID)  # and what was typed is there still
    log.number_input(key="new_harvest_age_years").set_value(3.5)
    next(b for b in log.button if b.label == "Keep it").click().run()
    assert not log.exception
    (deer,) = kept_entries(UID)
    assert (deer.date, deer.get("tag"), deer.get("age_years")) == ("2026-11-10", "<b>7", 3.5)
    log.button(key=f"in_{deer.id}").click().run()
    log.segmented_control(key=f"change_{deer.id}_sex").set_value("doe")
    next(b for b in log.button if b.label == "Keep it" and deer.id in b.form_id).click().run()
    assert not log.exception and "Changed" in texts(log)
    (changed,) = kept_entries(UID)
    assert (changed.id, changed.get("sex"), changed.get("tag")) == (deer.id, "doe", "<b>7")
    with open_journal(UID) as journal:
        assert [old.get("sex") for old in journal.former(deer.id)] == [None]


def test_an_empty_log_says_so(app):
    assert "The log is empty" in texts(app(NOON, "log"))


def test_hostile_words_stay_words(app):
    evil = "<script>alert(1)</script> [x](http://evil.example) **b**"
    log = app(NOON, "log")
    log.text_area(key="log_line").set_value(f"note {evil}").run()
    (keep,) = [b for b in log.button if b.label == "Keep it"]
    keep.click().run()
    (entry,) = kept_entries(UID)
    assert entry.get("text") == evil
    raw = " ".join(part.value for part in log.markdown)  # as Markdown gets it
    assert "\\<script" in raw and "\\*\\*b" in raw and "](http" not in raw


def test_who_only_looks_can_plan_nothing(app, monkeypatch):
    monkeypatch.setenv(LOOK_VARIABLE, "1")
    assert "sit_here" not in [button.key for button in app(DAWN).button]
    log = app(NOON, "log")
    assert not log.exception
    assert not log.text_area and not log.button
    assert kept_entries(UID) == []


def test_the_home_screen_says_how_rested_stands_are(app):
    before = texts(app(DAWN))
    assert "Sat 2" not in before and "Not sat in the log" not in before
    with open_journal(UID) as journal:
        journal.add([entry_of(SIT, "2026-11-08", {"stand": "dry-fork", "sit": "morning"})])
        journal.add([entry_of(SIT, "2026-07-08", {"stand": "oats-box", "sit": "morning"})])
    said = sheet_words(app(DAWN))
    assert "Sat 2 days ago." in said
    assert "Rested 125 days." in said  # however long ago: 31 - 8 + 31 + 30 + 31 + 10


def test_the_home_screen_asks_after_a_sit(app):
    planned(app)
    assert "How was Dry fork this morning?" in texts(app(NOON))


def test_the_air_ledger_of_a_sit_that_was_sat(app):
    _, sit = planned(app)
    log = app(NOON, "log")
    log.button(key=f"done_{sit.id}").click().run()
    assert not log.exception
    assert "Where your air lay" in words(log, "header")
    log.segmented_control(key="ledger_span").set_value("the season").run()
    assert not log.exception
    assert "Counted while deer hold a place" in texts(log)


def felt_notes(stand, n=7):
    return [
        entry_of(
            AIR,
            f"2026-11-0{day}",
            {"stand": stand, "felt": "otherwise", "told_from_deg": 315.0, "from_deg": 262.0 + day},
        )
        for day in range(1, n + 1)
    ]


def test_an_offer_is_taken_up_and_back(farm):
    uid = open_property(farm).property.uid
    with open_journal(uid) as journal:
        journal.add(felt_notes("dry-fork"))
    log = opened("log", ground="farm")
    assert "NW comes from W here, 7 of 7 times. Use it?" in texts(log)
    (use,) = [b for b in log.button if b.label == "Use it"]
    use.click().run()
    assert not log.exception
    (turn,) = open_property(farm).property.stand("dry-fork").turns
    assert -50 < turn.turn_deg < -40
    assert "Use it?" not in texts(log)
    (back,) = [b for b in log.button if b.label == "Take it back"]
    back.click().run()
    assert open_property(farm).property.stand("dry-fork").turns == ()


def test_the_program_s_own_score_stands_under_the_pick(app):
    told = {"told": {"verdict": "just-off"}, "nothing_seen": True}
    sits = [
        entry_of(SIT, f"2026-0{m}-1{d}", {"stand": "dry-fork", "sit": "morning", **told})
        for m, d in ((1, 1), (1, 2), (1, 3), (2, 1), (2, 2))
    ]
    with open_journal(UID) as journal:
        journal.add(sits)
    said = texts(app(DAWN))
    assert "Called just-off 5 times at Dry fork: winded 0." in said


def test_a_former_table_is_asked_about_and_kept(app):
    log = app(NOON, "log")
    table = b"Wann,stand,half,deer\n13/04/2024,Dry fork,am,2\n"
    log.file_uploader(key="log_in").set_value(("old.csv", table, "text/csv")).run()
    (column,) = [s for s in log.selectbox if s.key.startswith("column_date")]
    column.set_value("Wann").run()
    assert not log.exception
    log.button(key="log_in_keep").click().run()
    assert [e.kind for e in kept_entries(UID)] == [SIT, SEEN]


def test_everything_is_brought_in_after_a_look(app, farm):
    assert farm.is_file()
    out = io.BytesIO()
    everything_to(out)
    log = app(NOON, "log")
    log.file_uploader(key="log_in").set_value(("all.zip", out.getvalue(), "application/zip")).run()
    assert "here already, the same" in texts(log)
    log.button(key="log_in_all").click().run()
    assert not log.exception
    assert "was here already" in texts(log)


def test_the_season_told_opens(app):
    _, sit = planned(app)
    log = app(NOON, "log")
    log.button(key=f"done_{sit.id}").click().run()
    with open_journal(UID) as journal:
        journal.add([entry_of(SIGN, sit.date, {"what": "rub", "feature": "dry-fork"})])
    told = app(NOON, "log")
    told.toggle(key="season_told").set_value(True).run()
    assert not told.exception
    assert "In all: 1 sit" in texts(told)
    assert told.selectbox(key="season_year").value == "2026"


def test_a_seat_that_is_planned_is_taken_for_the_others(app):
    values = {"stand": "dry-fork", "sit": "morning", "planned": True, "who": "Nobody here"}
    with open_journal(UID) as journal:
        journal.add([entry_of(SIT, "2026-11-10", values)])
    assert "Nobody here sits here." in sheet_words(app(DAWN))


def test_of_a_long_log_the_latest_are_shown_and_more_when_asked(app):
    days = [f"2026-10-{day:02d}" for day in range(1, 31)]
    with open_journal(UID) as journal:
        journal.add([entry_of(NOTE, day, {"text": f"note of {day}"}) for day in days])
    log = app(NOON, "log")
    assert "note of 2026-10-19" in words(log) and "note of 2026-10-18" not in words(log)
    log.button(key="log_more").click().run()
    assert "note of 2026-10-01" in words(log)
