"""Sheets print on one page of Chromium's own, whatever names stand on them."""

import dataclasses
import re

import pytest

from core.ground.store import demo_path, open_property
from core.show.take_along.leave_sheet import leave_sheet
from core.show.visor import visor_sheet
from core.sit.scene import Scene
from tests.core.show.test_leave_sheet import sat
from tests.core.show.test_round_sheet import demo, sheet
from tests.core.show.test_visor import AUGUST_10_S, DATE, long_named

PAPERS = ({"prefer_css_page_size": True}, {"format": "A4", "landscape": True})


@pytest.fixture
def tab(chromium):
    context = chromium.new_context(offline=True)
    yield context.new_page()
    context.close()


def pages(printed: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page[^s]", printed))


def test_where_six_hunters_with_long_names_sit(tab):
    """Letter and A4 paper; three hunters have more words each."""
    sit, own = sat()
    long = "The old split-rail corner above the second creek crossing, by the beech"
    own = dataclasses.replace(own, stand=dataclasses.replace(own.stand, name=long))
    for count in (3, 6):
        tab.set_content(leave_sheet([(f"Bartholomew {i}", sit, own) for i in range(count)], 0.0))
        for paper in ("Letter", "A4"):
            assert pages(tab.pdf(format=paper)) == 1, (count, paper)


def test_the_day_s_round(tab):
    for n_jobs in (6, 18, 40):
        for name in (None, "Broomsedge hollow ladder and long timber {:02d}"):
            tab.set_content(sheet(demo(name), n_jobs))
            for paper in ("Letter", "A4"):
                printed = tab.pdf(format=paper, prefer_css_page_size=True)
                assert pages(printed) == 1, (n_jobs, name, paper)


@pytest.mark.parametrize("names", ["own", "long"])
def test_the_visor_with_all_of_its_words(tab, names):
    """The whole demo's, with the names that it has and with long ones."""
    prop = open_property(demo_path()).property
    told = long_named(prop) if names == "long" else visor_sheet(Scene(prop), DATE, AUGUST_10_S)
    tab.set_content(told)
    for paper in PAPERS:
        assert pages(tab.pdf(**paper)) == 1, paper
    tab.set_viewport_size({"width": 987, "height": 747})  # letter, landscape, less its margins
    tab.emulate_media(media="print")
    cut = "[...document.querySelectorAll('td p')].filter(e => e.scrollWidth > e.clientWidth).length"
    assert tab.evaluate(cut) == 0
