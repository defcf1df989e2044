"""The Work screen without a browser: the list, the tap and the way back, rules, the year."""

import datetime

import pytest

from core.ground.store import demo_path, open_property
from core.keep.entries import VISIT, WORK
from core.keep.log import kept_entries
from pages.ui import own_files
from pages.ui.home import forecast
from tests import grounds
from tests.core.weather.services.test_history_press import ARCHIVE
from tests.core.weather.services.test_whole_years import warm
from tests.pages.conftest import opened, sheet_words, words
from tests.weather_server import WeatherServer

FEBRUARY = "2027-02-10T09:00:00-05:00"
TODAY = "2027-02-10"


@pytest.fixture
def work(monkeypatch, farm):  # noqa: ARG001 (the ground must be there)
    """work(view) opens the screen on a ground of the user's own."""
    monkeypatch.setenv("STAND_WIND_NOW", FEBRUARY)

    def screen(view="By time", ground="farm"):
        test = opened("work", ground=ground, work_view=view)
        assert not test.exception, test.exception
        return test

    return screen


def ground(farm):
    return open_property(farm).property


def pressed(app, key):
    app.button(key=key).click().run()
    assert not app.exception, app.exception
    return app


def test_what_is_due_with_its_cautions(work):
    said = words(work())
    assert "0 overdue, 10 due now" in said
    assert "Cut trails (7)" in said and "Cut Branch trail" in said
    assert "Take care." in said and "never alone" in said and "can split upward" in said
    assert "common practice, no source" in said


def test_one_tap_writes_the_log_and_the_trails_own_date_and_can_be_taken_back(work, farm):
    app = pressed(work(), "done_cut:east-trail")
    (entry,) = kept_entries(ground(farm).uid)
    assert (entry.kind, entry.date, dict(entry.values)) == (
        WORK,
        TODAY,
        {"what": "cut", "feature": "east-trail"},
    )
    trails = {c.id: c for c in ground(farm).corridors}
    assert trails["east-trail"].cut_on == TODAY
    assert trails["backbone"].cut_on == "2026-02-14"
    assert "Kept: Cut East trail, 10 Feb 2027." in words(app)
    assert "done_cut:east-trail" not in [b.key for b in app.button]  # it waits for next winter
    pressed(app, "work_take_back")
    assert kept_entries(ground(farm).uid) == []
    assert {c.id: c for c in ground(farm).corridors}["east-trail"].cut_on == "2026-02-21"
    assert "done_cut:east-trail" in [b.key for b in app.button]


def test_another_day_and_the_minutes_go_with_the_tap(work, farm):
    app = work()
    app.date_input(key="work_day").set_value(datetime.date(2027, 2, 6)).run()
    app.number_input(key="work_minutes").set_value(90).run()
    pressed(app, "done_cut:east-trail")
    (entry,) = kept_entries(ground(farm).uid)
    assert (entry.date, entry.get("minutes")) == ("2027-02-06", 90)


def test_other_chores_keep_their_date_under_done(work, farm):
    app = pressed(work(), "done_walk-sign")
    pressed(app, "done_camera:saddle-camera")
    kept = ground(farm)
    assert kept.work.done == (("walk-sign", TODAY),)
    assert next(m for m in kept.marks if m.kind == "camera").done == (("camera", TODAY),)
    assert {e.kind for e in kept_entries(kept.uid)} == {WORK, VISIT}


def test_the_demo_is_written_to_the_log_alone(work):
    before = demo_path().read_bytes()
    pressed(work(ground=""), "done_cut:east-trail")
    assert len(kept_entries(open_property(demo_path()).property.uid)) == 1
    assert demo_path().read_bytes() == before


def test_the_year_is_a_table_of_months(work):
    said = sheet_words(work("The year"))
    assert "Cut trails" in said and said.index("Feb") < said.index("Jan")


