"""A map draws what lies on it and nothing else, however large the ground."""

import dataclasses
import re

from core.ground.layout import Mark, Stand
from core.show.canvas import Sheet
from core.show.emphasis import Emphasis
from core.show.map import property_map
from core.sit.scene import Scene
from tests.grounds import PIEDMONT, at, bed, corridor, ground, lane

NEAR = ground(
    areas=(bed(PIEDMONT, 180, 60),),
    corridors=(corridor(PIEDMONT, (90, 20), (90, 120)),),
    lanes=(lane(PIEDMONT, (0, 150), (0, 5)),),
)


def far_things(n: int) -> dict:
    """Stands with lanes, beds, trails and trucks three miles off, out of every near view."""
    places = [at(PIEDMONT, 360 * i / n, 5000) for i in range(n)]
    return {
        "stands": tuple(Stand(f"s{i}", f"S{i}", p) for i, p in enumerate(places)),
        "lanes": tuple(
            lane(p, (0, 300), (0, 5), id_=f"l{i}", stands=(f"s{i}",)) for i, p in enumerate(places)
        ),
        "areas": tuple(bed(p, 90, 80, id_=f"b{i}") for i, p in enumerate(places)),
        "corridors": tuple(
            corridor(p, (90, 10), (90, 90), id_=f"c{i}") for i, p in enumerate(places)
        ),
        "marks": tuple(
            Mark(f"t{i}", f"T{i}", "truck", "Point", (p,)) for i, p in enumerate(places)
        ),
    }


def with_far(n: int):
    far = {k: (*getattr(NEAR, k), *v) for k, v in far_things(n).items()}
    return dataclasses.replace(NEAR, **far)


def drawn(prop, **more) -> str:
    return property_map(Scene(prop), Emphasis("oak", **more))


def test_what_lies_far_off_changes_nothing_in_a_near_view():
    assert drawn(with_far(9)) == drawn(with_far(1))


def test_the_whole_ground_is_drawn_when_it_is_asked_for():
    svg = drawn(with_far(9), whole=True)
    shapes = len(re.findall("<polygon|<polyline|<rect", svg))
    near = len(re.findall("<polygon|<polyline|<rect", drawn(NEAR)))
    assert shapes == near + 9 * len(far_things(1))


def test_a_line_that_passes_through_is_drawn_though_its_ends_are_off():
    sheet = Sheet((-100.0, -100.0, 100.0, 100.0), 200.0)
    sheet.path([[-500.0, 0.0], [500.0, 10.0]])
    sheet.path([[-500.0, 150.0], [500.0, 150.0]])
    sheet.path([[150.0, -500.0], [150.0, 500.0]])
    assert len(sheet.parts) == 1
    assert sheet.shows([[105.0, 0.0]]) and not sheet.shows([[115.0, 0.0]])
