"""The map: north up, one scale, names that do not collide or run, places reached hatched."""

import dataclasses
import datetime
import re
from xml.etree import ElementTree

import numpy as np
import pytest

from core.answer.one_sit import answer_sit
from core.ground.layout import Stand
from core.ground.store import demo_path, open_property
from core.show.canvas import Boxes, Sheet, nice_yards, overlaps
from core.show.map import Emphasis, property_map, sit_map
from core.show.take_along.day_sheet import POCKET_WIDTH
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests import ground_files as g
from tests.grounds import PIEDMONT, bed, ground

SVG = "{http://www.w3.org/2000/svg}"
DATE = datetime.date(2026, 11, 10)


@pytest.fixture(scope="module")
def scene():
    return Scene(open_property(demo_path()).property)


def answer(scene, wind="NW 8"):
    return answer_sit(prepare_sit(scene, parse_wind(wind), DATE, "morning"))


def shape_middle(element) -> np.ndarray:
    pairs = [p.split(",") for p in element.get("points").split()]
    return np.array(pairs, float).mean(axis=0)


def test_north_is_up_and_both_axes_have_one_scale():
    sheet = Sheet((0.0, 0.0, 100.0, 80.0), 200.0)
    assert sheet.height == 160.0
    assert np.allclose(sheet.xy([[0, 80], [100, 0], [50, 40]]), [[0, 0], [200, 160], [100, 80]])


@pytest.mark.parametrize(("wind", "x_sign", "y_sign"), [("NW 8", 1, 1), ("SE 8", -1, -1)])
def test_places_reached_lie_where_the_air_goes(scene, wind, x_sign, y_sign):
    found = answer(scene, wind)
    seen, total = 0, np.zeros(2)
    for own in found.stands:
        tree = ElementTree.fromstring(sit_map(found.sit, own))
        drawn = [e for e in tree.iter() if e.get("points")]  # names carry their ids too
        shown = {e.get("data-id"): e for e in drawn if e.get("data-id")}
        tree_at = shape_middle(shown.pop(own.stand.id))
        for name, element in shown.items():
            if name in {a.id for a in scene.areas} and "reached" in element.get("fill", ""):
                dx, dy = shape_middle(element) - tree_at
                seen += 1
                assert dx * x_sign + dy * y_sign > 0, (own.stand.id, name)
                total += np.array([dx, dy]) / np.hypot(dx, dy)
    assert seen > 5
    # and all together in the middle of it; slopes and near beds pull a little
    assert abs(np.degrees(np.arctan2(total[1] * y_sign, total[0] * x_sign)) - 45) < 15


def rings_of(svg: str, wanted: int) -> list[np.ndarray]:
    """The rings of the areas with holes, each as its places on the sheet."""
    shapes = [e for e in ElementTree.fromstring(svg).iter(f"{SVG}path") if e.get("fill-rule")]
    assert len(shapes) == wanted
    assert all(e.get("fill-rule") == "evenodd" for e in shapes)
    rings = [ring for e in shapes for ring in re.findall(r"M([^Z]*)Z", e.get("d"))]
    return [np.array([p.split(",") for p in ring.split()], float) for ring in rings]


@pytest.mark.parametrize("kind", ["bedding", "food", "boundary", "no-shoot"])
def test_holes_are_drawn_where_they_are(kind):
    area = g.area("cane", kind, g.square(0, 0, 400), g.square(50, 100, 100))
    drawn = property_map(Scene(g.load(g.document(area))))
    outer, hole = rings_of(drawn, 1)
    # a quarter as wide, 50 of 400 yd to the right of the middle and 100 up
    wide, high = np.ptp(outer, axis=0)
    assert np.allclose(np.ptp(hole, axis=0), [wide / 4, high / 4], atol=0.2)
    off = (hole.min(axis=0) + hole.max(axis=0) - outer.min(axis=0) - outer.max(axis=0)) / 2
    assert np.allclose(off, [wide / 8, -high / 4], atol=0.2)
    rings_of(property_map(Scene(g.load(g.document(g.area("a", kind, g.square(0, 0, 400)))))), 0)


def test_the_way_of_the_air_is_one_line_without_a_fill_that_goes_where_the_air_goes(scene):
    found = answer(scene)
    drawn = ElementTree.fromstring(sit_map(found.sit, found.best))
    (way,) = [e for e in drawn.iter() if e.get("data-air")]
    assert way.get("fill") == "none" and float(way.get("stroke-width")) < 1.5
    start, end = re.match(r"M(\S+) L(\S+)", way.get("d")).groups()
    (x, y), (to_x, to_y) = ([float(v) for v in at.split(",")] for at in (start, end))
    tree = next(e for e in drawn.iter() if e.get("data-id") == found.best.stand.id)
    assert np.hypot(*(shape_middle(tree) - (x, y))) < 4
    assert to_x > x and to_y > y  # south-east


def test_calm_air_has_no_way(scene):
    found = answer(scene, "calm")
    drawn = sit_map(found.sit, found.best)
    assert "data-air" not in drawn and "your air has no one way" in drawn


def test_nothing_else_that_is_drawn_begins_at_the_stand(scene):
    found = answer(scene)
    drawn = ElementTree.fromstring(sit_map(found.sit, found.best))
    closed = [e for e in drawn.iter(f"{SVG}polygon") if e.get("data-id") is None]
    assert all(e.get("fill") == "none" or "url" in e.get("fill", "") for e in closed)
    dashed = {e.get("stroke-dasharray") for e in drawn.iter() if e.get("stroke-dasharray")}
    assert "5 4" not in dashed