def test_a_place_and_what_is_not_done_there(work, farm):
    app = work("By place")
    app.selectbox(key="work_place").set_value("cane-trail").run()
    assert "Respray Cane trail" in words(app)
    pressed(app, "leave_spray:cane-trail")
    assert ground(farm).work.left_out == ("spray:cane-trail",)
    assert "Respray Cane trail" not in words(app)


def test_a_trail_has_its_own_story_under_its_own_address(work, farm):  # noqa: ARG001
    app = opened("work", ground="farm", work_view="By place", work_place="East trail")
    assert not app.exception, app.exception
    said = words(app)
    assert "In range of Plum edge" in said and "21 Feb 2026: Cut" in said
    assert "no temperatures of it are kept here" in said
    app.selectbox(key="work_place").set_value("oats-box").run()
    assert "Its story" not in words(app)


def test_temperatures_since_the_cut_are_got_on_one_press(work, monkeypatch):  # noqa: ARG001
    """On 10 February 2027 the archive ends on the 4th: 22 February 2026 to 3 February 2027
    are 347 days of 18, and six have none."""
    server = WeatherServer()
    server.answers[ARCHIVE] = warm
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setenv("STAND_WIND_ARCHIVE_URL", server.url)
    monkeypatch.setattr("core.weather.services.history_press.time.sleep", lambda _: None)
    try:
        app = opened("work", ground="farm", work_view="By place", work_place="East trail")
        said = words(app)
        assert "for the hours of 2027, 2026, a year at a time" in said and not server.seen
        pressed(app, "get_days")
        assert len(server.seen) == 2
        pressed(app, "show_days")
        assert f"at least {347 * 18:,} growing degree days, by 347 days modelled" in words(app)
        assert "6 of 353 days have no temperatures here" in words(app)
    finally:
        server.stop()


def test_rules_are_kept_and_bad_ones_said(work, farm):
    app = work("Your rules")
    app.text_input(key="rule_winter_1").set_value("28 Feb")
    app.number_input(key="rule_cut_every_years").set_value(2)
    app.button("FormSubmitter:work_rules-Keep these rules").click().run()
    assert not app.exception
    kept = ground(farm).work
    assert (kept.winter, kept.cut_every_years) == (("01-01", "02-28"), 2)
    app.text_input(key="rule_leaf_out").set_value("soon")
    app.button("FormSubmitter:work_rules-Keep these rules").click().run()
    assert "'soon' is no day" in words(app, "error")


def test_days_of_plots_and_thickets_in_sections(work, farm):
    app = work("Your rules")
    app.text_input(key="plot_lime_0").set_value("1 Feb")
    app.text_input(key="plot_lime_1").set_value("28 Feb")
    app.button("FormSubmitter:work_plots-Keep these days").click().run()
    assert not app.exception
    app.selectbox(key="thicket_bed").set_value("young-pines").run()
    app.number_input(key="thicket_sections").set_value(4).run()
    pressed(app, "thicket_add")
    kept = ground(farm).work
    assert kept.plots == (("lime", ("02-01", "02-28")),)
    assert [(t.feature, t.sections) for t in kept.thickets] == [("young-pines", 4)]
    said = words(work())
    assert "Lime Line oats" in said and "Cut back a section of Young pines" in said
    assert "Section 1 of 4." in said
    app = work("Your rules")
    app.text_input(key="plot_lime_1").set_value("")
    app.button("FormSubmitter:work_plots-Keep these days").click().run()
    assert "one end is missing" in words(app, "error")
    app.text_input(key="plot_lime_0").set_value("")
    app.button("FormSubmitter:work_plots-Keep these days").click().run()
    pressed(app, "out_thicket_young-pines")
    assert (ground(farm).work.plots, ground(farm).work.thickets) == ((), ())


def test_own_chores_and_gear(work, farm):
    app = work("Your rules")
    app.text_input(key="own_name").set_value("Fix the gate").run()
    pressed(app, "own_add")
    app.text_input(key="gear_name").set_value("Nell's harness").run()
    pressed(app, "gear_add")
    kept = ground(farm).work
    assert (kept.own[0].name, kept.own[0].on) == ("Fix the gate", TODAY)
    assert (kept.gear[0].name, kept.gear[0].replace_by) == ("Nell's harness", TODAY)
    assert "Replace Nell's harness" in words(work()) and "Fix the gate" in words(work())
    pressed(app, "out_own_Fix the gate_None")
    assert ground(farm).work.own == ()


