"""GPX in and out: what handhelds write, and what they must not be able to do."""

from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from core.ground.exchange import items
from core.ground.exchange.files import BadMap, read_foreign, take, write_gpx
from core.ground.plan import Plane
from core.units import M_PER_YD
from tests import ground_files as g

GPX_11 = 'version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"'
GPX_10 = 'version="1.0" creator="test" xmlns="http://www.topografix.com/GPX/1/0"'


def gpx(inner: str, root: str = GPX_11) -> bytes:
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<gpx {root}>{inner}</gpx>'.encode()


def read(inner: str, root: str = GPX_11):
    return read_foreign(gpx(inner, root), "walk.gpx")


def only(inner: str, root: str = GPX_11):
    (one,) = read(inner, root)
    return one


def refused(data: bytes) -> BadMap:
    with pytest.raises(BadMap) as caught:
        read_foreign(data, "walk.gpx")
    assert caught.value.where == "walk.gpx"
    assert caught.value.fix
    return caught.value


WPT = '<wpt lat="36.1" lon="-79.9"><name>Oak</name></wpt>'
ALL = f"""
  {WPT}
  <rte><name>Loop</name><rtept lat="36.1" lon="-79.9"/><rtept lat="36.2" lon="-79.8"/></rte>
  <trk><name>Walk</name><desc>in the dark</desc>
    <trkseg><trkpt lat="36.101" lon="-79.902"><ele>231</ele></trkpt>
            <trkpt lat="36.103" lon="-79.904"/></trkseg></trk>"""


@pytest.mark.parametrize("root", [GPX_11, GPX_10, 'version="1.1"', ""])
def test_waypoints_routes_and_tracks(root):
    oak, loop, walk = read(ALL, root)
    assert (oak.name, oak.shape, oak.points) == ("Oak", "Point", ((-79.9, 36.1),))
    assert (loop.name, loop.shape) == ("Loop", "LineString")
    assert loop.points == ((-79.9, 36.1), (-79.8, 36.2))
    assert walk.points == ((-79.902, 36.101), (-79.904, 36.103))
    assert walk.text == "in the dark"
    assert [one.notes for one in (oak, loop, walk)] == [(), (), ()]


def test_longitude_and_latitude_are_not_mixed_up():
    # GPX says latitude and longitude by name, GeoJSON by place
    one = only('<wpt lon="-120.5" lat="44.25"/>')
    assert one.points == ((-120.5, 44.25),)


def test_segments_are_parts():
    segment = '<trkseg><trkpt lat="36" lon="-79"/><trkpt lat="36.01" lon="-79"/></trkseg>'
    parts = read(f"<trk><name>Walk</name>{segment}<trkseg/>{segment}</trk>")
    assert [part.name for part in parts] == ["Walk, part 1", "Walk, part 2"]


# --- quirks of handhelds ---


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbf" + gpx(WPT),
        b"\r\n  \n" + gpx(WPT),
        gpx(WPT).decode().replace("UTF-8", "UTF-16").encode("utf-16"),
        gpx(WPT.replace("<name>", "<NAME>").replace("</name>", "</NAME>")),
        gpx(WPT).replace(b"<gpx", b"<GPX").replace(b"</gpx", b"</GPX"),
        gpx(WPT.replace("lat=", "Lat=").replace("lon=", "LON=")),
        gpx(WPT.replace("wpt", "WPT")),
        gpx(WPT.replace("Oak", "<![CDATA[Oak]]>")),
        gpx(f"<!-- walked --><extensions><x/></extensions>{WPT}"),
    ],
)
def test_odd_ways_of_writing(data):
    (oak,) = read_foreign(data, "walk.gpx")
    assert (oak.name, oak.points) == ("Oak", ((-79.9, 36.1),))


def test_things_without_a_name_get_one_and_say_so():
    first, second = read('<wpt lat="36" lon="-79"/><wpt lat="37" lon="-79"><name> </name></wpt>')
    assert (first.name, second.name) == ("point 1", "point 2")
    assert first.notes == ("it has no name",)