@pytest.mark.parametrize(("yards", "hatch"), [(120, 2), (430, 1), (900, 0)])
def test_what_is_reached_is_hatched_by_how_much(yards, hatch):
    place = ground(areas=(bed(PIEDMONT, 135, yards),))
    found = answer(Scene(place))
    (shape,) = [
        e
        for e in ElementTree.fromstring(sit_map(found.sit, found.best)).iter(f"{SVG}polygon")
        if e.get("data-id") == "cane"
    ]
    like = found.best.hours.equivalent_yd[:, 0].min()
    assert hatch == (2 if like < 250 else 1 if like <= 500 else 0)
    assert shape.get("fill") == f"url(#m-reached{hatch})"


def test_the_whole_ground_is_on_the_map_with_all_that_the_words_name(scene):
    for wind in ("NW 8", "E 12"):
        found = answer(scene, wind)
        shown = sit_map(found.sit, found.best)
        for thing in (*scene.areas, *scene.ground.stands, *scene.ground.corridors):
            assert f'data-id="{thing.id}"' in shown


def test_names_are_text_and_nothing_else():
    evil = "<script>alert(1)</script><img src=x onerror=alert(2)>"
    oak = Stand("oak", evil, PIEDMONT)
    cane = dataclasses.replace(bed(PIEDMONT, 135, 150), name=evil)
    place = ground(stand=oak, areas=(cane,))
    found = answer(Scene(place))
    svg = sit_map(found.sit, found.best)
    tags = {e.tag.removeprefix(SVG) for e in ElementTree.fromstring(svg).iter()}
    assert tags <= {
        "svg",
        "defs",
        "pattern",
        "rect",
        "path",
        "polygon",
        "polyline",
        "text",
        "circle",
        "line",
    }
    assert "<script" not in svg and evil[:12] in "".join(ElementTree.fromstring(svg).itertext())


def overlap(a, b) -> float:
    """Area that two boxes share."""
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return wide * high if wide > 0 and high > 0 else 0.0


def test_what_many_boxes_cover_is_the_sum_of_each():
    rng = np.random.default_rng(5)
    boxes = [(x, y, x + w, y + h) for x, y, w, h in rng.uniform(1, 60, (150, 4))]
    taken = Boxes()
    assert overlaps(boxes[:2], taken).tolist() == [0.0, 0.0]
    for i, box in enumerate(boxes):
        taken.append(box)
        if i in (0, 63, 64, 149):  # before and after the array grows
            want = [sum(overlap(a, b) for b in boxes[: i + 1]) for a in boxes[-8:]]
            assert overlaps(boxes[-8:], taken) == pytest.approx(want)


def test_labels_do_not_cover_each_other(scene):
    sheet = Sheet((0.0, 0.0, 100.0, 100.0), 390.0)
    drawn = [sheet.label((100.0, 100.0), ["Old Orchard"], 11) for _ in range(40)]
    assert any(drawn) and not all(drawn)
    boxes = sheet.taken.array()
    assert not any(overlap(a, b) > 1e-6 for i, a in enumerate(boxes) for b in boxes[:i])
    assert property_map(scene).count("<text") > 20


def test_a_label_stays_on_the_sheet():
    sheet = Sheet((0.0, 0.0, 100.0, 100.0), 390.0)
    assert sheet.label((389.0, 1.0), ["A very long name for a stand"], 12, must=True)
    left, top, right, bottom = sheet.taken.array()[-1]
    assert left >= 0 and top >= 0 and right <= 390 and bottom <= 390


def test_an_empty_ground_has_a_map():
    svg = property_map(Scene(dataclasses.replace(ground(), stands=())))
    assert ElementTree.fromstring(svg).tag == SVG + "svg"


@pytest.mark.parametrize(("at_most", "shown"), [(0.3, 1), (1, 1), (9, 5), (249, 200), (2600, 2000)])
def test_the_scale_bar_has_a_round_length(at_most, shown):
    assert nice_yards(at_most) == shown


def test_the_scale_bar_is_as_long_as_it_says():
    place = ground(lanes=())
    svg = property_map(Scene(place), Emphasis(whole=True))
    yards = int(re.search(r">(\d+) yd<", svg).group(1))
    bar = re.search(r"M([\d.]+),[\d.]+ V[\d.]+ H([\d.]+) V", svg)
    view_m = 180.0  # the least that a map shows
    long = float(bar.group(2)) - float(bar.group(1))
    assert long / 390.0 * view_m == pytest.approx(yards * 0.9144, rel=0.02)


def test_wind_and_the_chosen_stand_are_whole_on_half_a_sheet_of_paper(scene):
    """Rather a little smaller than cut: the name, and the wind with its strength."""
    found = answer(scene, "NNW 10")
    for name in ("Orchard corner", "Pine corner"):
        seat = next(s for s in found.stands if s.stand.name == name)
        words = [
            e.text
            for e in ElementTree.fromstring(sit_map(found.sit, seat, width=POCKET_WIDTH)).iter()
            if e.text
        ]
        assert name in words
        assert any(w.endswith("wind NNW 10 mph") for w in words)