@pytest.mark.whole_demo
def test_what_it_costs_orders_the_list_and_says_so(work):
    app = work()
    app.toggle(key="work_cost").set_value(True).run()
    assert not app.exception, app.exception
    said = words(app)
    assert "of a season have no stand" in said and "Sits of a season, by the season review" in said
    rows = [b.key for b in app.button if b.key.startswith("done_cut:")]
    # no stand has either of these at night in its range: nothing is lost with them
    assert set(rows[-2:]) == {"done_cut:hay-trail", "done_cut:branch-trail"}


@pytest.mark.whole_demo
def test_the_round_of_what_is_due_and_of_what_is_chosen(work):
    app = work("The round")
    said = words(app)
    assert "From Road gate past 8 places and back" in said and "Take care." in said
    assert "1. Saddle camera" in said and "At no place of its own:" in said
    app.multiselect(key=f"round_jobs_{TODAY}").set_value(["cut:east-trail"]).run()
    app.selectbox(key="round_start").set_value("creek-gate").run()
    assert not app.exception, app.exception
    assert "From Creek gate past 1 place and back" in words(app)
    app.multiselect(key=f"round_jobs_{TODAY}").set_value([]).run()
    assert "Choose a job" in words(app)


def test_when_to_go_in_by_the_forecast(work, monkeypatch):
    at_s = int(datetime.datetime.fromisoformat(FEBRUARY).timestamp())
    weather = grounds.hourly(at_s, [330.0] * 24)
    monkeypatch.setattr(forecast, "forecast_panel", lambda _: weather)
    app = work("When to go in")
    app.selectbox(key="visit_place").set_value("gate-sign").run()
    assert not app.exception, app.exception
    said = words(app)
    assert "Wed 10 Feb, 10:00 am to" in said and "Wind NNW 8 mph." in said
    assert "Noise and boots are not judged" in said


def test_spraying_hours_only_with_the_day_the_label_was_read(work, farm, monkeypatch):
    at_s = int(datetime.datetime.fromisoformat(FEBRUARY).timestamp())
    weather = grounds.hourly(at_s, [330.0] * 30, mph=6.0, temperature_c=15.0, rain_mm=0.0)
    monkeypatch.setattr(forecast, "forecast_panel", lambda _: weather)
    app = work("Spraying")
    said = words(app)
    assert "The label is the law" in said and "until somebody has read the label" in said
    app.selectbox(key="spray_trail").set_value("cane-trail").run()
    app.number_input(key="label_keep_off_yd").set_value(0.0).run()
    app.date_input(key="label_read_on").set_value(datetime.date(2027, 2, 1)).run()
    assert not app.exception, app.exception
    assert "Label read 2027-02-01." in words(app) and "not in spring sap flow" in words(app)
    pressed(app, "label_keep")
    assert ground(farm).work.label.read_on == "2027-02-01"


def test_a_file_that_is_in_use_counts_for_its_own_ground_alone(work, farm, monkeypatch):  # noqa: ARG001
    """Its hours were read for this ground, and it was not left out since."""
    here, slot = ground(farm), forecast.OWN_FILE
    hours = grounds.hourly(0, [330.0] * 24, temperature_c=20.0)
    asked = (("june.csv",), "mark", None, here.center)
    for held, told in (
        ({slot.kept: (b"", "june.csv"), slot.read: (asked, hours)}, [hours]),
        ({slot.read: (asked, hours)}, []),
        ({slot.kept: (b"", "june.csv"), slot.read: ((*asked[:3], (0.0, 0.0)), hours)}, []),
    ):
        monkeypatch.setattr(own_files.st, "session_state", held)
        assert own_files.read_now(slot, here) == told
