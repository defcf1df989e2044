"""Which way rings run in a GeoJSON file.

Source: RFC 7946, 3.1.6: exterior rings are counterclockwise, holes clockwise, and a
parser should not reject polygons that are not. The ring [[100,0],[100,1],[101,1],
[101,0],[100,0]] is clockwise and becomes [[100,0],[101,0],[101,1],[100,1],[100,0]]:
README of geojson-rewind. The two polygons of appendix A.3 of the RFC (from memory) are
wound as the RFC asks.
"""

from core.ground.shapes import signed_area_deg2, wound

CLOCKWISE = [[100, 0], [100, 1], [101, 1], [101, 0], [100, 0]]
COUNTER_CLOCKWISE = [[100, 0], [101, 0], [101, 1], [100, 1], [100, 0]]
RFC_A3_OUTER = [[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]
RFC_A3_HOLE = [[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]


def test_a_clockwise_outer_ring_is_turned_round():
    assert wound(CLOCKWISE, outer=True) == COUNTER_CLOCKWISE


def test_a_clockwise_hole_stays():
    assert wound(CLOCKWISE, outer=False) == CLOCKWISE


def test_a_counter_clockwise_hole_is_turned_round():
    assert wound(COUNTER_CLOCKWISE, outer=False) == CLOCKWISE


def test_the_rfcs_own_polygon_stays():
    assert wound(RFC_A3_OUTER, outer=True) == RFC_A3_OUTER
    assert wound(RFC_A3_HOLE, outer=False) == RFC_A3_HOLE


def test_the_sign_and_size_of_an_area():
    assert signed_area_deg2(tuple(map(tuple, COUNTER_CLOCKWISE))) == 1
    assert signed_area_deg2(tuple(map(tuple, CLOCKWISE))) == -1
