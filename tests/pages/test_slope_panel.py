"""The slope panel: typed or from a file, shown first, kept on a button."""

import json

import numpy as np
import pytest

from core.ground.store import demo_path, open_property, save_property
from tests.pages.conftest import opened_panel
from tests.tiff_files import geotiff


def app():
    import os

    from core.ground.store import open_property
    from pages.ui.map.slope import slope_panel

    slope_panel(open_property(os.environ["PANEL_FILE"]))


def stand(path, id_):
    features = json.loads(path.read_text(encoding="utf-8"))["features"]
    return next(f["properties"] for f in features if f["id"] == id_)


def run():
    return opened_panel(app)


def said(at):
    return " ".join(v.value for v in [*at.markdown, *at.caption, *at.success, *at.error])


def west_down(unit_keys=None, west_deg=-79.694):
    """A GeoTIFF over the demo, a tenth down to the west; cells about 9 m wide."""
    cell = 0.0001
    metres_east = np.arange(160) * cell * 90_200.0
    heights = (200 + 0.1 * metres_east + np.zeros((110, 1))).astype("f4")
    return geotiff(heights, west_deg=west_deg, north_deg=35.9362, cell_deg=cell, keys=unit_keys)


def with_file(data, name="hill.tif"):
    at = run()
    at.button_group[0].set_value("from a file of heights").run()
    at.file_uploader[0].set_value((name, data, "application/octet-stream")).run()
    assert not at.exception
    return at


@pytest.mark.whole_demo
def test_typed_shown_and_kept(farm):
    at = run()
    at.selectbox[0].set_value("saddle-stand").run()
    assert "Now: none." in said(at)
    assert at.button(key="slope_keep").disabled, "no slope was typed yet"
    at.number_input(key="down_saddle-stand").set_value(270).run()
    at.number_input(key="grade_saddle-stand").set_value(10).run()
    assert "down to the W (270°), 10 % (5.7°)" in said(at)
    assert "grade_pct" not in stand(farm, "saddle-stand")
    at.button(key="slope_keep").click().run()
    kept = stand(farm, "saddle-stand")
    assert (kept["downhill_deg"], kept["grade_pct"]) == (270, 10)
    assert "Slope of Saddle" in said(at)


def test_taken_out(farm):
    at = run()
    at.selectbox[0].set_value("split-oak").run()
    assert at.number_input(key="down_split-oak").value == 235
    at.button(key="slope_out").click().run()
    assert not at.exception
    assert not {"downhill_deg", "grade_pct"} & set(stand(farm, "split-oak"))
    assert at.button(key="slope_out").disabled


@pytest.mark.whole_demo
def test_from_a_file_that_tells_its_unit(farm):
    at = with_file(west_down({4099: 9001}))
    rows = at.table[0].value
    assert len(rows) == 14
    assert set(rows["from the file"].str.extract(r"\((\d+)°\)")[0]) == {"270"}
    # the default: the stands without a slope
    assert set(at.multiselect[0].value) == {"saddle-stand", "cane-blind"}
    assert "grade_pct" not in stand(farm, "saddle-stand")
    at.button(key="slopes_keep").click().run()
    assert not at.exception
    kept = stand(farm, "saddle-stand")
    assert kept["downhill_deg"] == 270
    assert kept["grade_pct"] == pytest.approx(10, abs=0.2)
    assert stand(farm, "split-oak")["grade_pct"] == 12, "only what was chosen"


def test_the_unit_is_asked_for(farm):
    at = with_file(west_down())
    assert not at.table and not at.multiselect
    at.button_group[1].set_value("feet").run()
    grades = at.table[0].value["from the file"].str.extract(r"([\d.]+) %")[0].astype(float)
    assert grades.to_numpy() == pytest.approx(3.05, abs=0.11)
    at.button_group[1].set_value("meters").run()
    grades = at.table[0].value["from the file"].str.extract(r"([\d.]+) %")[0].astype(float)
    assert grades.to_numpy() == pytest.approx(10.0, abs=0.2)
    assert stand(farm, "split-oak")["grade_pct"] == 12


@pytest.mark.usefixtures("farm")
def test_a_file_of_another_place():
    at = with_file(west_down({4099: 9001}, west_deg=-82.0))
    assert at.table[0].value["from the file"].str.contains("outside the grid").all()
    assert at.multiselect[0].value == []
    assert at.button(key="slopes_keep").disabled


@pytest.mark.usefixtures("farm")
def test_a_file_that_is_none():
    at = with_file(b"hello", "hill.asc")
    assert "neither an ESRI ASCII grid nor a GeoTIFF" in at.error[0].value


def test_the_demo_is_read_only(monkeypatch):
    monkeypatch.setenv("PANEL_FILE", str(demo_path()))
    at = run()
    assert all(b.disabled for b in at.button)


def test_a_ground_without_stands(tmp_path, monkeypatch):
    demo = open_property(demo_path())
    path = tmp_path / "bare.json"
    save_property(demo, {**demo.document, "features": []}, path, now_s=0)
    monkeypatch.setenv("PANEL_FILE", str(path))
    assert said(run()) == "There is no stand yet."
