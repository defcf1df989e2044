"""The land on the Map page: a file of heights is kept, told and taken out."""

import dataclasses

import pytest

from core.ground.heights.slope_at import with_slopes
from core.ground.heights.utm import to_utm
from core.ground.store import open_property, save_property
from core.land.cut import box_about
from core.land.kept import land_of, tiff
from core.weather.services.heights import box_sent
from core.weather.services.sources import HEIGHTS_VARIABLE
from tests.core.land.test_cut_and_kept import plane_grid
from tests.core.weather.services.test_heights import IMAGE, USGS, in_ranges, tile
from tests.pages.conftest import opened_panel, words
from tests.weather_server import PORTAL, Answer, WeatherServer


def panel():
    import os

    from core.ground.store import open_property
    from pages.ui.map.land import land_panel

    land_panel(open_property(os.environ["PANEL_FILE"]))


def with_file(data: bytes, name: str = "hill.tif"):
    app = opened_panel(panel)
    return app.file_uploader[0].set_value((name, data, "application/octet-stream")).run()


@pytest.mark.whole_demo
def test_heights_are_told_replaced_and_taken_out(farm):
    ground = open_property(farm).property
    app = with_file(tiff(plane_grid(ground, reach_m=1700.0)))
    assert "invented for the demo" in words(app)
    assert "slides down to the" in app.table[0].value.to_string()
    app.segmented_control(key="land_way").set_value("day").run()
    assert "climbs to the" in app.table[0].value.to_string()
    app.button(key="land_keep").click().run()
    assert not app.exception
    assert land_of(open_property(farm))[0].source == "hill.tif"
    assert "hill.tif" in words(app)
    app.button(key="land_out").click().run()
    assert land_of(open_property(farm)) == (None, "")
    assert "No heights are kept" in words(app)


def test_a_grid_elsewhere_is_refused(farm):
    ground = open_property(farm).property
    app = with_file(tiff(dataclasses.replace(plane_grid(ground, reach_m=1700.0), west_deg=10.0)))
    assert "elsewhere" in words(app, "error")
    assert "land_keep" not in [b.key for b in app.button]


def test_a_text_grid_in_meters_asks_zone_and_unit(farm):
    """The ground's own zone and those beside it are offered, none is taken unasked."""
    ground = open_property(farm).property
    east, north = (float(x) for x in to_utm(*ground.center, 17))
    rows = "\n".join(" ".join(f"{300 + 1.6 * k:.1f}" for k in range(170)) for _ in range(170))
    head = f"ncols 170\nnrows 170\nxllcorner {east - 1700}\nyllcorner {north - 1700}\n"
    app = with_file(f"{head}cellsize 20\n{rows}\n".encode(), "hill.asc")
    zone = app.button_group(key="land_zone")
    assert (list(zone.options), zone.value) == (["16N", "17N", "18N"], None)
    zone.set_value("17N").run()
    assert "land_keep" not in [b.key for b in app.button]
    app.button_group(key="land_unit").set_value("meters").run()
    app.button(key="land_keep").click().run()
    assert not app.exception
    assert land_of(open_property(farm))[0].source == "hill.asc"


@pytest.fixture
def service(monkeypatch):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    running = WeatherServer()
    monkeypatch.setenv(HEIGHTS_VARIABLE, running.url)
    yield running
    running.stop()


@pytest.mark.whole_demo
def test_heights_are_fetched_on_a_press_and_kept_on_another(farm, service):
    ground = open_property(farm).property
    data = tile(box_sent(box_about(ground)))
    service.answers = {USGS: Answer(PORTAL), IMAGE: Answer(b"", 502)}
    app = opened_panel(panel)
    app.button_group(key="land_by").set_value("from an open service").run()
    assert "rounded outward to 0.01°" in words(app) and "35.91 to 35.95" in words(app)
    assert "never against the live ones" in words(app)
    assert service.seen == []  # nothing before the press
    app.button(key="land_fetch").click().run()
    assert "a web page came instead" in words(app, "error")
    assert "error 502" in words(app, "error")
    service.answers = {USGS: in_ranges(service, data)}
    app.button(key="land_fetch").click().run()
    assert not app.error
    assert "without use restrictions" in words(app)
    assert land_of(open_property(farm))[0].source == "invented for the demo"
    app.button(key="land_keep").click().run()
    assert not app.exception
    assert "Survey" in land_of(open_property(farm))[0].source
    assert "land_keep" not in [b.key for b in app.button]


@pytest.mark.usefixtures("farm", "service")
def test_a_screen_that_only_looks_asks_for_nothing(monkeypatch):
    monkeypatch.setenv("STAND_WIND_LOOK", "1")
    app = opened_panel(panel)
    app.button_group(key="land_by").set_value("from an open service").run()
    assert "land_fetch" not in [b.key for b in app.button]


@pytest.mark.whole_demo
def test_slopes_of_stands_without_one_are_taken_on_a_press(farm):
    """Two stands of the demo have no slope; what is typed stays, and so does how each lies."""
    before = {s.id: s for s in open_property(farm).property.stands}
    without = {id_ for id_, s in before.items() if s.grade_pct is None}
    app = opened_panel(panel)
    rows = app.table[-1].value
    assert list(rows["stand"]) == [s.name for s in before.values()]
    assert rows["looks like"].isin(["bottom", "ridge", "gap", "flat", "side"]).all()
    choice = app.multiselect[0]
    assert set(choice.value) == without and len(without) == 2
    app.button(key="slopes_keep").click().run()
    assert not app.exception
    after = {s.id: s for s in open_property(farm).property.stands}
    assert all(after[id_].grade_pct for id_ in without)
    for id_, stand in before.items():
        assert after[id_].lies == stand.lies
        if id_ not in without:
            assert after[id_] == stand
    assert app.multiselect[0].value == []
    app.multiselect[0].set_value(["spring"]).run()
    app.button(key="slopes_keep").click().run()
    spring = next(s for s in open_property(farm).property.stands if s.id == "spring")
    assert (spring.grade_pct, spring.downhill_deg) != (14.0, 240.0)


@pytest.mark.whole_demo
def test_a_slope_that_the_heights_do_not_show_is_named(farm):
    opened_farm = open_property(farm)
    turned = with_slopes(opened_farm.document, {"spring": (60.0, 14.0)})
    save_property(opened_farm, turned, now_s=1)
    app = opened_panel(panel)
    assert "Typed otherwise than the heights have it: Spring" in words(app, "warning")


@pytest.mark.whole_demo
def test_the_limits_are_told_woods_first(farm):
    assert farm.exists()
    app = opened_panel(panel)
    told = words(app, "caption")
    assert "Of the bare ground; cells of 10 m; they reach 1,0" in told
    for word in ("under trees", "uphill at night", "treetops", "30 m", "lakes, snow", "a pond"):
        assert word in told.replace("Under trees", "under trees")


@pytest.mark.whole_demo
def test_feet_that_a_file_calls_meters_are_asked_about(farm):
    demo = land_of(open_property(farm))[0].grid
    app = with_file(tiff(dataclasses.replace(demo, height=demo.height / 0.3048)))
    assert "Feet for meters?" in words(app, "warning")
    assert "land_keep" not in [b.key for b in app.button]
    app.button_group(key="land_feet").set_value("feet").run()
    app.button(key="land_keep").click().run()
    kept = land_of(open_property(farm))[0]
    assert kept.source == "hill.tif"
    assert kept.grid.height.max() == pytest.approx(demo.height.max(), rel=1e-3)
