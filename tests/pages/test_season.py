"""The season page's logic, without a browser."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

ROOT = Path(__file__).resolve().parents[2]
RUN_S = 60


@pytest.fixture
def app(monkeypatch):
    monkeypatch.setenv("STAND_WIND_NOW", "2026-11-10T04:30:00-05:00")
    home = AppTest.from_file(str(ROOT / "dashboard.py"), default_timeout=RUN_S)
    home.run()
    return home.switch_page("pages/season_winds.py").run()


def words(app) -> str:
    kinds = (app.title, app.header, app.subheader, app.markdown, app.caption, app.error)
    return " ".join(str(e.value) for kind in kinds for e in kind)


def test_it_opens_on_the_typical_year_and_says_so(app):
    assert not app.exception
    said = words(app)
    assert "of 222 sits" in said
    assert "typical day, not a forecast" in said.replace("\\", "")
    assert "no spread between years" in said


def test_one_kind_of_sit_and_part_of_the_season(app):
    app.segmented_control(key="ruler_mph").set_value(16)
    app.segmented_control(key="season_sit").set_value("morning").run()
    assert "Winds that work, 16 mph, morning" in words(app)
    assert "of 111 sits" in words(app)
    rut = next(o for o in app.selectbox(key="season_part").options if o.startswith("rut"))
    app.selectbox(key="season_part").set_value(rut).run()
    assert "of 36 sits" in words(app)
    assert not app.exception


def test_dates_outside_the_season_are_refused_with_the_dates(app):
    app.selectbox(key="season_part").set_value("other dates").run()
    app.text_input(key="season_from").set_value("06-01").run()
    app.text_input(key="season_to").set_value("06-30").run()
    assert "06-01 to 06-30" in words(app).replace("\\", "")
    app.text_input(key="season_to").set_value("June").run()
    assert "'June' is no day of the year" in words(app).replace("\\", "")


def test_spots_are_looked_for_when_asked(app):
    assert "A tree may not stand there" not in words(app)
    app.toggle(key="look_for_spots").set_value(True).run()
    assert not app.exception
    said = words(app).replace("\\", "")
    assert "to cut." in said or "No spot along the trails" in said

    app.segmented_control(key="winds_by").set_value("files of a station").run()
    assert "Bring the files of a station" in words(app)
    assert not app.exception
