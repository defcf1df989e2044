"""No two words of a drawn map touch, as a browser lays them out."""

import dataclasses
import datetime

import numpy as np
import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Stand
from core.ground.store import demo_path, open_property
from core.show.lesson_picture import question_map
from core.show.map import DESK_WIDTH, WIDTH, sit_map
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.hill_ground import hill_ground

TOUCHING = """svgs => svgs.flatMap(svg => {
  const frame = document.createElement('div');
  frame.innerHTML = svg;
  document.body.replaceChildren(frame);
  const words = [...frame.querySelectorAll('text')].map(e => [e.textContent, e.getBBox()]);
  const sheet = frame.firstChild.viewBox.baseVal;
  const touch = words.flatMap(([a, b], i) => words.slice(0, i)
    .filter(([, c]) => Math.min(b.x + b.width, c.x + c.width) - Math.max(b.x, c.x) > 0.3
                    && Math.min(b.y + b.height, c.y + c.height) - Math.max(b.y, c.y) > 2)
    .map(([c]) => `${a} on ${c}`));
  const off = words.filter(([, b]) => b.x < -0.5 || b.x + b.width > sheet.width + 0.5
                                   || b.y + b.height > sheet.height + 0.5);
  return [...touch, ...off.map(([a]) => `${a} off the sheet`)];
})"""


def demo_with(count: int):
    """The demo with some of its stands, or with more that have long names."""
    demo = open_property(demo_path()).property
    rng = np.random.default_rng(count)
    lon, lat = np.array([s.at for s in demo.stands]).T
    more = [
        Stand(
            f"more{i}",
            f"Lower walnut hollow, the leaning one {i}",
            (float(rng.uniform(lon.min(), lon.max())), float(rng.uniform(lat.min(), lat.max()))),
        )
        for i in range(count - len(demo.stands))
    ]
    kept = {s.id for s in demo.stands[:count]}
    lanes = tuple(
        dataclasses.replace(lane, stands=served)
        for lane in demo.lanes
        if (served := tuple(i for i in lane.stands if i in kept))
    )
    return dataclasses.replace(demo, stands=(*demo.stands[:count], *more), lanes=lanes)


GROUNDS = {
    "4 stands": lambda: demo_with(4),
    "14 stands": lambda: demo_with(14),
    "40 stands": lambda: demo_with(40),
    "hills": hill_ground,
}


@pytest.mark.parametrize("view", ["desk"])
@pytest.mark.parametrize("name", GROUNDS)
def test_no_two_words_of_a_map_touch_and_none_leaves_the_sheet(page, name):
    scene = Scene(GROUNDS[name]())
    drawn = []
    for wind in ("NW 8", "E 4", "SSW 12", "variable 3"):
        found = answer_sit(
            prepare_sit(scene, parse_wind(wind), datetime.date(2026, 11, 10), "morning")
        )
        seats = (found.stands[0], found.stands[-1])
        drawn += [sit_map(found.sit, s, width=w) for s in seats for w in (WIDTH, DESK_WIDTH)]
        drawn.append(question_map(found.sit))
    page.set_content("<body></body>")
    assert page.evaluate(TOUCHING, drawn) == []
