"""The season page's logic, without a browser."""

import json
import re

import pytest

from tests.history_files import open_log
from tests.pages.conftest import opened, words

pytestmark = pytest.mark.demo_of("dry-fork", "plum-edge")


@pytest.fixture
def app(farm):
    """The screen on a copy of the demo with a season of two weeks, which is soon counted."""
    document = json.loads(farm.read_text(encoding="utf-8"))
    for season in document["property"]["seasons"]:
        season["first"], season["last"] = "11-01", "11-14"
    farm.write_text(json.dumps(document), encoding="utf-8")
    return opened("season_winds", ground="farm")


def test_it_opens_on_the_typical_year_and_says_so():
    app = opened("season_winds")
    assert not app.exception
    said = words(app)
    assert "of 222 sits" in said
    assert "Typical day, not a forecast" in said
    assert "no spread between years" in said


def test_long_names_of_stands_are_told_apart_in_the_table(farm):
    document = json.loads(farm.read_text(encoding="utf-8"))
    stands = [f["properties"] for f in document["features"] if f["properties"]["kind"] == "stand"]
    for i, stand in enumerate(stands):
        stand["name"] = f"Lower walnut hollow by the leaning one {i}"
    for season in document["property"]["seasons"]:
        season["first"], season["last"] = "11-01", "11-03"
    farm.write_text(json.dumps(document), encoding="utf-8")
    tables = [t.value for t in opened("season_winds", ground="farm").dataframe]
    names = list(next(t for t in tables if "sits only it has" in t)["stand"])
    assert len(set(names)) == len(stands) and max(map(len, names)) <= 18


def test_one_kind_of_sit_and_part_of_the_season():
    app = opened("season_winds")
    app.segmented_control(key="ruler_mph").set_value(16)
    app.segmented_control(key="season_sit").set_value("morning").run()
    assert "at 16 mph on a morning of" in words(app)
    assert "of 111 sits" in words(app)
    rut = next(o for o in app.selectbox(key="season_part").options if o.startswith("rut"))
    app.selectbox(key="season_part").set_value(rut).run()
    assert "of 36 sits" in words(app)
    assert "from 10-20 to 11-24" in words(app)
    assert not app.exception


def test_dates_outside_the_season_are_refused_with_the_dates(app):
    app.selectbox(key="season_part").set_value("other dates").run()
    app.text_input(key="season_from").set_value("06-01").run()
    app.text_input(key="season_to").set_value("06-30").run()
    assert "06-01 to 06-30" in words(app)
    app.text_input(key="season_to").set_value("June").run()
    assert "'June' is no day of the year" in words(app)


def test_spots_are_looked_for_when_asked(app):
    assert "A tree may not stand there" not in words(app)
    app.toggle(key="look_for_spots").set_value(True).run()
    assert not app.exception
    said = words(app)
    assert "to cut." in said or "No spot along the trails" in said

    app.segmented_control(key="winds_by").set_value("files of a station").run()
    assert "Bring the files of a station" in words(app)
    assert not app.exception


# --- files of a station ---


def give(app, *files):
    app.segmented_control(key="winds_by").set_value("files of a station").run()
    uploader = app.get("file_uploader")[0]
    uploader.set_value([(name, data, "text/csv") for name, data in files]).run()
    assert not app.exception
    return app


def options(app, at: int) -> list[str]:
    return [re.sub(r"\\(.)", r"\1", option) for option in app.radio[at].options]


def test_what_a_history_leaves_open_is_asked_in_place(app):
    give(app, ("mast.csv", open_log()))
    assert not app.error and not app.header
    # 8 knots of 1852 m an hour are 9.2 miles of 1609.344 m an hour
    assert options(app, 0)[:2] == ["mph: line 2 is 8.0 mph", "kt: line 2 is 9.2 mph"]
    app.radio[0].set_value("kt").run()
    assert "3 Nov 2025" in options(app, 1)[0]
    app.radio[1].set_value("yes").run()
    assert options(app, 2)[0].startswith("America/New_York: ")
    app.radio[2].set_value("America/New_York").run()
    assert not app.exception and not app.error
    # 3 to 8 November, each with a morning and an evening
    assert "of 12 sits" in words(app)
    assert "mast.csv" in words(app)


def test_files_are_kept_through_a_visit_to_another_page_and_can_be_left_out(app):
    give(app, ("mast.csv", open_log()))
    for at, value in enumerate(("mph", "yes", "America/New_York")):
        app.radio[at].set_value(value).run()
    assert "of 12 sits" in words(app)
    app.switch_page("pages/words.py").run()
    app.switch_page("pages/season_winds.py").run()
    if "of 12 sits" not in words(app):  # the first run after a switch shows defaults
        app.segmented_control(key="winds_by").set_value("files of a station").run()
    assert "of 12 sits" in words(app)
    app.button(key="leave_history").click().run()
    assert "Bring the files of a station" in words(app)


def test_files_of_two_stations_are_refused_by_name(app):
    line = "2023 11 03 12    50    10 10150   310    50     0 -9999 -9999\n"
    give(app, ("111111-11111-2023", line.encode()), ("222222-22222-2023", line.encode()))
    assert "222222-22222-2023" in words(app, "error")
