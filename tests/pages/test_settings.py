"""The settings on the Map screen: tried on the next answer, kept, undone."""

import pytest

from tests.pages.conftest import opened, words


@pytest.fixture(autouse=True)
def own(farm):
    return farm


def panel(view):
    app = opened("map", ground="farm")
    app.segmented_control(key="map_more").set_value("Settings").run()
    app.segmented_control(key="settings_view").set_value(view).run()
    assert not app.exception
    return app


def test_a_number_is_tried_kept_and_goes_back_to_its_default():
    app = panel("Times and walks")
    app.number_input(key="setting_settle_min_0").set_value(45.0).run()
    assert not app.exception
    told = words(app, "markdown")
    assert "As it is: " in told and "With this: " in told
    app.button(key="setting_keep").click().run()
    assert not app.exception and app.number_input(key="setting_settle_min_1").value == 45
    assert "common practice, no source" in words(app, "caption")
    app.button(key="setting_back_settle_min").click().run()
    app.button(key="setting_keep").click().run()
    assert app.number_input(key="setting_settle_min_2").value == 30


def test_a_season_with_days_as_written_and_what_is_wrong_with_one():
    app = panel("Seasons and light")
    app.selectbox(key="setting_which_seasons_0").set_value(2).run()
    app.text_input(key="seasons_2_0_weapon").set_value("muzzleloader")
    app.text_input(key="seasons_2_0_first").set_value("9/10")
    app.text_input(key="seasons_2_0_last").set_value("Nov 14")
    app.button(key="FormSubmitter:setting_seasons_2_0-Try it").click().run()
    assert "either of two days" in words(app, "error")
    app.segmented_control(key="seasons_2_0_order").set_value("month first")
    app.button(key="FormSubmitter:setting_seasons_2_0-Try it").click().run()
    assert not app.exception and "A new season: muzzleloader" in words(app, "markdown")
    app.button(key="setting_keep").click().run()
    names = app.selectbox(key="setting_which_seasons_1").options
    assert any("muzzleloader" in n and "09" in n for n in names)


def test_a_limit_is_tried_on_the_criticism_and_a_speed_is_in_miles_an_hour():
    app = panel("Limits of the criticism")
    app.number_input(key="setting_close_shot_yd_0").set_value(29.0).run()
    assert not app.exception
    told = words(app, "markdown")
    assert "The criticism: " in told and "under 29" in told
    app.button(key="setting_keep").click().run()
    assert app.number_input(key="setting_close_shot_yd_1").value == 29
    app.segmented_control(key="settings_view").set_value("Distances of the air").run()
    assert app.number_input(key="setting_slope_fades_at_mps_1").value == 12.1
    app.number_input(key="setting_turn_min_1").set_value(15.0).run()
    app.button(key="setting_keep").click().run()
    assert not app.exception and app.number_input(key="setting_turn_min_2").value == 15


@pytest.mark.parametrize("view", ["Weapons", "People", "Parts and rest", "Distances of the air"])
def test_the_other_lists_open(view):
    assert not panel(view).error