def test_a_waypoint_out_of_range_cannot_be_taken_and_says_why():
    one = only('<wpt lat="91.5" lon="-79.9"><name>Oak</name></wpt>')
    assert 'longitude "-79.9", latitude "91.5", out of range' in one.fault
    with pytest.raises(BadMap, match=r'Oak: has longitude "-79.9", latitude "91.5"'):
        take(one, "stand")


@pytest.mark.parametrize("lat", ["", "north", "nan", "inf", "1_0", "1e999", "36.1N"])
def test_a_latitude_that_is_no_number(lat):
    one = only(f'<wpt lat="{lat}" lon="-79.9"/>')
    assert f'latitude "{lat}"' in one.fault


def test_bad_places_of_a_track_are_left_out_and_said():
    points = [
        'lat="36.0" lon="-79"',
        'lat="95" lon="-79"',
        'lat="0" lon="0"',
        'lat="0.0" lon="0.000"',
        'lat="36.1" lon="-79"',
    ]
    inner = "".join(f"<trkpt {point}/>" for point in points)
    one = only(f"<trk><name>Walk</name><trkseg>{inner}</trkseg></trk>")
    assert one.points == ((-79, 36.0), (-79, 36.1))
    assert one.fault == ""
    left, no_fix = one.notes
    assert left == '1 place with degrees out of range, as [["-79", "95"]], left out'
    assert no_fix == "2 places at 0, 0, which is no position fix, left out"


def test_longitudes_over_180_are_moved_and_said():
    one = only('<wpt lat="36.1" lon="280.1"><name>Oak</name></wpt>')
    assert one.points[0] == pytest.approx((-79.9, 36.1))
    assert "longitude over 180" in one.notes[0]


def test_decimal_commas_are_read_and_said():
    one = only('<wpt lat="36,1" lon="-79,9"><name>Oak</name></wpt>')
    assert one.points == ((-79.9, 36.1),)
    assert one.notes == ("1 place with decimal commas, read as points",)


@pytest.mark.parametrize(
    ("inner", "fault"),
    [
        ("<trk><name>T</name></trk>", "has no points"),
        ('<trk><name>T</name><trkseg><trkpt lat="36" lon="-79"/></trkseg></trk>', "1 points"),
        ("<trk><trkseg>" + '<trkpt lat="36" lon="-79"/>' * 9 + "</trkseg></trk>", "one place"),
        ('<wpt lat="0" lon="0"/>', "no position fix"),
    ],
)
def test_what_is_no_line_or_place(inner, fault):
    assert fault in only(inner).fault


# --- what is refused ---


def test_a_document_type_is_refused():
    bomb = b"""<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>
    <gpx><wpt lat="36" lon="-79"><name>&b;</name></wpt></gpx>"""
    assert "document type or entities" in refused(bomb).what
    outside = b'<?xml version="1.0"?><!DOCTYPE gpx SYSTEM "file:///etc/passwd"><gpx/>'
    assert "DTDForbidden" in refused(outside).what


@pytest.mark.parametrize(
    ("data", "seen"),
    [
        (gpx(ALL)[:300], "not XML at line"),
        (gpx("<wpt"), "not XML at line 2"),
        (gpx("<ns:x/>"), "unbound prefix"),
        (gpx("").replace(b"UTF-8", b"KLINGON"), "encoding"),
        (gpx(""), "no points, lines or areas"),
        (b"<html><body>Sign in</body></html>", 'XML of the kind "html"'),
        (b"Oak,36.1,-79.9\n", "starts with b'Oak,36.1,-79"),
        (b"", "starts with b''"),
    ],
)
def test_what_is_not_gpx(data, seen):
    assert seen in refused(data).what


def test_too_much_is_refused(monkeypatch):
    assert "5,001 things, over 5,000" in refused(gpx(WPT * 5001)).what
    assert "20,000,001 bytes, over" in refused(b"<" + b" " * 20_000_000).what
    assert items.MOST_PLACES == 500_000  # which take seconds to read
    monkeypatch.setattr(items, "MOST_PLACES", 5_000)
    point = '<trkpt lat="1" lon="1"/>'
    many = gpx("<trk><trkseg>" + point * 5_001 + "</trkseg></trk>")
    assert "5,001 places, over 5,000" in refused(many).what
    assert read_foreign(gpx("<trk><trkseg>" + point * 5_000 + "</trkseg></trk>"), "walk.gpx")


