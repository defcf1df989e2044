"""What a drawn thing measures, in words."""

import pytest

from core.say.measures import measured
from tests import ground_files as g

GROUND = g.document(
    g.stand("oak", 0, 0, range_yd=30),
    g.stand("far", 0, -600),
    g.lane("way", [(0, 440), (0, 0)], ["oak"]),
    g.lane("timed", [(0, 440), (0, 0)], ["oak"], minutes=7),
    g.corridor("near-trail", [(-100, 20), (100, 20)], width_ft=2.5),
    g.corridor("second", [(-100, 90), (100, 90)]),
    g.corridor("away", [(-100, 300), (100, 300)]),
    g.bed("cane", g.square(300, 300, 139.14)),  # 139.14 yd square: 4.0 acres of 4,840 sq yd
    # 220 yd square, less 155.56 yd square: 10 acres less 5
    g.area("line", "boundary", g.square(0, 0, 220), g.square(0, 0, 155.56)),
    g.feature("gate", "truck", "Point", g.lonlat(0, 440)),
    g.feature("wet", "water", "LineString", [g.lonlat(0, 0), g.lonlat(120, 0)]),
)


@pytest.mark.parametrize(
    ("id_", "said"),
    [
        ("oak", ["Near Trail 20 yd; Second 90 yd, out of range"]),
        ("far", ["no trail within 150 yd"]),
        # 440 yd is a quarter of a mile: 10 minutes at 1.5 miles an hour
        ("way", ["440 yd long, 10 min in the dark"]),
        ("timed", ["440 yd long, 7 min in the dark, your own time"]),
        ("near-trail", ["200 yd long, 2.5 ft wide"]),
        ("cane", ["4.0 acres"]),
        ("line", ["5.0 acres"]),
        ("gate", ["one place"]),
        ("wet", ["120 yd long"]),
        ("nothing", []),
    ],
)
def test_measures(id_, said):
    assert measured(GROUND, id_) == said


def test_the_walk_is_at_the_propertys_own_pace():
    ground = g.document(*GROUND["features"], sit={"walk_mph": 3})
    assert measured(ground, "way") == ["440 yd long, 5 min in the dark"]
