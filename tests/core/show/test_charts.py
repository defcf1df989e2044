"""The charts of a season: the right mark for each verdict, and names that do no harm."""

import numpy as np
import pytest

from core.show.charts import BAR, mark_traces, ruler_figure, shares_figure
from core.show.palette import DARK
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG

BAD = "<b onclick=x>&"


@pytest.fixture(scope="module")
def verdict():
    rows = np.full((3, 36), WRONG)
    rows[0, :5], rows[1, 5:7], rows[2, 7:] = CLEAN, JUST_OFF, CANT_CALL
    return rows


def test_each_verdict_has_its_mark(verdict):
    traces = {t.name: t for t in mark_traces(verdict, DARK)}
    full, half, unsure = traces["clean"], traces["just-off"], traces["can't call"]
    assert list(full.x) == [0, 10, 20, 30, 40]
    assert list(half.x) == [50, 60]
    assert set(half.y) == {BAR / 2} and set(full.y) == {BAR}
    assert full.marker.color == half.marker.color == DARK.blue
    assert len(unsure.x) == 29 and unsure.marker.pattern.shape
    assert len(traces["outline"].x) == 7
    assert len(traces["wrong wind"].x) == 3 * 36 - 7 - 29
    # rows run downwards: the first stand lies highest
    assert full.base[0] > half.base[0] > unsure.base[0]


def test_names_are_harmless_and_cut(verdict):
    names = [BAD, "A stand with a very long name indeed", "Oak"]
    figure = ruler_figure(names, verdict, [BAD, "2%", "3%"], np.full(36, 1 / 36), np.zeros(36))
    said = figure.to_json() + shares_figure(names, [0.1] * 3, [0.2] * 3).to_json()
    assert "<b onclick" not in said
    assert "&lt;b onclick" in said or "\\u0026lt;b onclick" in said
    assert "very long name indeed" not in said


def test_shares_fill_the_bar():
    go, cant = np.array([0.25, 0.5]), np.array([0.5, 0.1])
    bars = shares_figure(["a", "b"], go, cant).data
    assert np.allclose(sum(np.asarray(b.x) for b in bars), 1.0)
    assert np.allclose(bars[0].x, go) and np.allclose(bars[1].x, cant)


def test_the_part_that_leaves_no_stand_is_bright(verdict):
    blows, none = np.full(36, 0.02), np.zeros(36)
    none[4] = 0.5
    figure = ruler_figure(["a", "b", "c"], verdict, ["", "", ""], blows, none)
    bright = next(t for t in figure.data if t.name == "leaves no stand")
    assert bright.marker.color == DARK.ink
    assert bright.y[4] == pytest.approx(0.01) and sum(bright.y) == pytest.approx(0.01)
