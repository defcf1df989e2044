"""KML and KMZ in: places as map programs write them, and archives that want to burst."""

import io
import struct
import tracemalloc
import zipfile
import zlib

import pytest

from core.ground.exchange.files import BadMap, read_foreign, take


def kml(inner: str) -> bytes:
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">'
        f"<Document>{inner}</Document></kml>"
    ).encode()


def mark(name: str, inner: str) -> str:
    return f"<Placemark><name>{name}</name>{inner}</Placemark>"


def read(inner: str):
    return read_foreign(kml(inner), "places.kml")


def kmz(**files: bytes) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return stream.getvalue()


def refused(data: bytes) -> BadMap:
    with pytest.raises(BadMap) as caught:
        read_foreign(data, "places.kmz")
    assert caught.value.where == "places.kmz"
    assert caught.value.fix
    return caught.value


def ring(*places: str) -> str:
    return f"<LinearRing><coordinates>{' '.join(places)}</coordinates></LinearRing>"


POINT = "<Point><coordinates>-79.9,36.1,231</coordinates></Point>"
OUTER = ring("-79.9,36.1", "-79.8,36.1", "-79.8,36.2", "-79.9,36.2", "-79.9,36.1")
HOLE = ring("-79.87,36.13", "-79.83,36.13", "-79.83,36.17", "-79.87,36.17", "-79.87,36.13")
AREA = (
    f"<Polygon><outerBoundaryIs>{OUTER}</outerBoundaryIs>"
    f"<innerBoundaryIs>{HOLE}</innerBoundaryIs></Polygon>"
)
LINE = "<LineString><coordinates>\n -79.9,36.1,0\n\t-79.8,36.2,0 </coordinates></LineString>"


def test_points_lines_and_areas():
    point, line, area = read(mark("Oak", POINT) + mark("Way", LINE) + mark("Cane", AREA))
    assert (point.name, point.points) == ("Oak", ((-79.9, 36.1),))
    assert line.points == ((-79.9, 36.1), (-79.8, 36.2))
    assert len(area.points) == 4
    assert area.holes == (((-79.87, 36.13), (-79.83, 36.13), (-79.83, 36.17), (-79.87, 36.17)),)
    # the hole came counter-clockwise; it is taken clockwise
    taken = take(area, "bedding")["geometry"]["coordinates"]
    assert taken[1][:2] == [[-79.87, 36.13], [-79.87, 36.17]]


def test_folders_help_the_guess():
    inner = (
        f"<Folder><name>Stands</name>{mark('North', POINT)}"
        f"<Folder><name>Cameras</name>{mark('3', POINT)}</Folder></Folder>"
    )
    assert [one.kind for one in read(inner)] == ["stand", "camera"]


def test_several_shapes_in_one_become_several():
    parts = read(
        mark(
            "Oak",
            f"<MultiGeometry>{POINT}<MultiGeometry>{LINE}</MultiGeometry>{OUTER}</MultiGeometry>",
        )
    )
    assert [(p.name, p.shape) for p in parts] == [
        ("Oak, part 1", "Point"),
        ("Oak, part 2", "LineString"),
        ("Oak, part 3", "Polygon"),
    ]


def test_a_walked_track():
    coords = "<gx:coord>-79.9 36.1 0</gx:coord><when>2026-01-01</when><gx:coord>-79.8 36.2 0"
    (one,) = read(mark("Walk", f"<gx:Track>{coords}</gx:coord></gx:Track>"))
    assert one.points == ((-79.9, 36.1), (-79.8, 36.2))


def test_spaces_behind_commas_and_odd_case():
    inner = "<placemark><NAME>Oak</NAME><point><Coordinates>-79.9, 36.1, 0</Coordinates></point>"
    (one,) = read(f"{inner}</placemark>")
    assert (one.name, one.points) == ("Oak", ((-79.9, 36.1),))


def test_markup_in_a_description_is_taken_out():
    words = "&lt;b&gt;big&lt;/b&gt; oak &lt;script&gt;x&lt;/script&gt;"
    (one,) = read(mark("Oak", f"<description>{words}</description>{POINT}"))
    assert one.text == "big oak x"


def test_an_open_outline_is_closed_and_said():
    corners = "<coordinates>-79.9,36.1 -79.8,36.1 -79.8,36.2</coordinates>"
    (one,) = read(
        mark(
            "Cane",
            f"<Polygon><outerBoundaryIs><LinearRing>{corners}"
            "</LinearRing></outerBoundaryIs></Polygon>",
        )
    )
    assert len(one.points) == 3
    assert one.notes == ("its outline was open and was closed",)


@pytest.mark.parametrize(
    ("inner", "fault"),
    [
        (mark("X", ""), "no shape"),
        (mark("X", "<Model/>"), "no shape"),
        (mark("X", "<Polygon/>"), "no shape"),
        (mark("X", "<Point/>"), "has no points"),
        (mark("X", "<Point><coordinates>-79.9</coordinates></Point>"), 'latitude ""'),
        (
            mark(
                "X",
                f"<Polygon><outerBoundaryIs>{ring('0,1', '1,1', '0,1')}</outerBoundaryIs>"
                "</Polygon>",
            ),
            "2 corners",
        ),
        (mark("X", ring("0,1", "1,2", "1,1", "0,2", "0,1")), "crosses itself near [0.5"),
    ],
)
def test_what_cannot_be_taken_says_why(inner, fault):
    (one,) = read(inner)
    assert fault in one.fault


