"""Places by which a puff tells the wind: where they lie, and the stand of that wind."""

import dataclasses
import itertools

import pytest

from core.answer.landmarks import landmarks
from core.answer.one_sit import answer_sit
from core.answer.other_winds import POINTS, other_winds
from core.ground.layout import Mark
from core.say.find_the_tree import puff_text
from core.show.take_along.days import pocket_days
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.grounds import NOV_10, PIEDMONT, at, bed, food, ground, lane

TRUCK = at(PIEDMONT, 0, 440)  # where the way in begins, north of the stand


def mark(name: str, bearing_deg: float, yards: float, kind="other") -> Mark:
    """A named point as it lies from the truck."""
    return Mark(name.lower(), name, kind, "Point", (at(TRUCK, bearing_deg, yards),))


def scene_with(*marks, areas=()):
    return Scene(ground(marks=marks, areas=areas, lanes=(lane(PIEDMONT, (0, 440), (0, 5)),)))


def seen(scene):
    return landmarks(scene, scene.plane.points([TRUCK])[0])


def test_a_puff_drifts_where_the_wind_that_blows_it_goes():
    """A barn to the south-east is told by a wind from the opposite point, north-west."""
    (barn,) = seen(scene_with(mark("Barn", 135, 300)))
    assert barn.bearing_deg == pytest.approx(135, abs=0.1)
    assert barn.distance_m == pytest.approx(300 * 0.9144, rel=1e-3)
    assert POINTS[barn.wind] == "NW"
    opposite = {"N": "S", "NE": "SW", "E": "W", "SE": "NW"}
    for i, point in enumerate(POINTS[:4]):
        (one,) = seen(scene_with(mark("Barn", 45 * i, 200)))
        assert POINTS[one.wind] == opposite[point]


def test_one_for_each_way_at_most_and_none_that_is_taken_for_another():
    around = [mark(f"M{i}", 15 * i, 200 + i) for i in range(24)]
    found = seen(scene_with(*around, mark("Near", 90, 20), mark("Line", 200, 300, "boundary")))
    assert len(found) == 8 and len({one.sector for one in found}) == 8
    turns = [one.bearing_deg for one in found]
    assert turns == sorted(turns) and min(b - a for a, b in itertools.pairwise(turns)) > 20
    assert not {"Near", "Line"} & {one.name for one in found}
    edge = seen(scene_with(mark("A", 66, 300), mark("B", 69, 300)))  # beside a sector's rim
    assert len(edge) == 1


def test_the_words_name_the_stand_of_the_wind_that_goes_there():
    """A bed south-east of the stand: a north-west wind is stay out, a south-east one is go."""
    prop = scene_with(
        mark("Barn", 135, 300), mark("Pond", 315, 300), areas=(bed(PIEDMONT, 135, 150),)
    )
    sit = prepare_sit(prop, parse_wind("SE 8"), NOV_10, "morning")
    rows = other_winds(prop, NOV_10, "morning")
    by_wind = {point: (light.stand, steady.stand) for point, light, steady in rows}
    assert by_wind["NW"] == ("", "") and by_wind["SE"][1] == "Oak"
    told = puff_text(sit, answer_sit(sit).best, rows)
    pond = "Oak" if by_wind["SE"][0] == "Oak" else "stay out, in a steady wind Oak"
    assert f"towards Pond: {pond}" in told
    assert "Barn: stay out" in told or "Barn or" in told
    assert told.endswith("it hangs: stay out.")
    page = pocket_days(prop, parse_wind("SE 8"), NOV_10, 1, 0)
    assert "a puff drifts" in page


def test_without_a_named_place_or_a_way_in_nothing_is_told():
    bare = Scene(dataclasses.replace(ground(areas=(food(PIEDMONT, 90, 60),)), lanes=()))
    sit = prepare_sit(bare, parse_wind("SE 8"), NOV_10, "morning")
    assert puff_text(sit, answer_sit(sit).best, []) == ""
    assert seen(Scene(ground())) == []