def test_deep_nesting_does_no_harm():
    deep = "<a>" * 50_000 + "</a>" * 50_000
    (one,) = read_foreign(gpx(deep + WPT), "walk.gpx")
    assert one.name == "Oak"


# --- a walked track ---


def walked(count: int) -> np.ndarray:
    """A walk of some 5 km, a fix every step, with the jitter of a handheld. Local metres."""
    random = np.random.default_rng(11)
    turn = np.cumsum(random.normal(0, 0.02, count))
    steps = 0.25 * np.column_stack([np.cos(turn), np.sin(turn)])
    jitter = np.cumsum(random.normal(0, 0.02, (count, 2)), axis=0)
    return np.cumsum(steps, axis=0) + jitter


def test_a_track_of_20000_points_becomes_a_lane_within_2_yards_of_it():
    local_m = walked(20_000)
    plane = Plane(g.CENTER)
    lon, lat = plane.to_lonlat(*local_m.T)
    points = "".join(f'<trkpt lat="{y:.7f}" lon="{x:.7f}"/>' for x, y in zip(lon, lat, strict=True))
    one = only(f"<trk><name>Walk</name><trkseg>{points}</trkseg></trk>")
    lane = take(one, "lane", stands=["oak"])
    places = np.array(lane["geometry"]["coordinates"])
    kept = shapely.LineString(plane.points(places))
    track = shapely.LineString(local_m)
    assert shapely.hausdorff_distance(track, kept, densify=0.2) <= 2 * M_PER_YD
    assert len(places) < 1000
    assert f"20,000 points became {len(places):,}, within 2 yd of them" in one.notes
    # the ends stay, so that a lane still starts at the truck
    assert places[0] == pytest.approx([lon[0], lat[0]], abs=1e-7)
    assert places[-1] == pytest.approx([lon[-1], lat[-1]], abs=1e-7)
    assert lane["properties"] == {"kind": "lane", "name": "Walk", "stands": ["oak"]}
    end_yd = local_m[-1] / M_PER_YD
    assert len(g.load(g.document(g.stand("oak", *end_yd), lane)).lanes) == 1


# --- out ---


def test_what_goes_out():
    document = g.whole_ground()
    document["features"][0]["properties"]["notes"] = "mind the <wire> & dog"
    root = ElementTree.fromstring(write_gpx(document))
    space = "{http://www.topografix.com/GPX/1/1}"
    assert root.attrib["version"] == "1.1"
    assert root.find(f"{space}metadata/{space}name").text == "Test ground"
    oak = root.find(f"{space}wpt")
    assert [child.tag.removeprefix(space) for child in oak] == ["name", "desc", "type"]
    assert [child.text for child in oak] == ["Oak", "mind the <wire> & dog", "stand"]
    assert (float(oak.get("lat")), float(oak.get("lon"))) == (36.1, -79.9)
    kinds = [trk.find(f"{space}type").text for trk in root.iter(f"{space}trk")]
    assert kinds == ["lane", "lane", "corridor", "bedding area", "food area", "boundary area"]


def test_any_name_goes_out_as_xml():
    for name in ("<img src=x onerror=alert(1)>", "a \"b\" 'c' &amp;", "nul\x00bell\x07", "鹿"):
        data = write_gpx(g.document(g.stand("oak", 0, 0, name=name), name=name))
        (one,) = read_foreign(data, "out.gpx")
        assert one.name == name.replace("\x00", "\ufffd").replace("\x07", "\ufffd")


def test_a_longitude_of_180_goes_out_as_the_schema_has_it():
    stand = g.stand("oak", 0, 0)
    stand["geometry"]["coordinates"] = [180, -17]
    assert b'lon="-180.000000000"' in write_gpx(g.document(stand))