def test_an_empty_file_says_so():
    with pytest.raises(BadMap, match="no points, lines or areas"):
        read("<NetworkLink><Link><href>http://example.com</href></Link></NetworkLink>")


def test_deep_folders_do_no_harm():
    deep = "<Folder>" * 20_000 + mark("Oak", POINT) + "</Folder>" * 20_000
    assert [one.name for one in read(deep)] == ["Oak"]


# --- archives ---


def test_a_kmz_with_pictures():
    data = kmz(**{"doc.kml": kml(mark("Oak", POINT)), "files/icon.png": b"\x89PNG"})
    assert [one.name for one in read_foreign(data, "places.kmz")] == ["Oak"]


def test_all_kml_files_of_a_kmz_are_read():
    data = kmz(**{"a.kml": kml(mark("Oak", POINT)), "sub/b.KML": kml(mark("Way", LINE))})
    assert [one.name for one in read_foreign(data, "places.kmz")] == ["Oak", "Way"]


def test_a_kmz_without_kml():
    assert "no .kml file" in refused(kmz(**{"notes.txt": b"hello"})).what


def test_an_archive_that_bursts_is_refused_before_it_is_unpacked():
    bomb = kmz(**{"doc.kml": b" " * 30_000_000})
    assert len(bomb) < 100_000
    assert "unpacks to 30,000,000 bytes, over 20,000,000" in refused(bomb).what
    beside = kmz(**{"doc.kml": kml(mark("Oak", POINT)), "x.png": bytes(60_000_000)})
    assert "bytes, over 50,000,000" in refused(beside).what


def test_an_archive_that_lies_about_its_size_is_refused():
    data = bytearray(kmz(**{"doc.kml": b" " * 5_000_000}))
    directory = data.rindex(b"PK\x01\x02")
    data[directory + 24 : directory + 28] = struct.pack("<I", 1000)
    assert "cannot be unpacked" in refused(bytes(data)).what


def test_an_archive_that_lies_does_not_fill_the_memory():
    data = bytearray(kmz(**{"doc.kml": b" " * 60_000_000}))
    directory = data.rindex(b"PK\x01\x02")
    data[directory + 24 : directory + 28] = struct.pack("<I", 1000)
    tracemalloc.start()
    try:
        refused(bytes(data))
        assert tracemalloc.get_traced_memory()[1] < 5_000_000
    finally:
        tracemalloc.stop()


def test_too_many_files_are_refused():
    many = {f"{n}.png": b"" for n in range(1001)}
    assert "1,001 files, over 1,000" in refused(kmz(**many)).what


@pytest.mark.parametrize("name", ["../doc.kml", "/doc.kml", "C:\\doc.kml", "a/../../doc.kml"])
def test_paths_out_of_the_archive_are_refused(name):
    error = refused(kmz(**{name: kml(mark("Oak", POINT))}))
    assert "a path out of it" in error.what
    assert "doc.kml" in error.what


def test_odd_packing_is_refused():
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_LZMA) as archive:
        archive.writestr("doc.kml", kml(mark("Oak", POINT)))
    assert "packs by method 14" in refused(stream.getvalue()).what


@pytest.mark.parametrize("cut", [60, 200])
def test_half_an_archive_is_refused(cut):
    assert "cannot be unpacked" in refused(kmz(**{"doc.kml": kml(mark("Oak", POINT))})[:cut]).what


def test_a_locked_archive_is_refused():
    data = bytearray(kmz(**{"doc.kml": kml(mark("Oak", POINT))}))
    for start, at in ((data.index(b"PK\x03\x04"), 6), (data.rindex(b"PK\x01\x02"), 8)):
        data[start + at] |= 1  # the flag for "encrypted"
    assert "cannot be unpacked" in refused(bytes(data)).what


def test_spoiled_packing_is_refused():
    whole = kml(mark("Oak", POINT) * 50)
    data = kmz(**{"doc.kml": whole})
    packed = zlib.compress(whole)[2:12]
    assert packed[:4] in data
    assert "cannot be unpacked" in refused(data.replace(packed[:4], b"\xff\xff\xff\xff", 1)).what


def test_a_document_type_in_a_kmz_is_refused():
    bomb = b'<!DOCTYPE kml [<!ENTITY a "ha">]><kml>&a;</kml>'
    assert "document type" in refused(kmz(**{"doc.kml": bomb})).what


def test_the_picture_of_a_style_is_the_symbol():
    """By the style that a mark names, by a map of styles, and by one of its own; [kml22]."""

    def style(id_, picture):
        href = f"<IconStyle><Icon><href>https://a.example/{picture}</href></Icon></IconStyle>"
        return f'<Style id="{id_}">{href}</Style>'

    def pointed(name, id_, inner=""):
        return mark(name, f"<styleUrl>#{id_}</styleUrl>{inner}{POINT}")

    pair = "<Pair><key>normal</key><styleUrl>#s1</styleUrl></Pair>"
    other = "<Pair><key>highlight</key><styleUrl>#s2</styleUrl></Pair>"
    found = read(
        style("s1", "shapes/parking_lot.png")
        + style("s2", "star.png?scale=2")
        + f'<StyleMap id="m1">{other}{pair}</StyleMap>'
        + pointed("A", "m1")
        + pointed("B", "s2")
        + pointed("C", "s2", style("", "camera.png"))
        + pointed("D", "placemark-7")
    )
    assert [one.symbol for one in found] == ["parking_lot", "star", "camera", "placemark-7"]
    assert [one.kind for one in found] == ["truck", "", "camera", ""]
