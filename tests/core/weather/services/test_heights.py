"""Heights in one press, against services on this machine; no live service was asked.

What they answer is as the design's sources and public programs tell it: ranges of tiles of one
degree, a picture of floats, 502 and a web page where something is wrong.
"""

import io
import json
from urllib.parse import parse_qs

import numpy as np
import pytest
from PIL import Image

from core.__main__ import main
from core.ground.store import demo_path, open_property, save_property
from core.land.cut import box_about
from core.land.kept import land_of, with_member
from core.weather.services.heights import NoHeights, box_sent, fetch_heights, said_before
from core.weather.services.sources import HEIGHTS_VARIABLE, Services
from tests.tiff_files import DEFLATE, LZW, geotiff
from tests.weather_server import PORTAL, Answer, WeatherServer

CELL = 1 / 10800
BOX = (-79.7031, 35.9182, -79.6712, 35.9441)  # within one tile
SENT = (-79.71, 35.91, -79.67, 35.95)
USGS = "/StagedProducts/Elevation/13/TIFF/current/n36w080/USGS_13_n36w080.tif"
IMAGE = "/arcgis/rest/services/3DEPElevation/ImageServer/exportImage"
COPERNICUS = (
    "/Copernicus_DSM_COG_10_N35_00_W080_00_DEM/Copernicus_DSM_COG_10_N35_00_W080_00_DEM.tif"
)
ABROAD = (10.503, 51.201, 10.521, 51.219)
OF_ABROAD = "/Copernicus_DSM_COG_10_N51_00_E010_00_DEM/Copernicus_DSM_COG_10_N51_00_E010_00_DEM.tif"


def tile(box, *, wide=CELL, high=CELL, shift=0.0, **told) -> bytes:
    """Heights on whole cells over a box and a little more, rising to the east."""
    west, south, east, north = box
    first, top = np.floor(west / wide) - 6, np.ceil(north / high) + 6
    columns, rows = int(np.ceil(east / wide) - first + 6), int(top - np.floor(south / high) + 6)
    height = 300.0 + 0.01 * np.arange(columns)[None, :] + 0.003 * np.arange(rows)[:, None]
    more = {
        33550: (12, [wide, high, 0.0]),
        33922: (12, [0.0, 0.0, 0.0, first * wide + shift, top * high, 0.0]),
    }
    usual = {"tile": 128, "pack": LZW, "predictor": 3, "no_data": -999999.0}
    return geotiff(height.astype("f4"), more=more, **(usual | told))


def shaded() -> bytes:
    """A picture of the hills instead of their heights."""
    told = io.BytesIO()
    Image.new("RGB", (432, 432), (90, 120, 90)).save(told, format="TIFF")
    return told.getvalue()


def in_ranges(server, data: bytes):
    """A file that is given in the ranges that are asked for."""

    def answer(_path: str) -> Answer:
        told = server.headers[-1].get("Range", "")
        first, last = (int(n) for n in told.removeprefix("bytes=").split("-"))
        piece = data[first : last + 1]
        told = f"bytes {first}-{first + len(piece) - 1}/{len(data)}"
        return Answer(piece, 206, {"Content-Range": told})

    return answer


@pytest.fixture
def server():
    running = WeatherServer()
    running.answers = {}
    running.answers[USGS] = in_ranges(running, tile(SENT))
    running.answers[IMAGE] = Answer(tile(SENT, tile=None, pack=DEFLATE))
    running.answers[COPERNICUS] = in_ranges(running, tile(SENT, wide=CELL * 3, high=CELL * 3))
    yield running
    running.stop()


def fetched(server, box=BOX, **limits):
    return fetch_heights(box, server.services(**limits))


def asked(server) -> list[str]:
    return [path.partition("?")[0] for path in server.seen]


# --- what is asked, and what leaves the machine ---


def test_a_box_is_rounded_outward():
    assert box_sent(BOX) == SENT
    assert box_sent((-80.0, 36.0, -79.99, 36.01)) == (-80.0, 36.0, -79.99, 36.01)
    assert box_sent((10.001, -33.879, 10.002, -33.871)) == (10.0, -33.88, 10.01, -33.87)


def test_ranges_of_one_tile_of_the_united_states(server):
    data = tile(SENT, pack=None, predictor=1)
    server.answers[USGS] = in_ranges(server, data)
    came = fetched(server)
    assert set(asked(server)) == {USGS}
    assert server.headers[0]["Range"] == "bytes=0-65535"
    assert len(server.seen) > 5
    assert all(h["Accept-Encoding"] == "identity" for h in server.headers)
    assert "79.7031" not in json.dumps(server.headers)
    assert (came.surface, came.source) == (
        "ground",
        "U.S. Geological Survey, 3D Elevation Program, USGS_13_n36w080.tif",
    )
    assert came.credit == "free of charge and without use restrictions"
    grid = came.grid
    assert grid.west_deg <= SENT[0] + CELL and grid.east_deg >= SENT[2] - CELL
    assert grid.unit == "meters"
    # 0.01 m higher with every cell to the east, 0.003 lower with every one to the north
    assert np.diff(grid.height, axis=1) == pytest.approx(0.01, abs=1e-4)
    assert np.diff(grid.height, axis=0) == pytest.approx(0.003, abs=1e-4)


def test_what_is_said_before(server):
    told = said_before(BOX)
    for word in (
        "35.91 to 35.95",
        "-79.71 to -79.67",
        "prd-tnm.s3.amazonaws.com",
        "elevation.nationalmap.gov",
        "copernicus-dem-30m.s3.amazonaws.com",
        "without use restrictions",
        "all rights reserved",
        "treetops",
    ):
        assert word in told
    abroad = said_before(ABROAD)
    assert "amazonaws.com (Copernicus" in abroad and "nationalmap" not in abroad
    assert server.seen == []


def test_a_ground_on_two_tiles(server):
    """The tiles overlap by six cells, as those of the survey do."""
    box = (-80.0101, 35.9182, -79.9899, 35.9441)
    server.answers[USGS.replace("080", "081")] = in_ranges(
        server, tile((-80.05, 35.91, -80.0, 35.95))
    )
    server.answers[USGS] = in_ranges(server, tile((-80.0, 35.91, -79.95, 35.95)))
    grid = fetched(server, box).grid
    assert grid.west_deg < box[0] and grid.east_deg > box[2]
    assert not np.isnan(grid.height).any()
    step = np.diff(grid.height, axis=1)[5]
    seam = np.abs(step - 0.01) > 1e-3
    assert seam.sum() == 1  # each of these made-up tiles counts its heights from its own edge
    at = grid.west_deg + (np.flatnonzero(seam)[0] + 0.5) * CELL
    assert at == pytest.approx(-80.0, abs=8 * CELL)


def test_elsewhere_copernicus_is_asked_alone(server):
    # past 50 degrees north its cells are 1.5 seconds wide
    server.answers[OF_ABROAD] = in_ranges(
        server, tile((10.5, 51.2, 10.53, 51.22), wide=CELL * 4.5, high=CELL * 3)
    )
    came = fetched(server, ABROAD)
    assert set(asked(server)) == {OF_ABROAD}
    assert came.surface == "treetops"
    assert "DLR" in came.credit


# --- what goes wrong ---


def test_a_service_that_sends_the_whole_of_a_small_file(server):
    server.answers[USGS] = Answer(tile(SENT))
    grid = fetched(server).grid
    assert np.diff(grid.height, axis=1) == pytest.approx(0.01, abs=1e-4)


def test_a_service_that_sends_the_whole_of_a_large_file(server):
    server.answers[USGS] = Answer(tile(SENT) + b"\0" * 11_000_000)
    assert fetched(server).source.endswith("its image service")


def test_no_tile_there_and_the_picture_that_is_asked_for(server):
    server.answers[USGS] = Answer(b"", 404)
    came = fetched(server)
    assert asked(server) == [USGS, IMAGE]
    query = parse_qs(server.seen[1].partition("?")[2])
    assert query["bbox"] == ["-79.71,35.91,-79.67,35.95"]
    assert query["size"] == ["432,432"]
    assert (query["format"], query["pixelType"]) == (["tiff"], ["F32"])
    assert query["adjustAspectRatio"] == ["false"]
    assert came.surface == "ground"


def test_a_wide_ground_asks_for_a_thousand_cells_a_side(server):
    server.answers[USGS] = Answer(b"", 404)
    with pytest.raises(NoHeights, match="not over the box"):
        fetched(server, (-79.9, 35.1, -79.7, 35.9))
    assert parse_qs(server.seen[-1].partition("?")[2])["size"] == ["1000,1000"]


def test_none_there_at_all_is_copernicus(server):
    empty = np.full((40, 40), -999999.0, "f4")
    server.answers[USGS] = Answer(b"", 403)
    server.answers[IMAGE] = Answer(geotiff(empty, no_data=-999999.0))
    came = fetched(server)
    assert (came.surface, asked(server)[:3]) == ("treetops", [USGS, IMAGE, COPERNICUS])
    server.answers[COPERNICUS] = Answer(b"", 404)
    with pytest.raises(NoHeights, match="no service has heights"):
        fetched(server)


def test_a_bad_gateway_is_tried_once_more(server):
    good = server.answers[USGS]
    tries = []

    def worse(path):
        tries.append(path)
        return Answer(b"", 502) if len(tries) == 1 else good(path)

    server.answers[USGS] = worse
    assert fetched(server).surface == "ground"
    assert len(tries) == 2


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (Answer(b"", 502), "it answers with error 502"),
        (Answer(PORTAL), "a web page came instead of a grid of heights"),
        (Answer(tile(SENT)[:4000], cut=True), "the answer was cut off"),
        (Answer(tile(SENT)[:4000]), "cut off|ends before|unpacked"),
        (Answer(tile(SENT, shift=2.0)), "lies elsewhere|not over the box"),
        (Answer(b"", drop=True), "can't be reached"),
        (Answer(np.zeros(9).tobytes()), "no TIFF|starts with"),
        (Answer(shaded()), "3 bands"),
    ],
    ids=["502", "portal", "cut", "short", "elsewhere", "dropped", "zeros", "shaded"],
)
def test_what_goes_wrong_at_both_is_told_of_each(server, answer, said):
    """Copernicus is not asked then: heights of the ground are there, and can be had later."""
    server.answers[USGS] = server.answers[IMAGE] = answer
    with pytest.raises(NoHeights, match=said) as fault:
        fetched(server)
    assert COPERNICUS not in asked(server)
    assert fault.value.what.count("127.0.0.1") == 2
    assert "file of your own" in fault.value.fix


def test_another_part_than_was_asked_for(server):
    data = tile(SENT)
    server.answers[USGS] = Answer(data[100:200], 206, {"Content-Range": "bytes 100-199/5000"})
    server.answers[IMAGE] = Answer(b"", 500)
    with pytest.raises(NoHeights, match="another part of the file"):
        fetched(server)


def test_an_answer_that_leads_to_another_host(server):
    server.answers[USGS] = Answer(b"", 302, {"Location": "https://example.test/x.tif"})
    server.answers[IMAGE] = Answer(b"", 500)
    with pytest.raises(NoHeights, match="leads elsewhere"):
        fetched(server)


def test_no_network():
    at = WeatherServer()
    at.stop()
    with pytest.raises(NoHeights, match="can't be reached"):
        fetch_heights(BOX, at.services())


def test_a_service_that_takes_too_long(server):
    server.answers[USGS] = server.answers[IMAGE] = Answer(b"II*\0" * 20, drip_s=0.05)
    with pytest.raises(NoHeights, match=r"in time|no answer within"):
        fetched(server, heights_limit_s=0.3)


# --- by the command line ---


@pytest.fixture
def own(tmp_path, monkeypatch, server):
    monkeypatch.setenv(HEIGHTS_VARIABLE, server.url)
    demo = open_property(demo_path())
    return save_property(demo, with_member(demo.document, None), tmp_path / "g.json", now_s=1)


def test_said_fetched_and_kept_with_its_credit(own, server, capsys):
    server.answers[USGS] = in_ranges(server, tile(box_sent(box_about(own.property))))
    assert main(["land", "--property", str(own.path), "--fetch"]) == 0
    told = capsys.readouterr().out
    assert told.index("rounded outward") < told.index("Heights: U.S. Geological Survey")
    kept, why = land_of(open_property(own.path))
    assert (why, kept.surface) == ("", "ground")
    assert kept.credit == "free of charge and without use restrictions"


def test_what_was_kept_stays_where_nothing_comes(own, server, capsys):
    server.answers = {}
    assert main(["land", "--property", str(own.path), "--fetch"]) == 2
    assert "no service has heights" in capsys.readouterr().err
    assert open_property(own.path).content_hash == own.content_hash
    assert main(["land", "--property", str(own.path), "--fetch", "--take-out"]) == 2


@pytest.mark.usefixtures("own")
def test_nothing_is_asked_for_a_ground_that_keeps_nothing(server, capsys):
    assert main(["land", "--fetch"]) == 2
    assert "of your own" in capsys.readouterr().err
    assert server.seen == []


def test_every_host_is_named_in_one_place():
    assert len(Services().bases) == len(set(Services().bases)) == 8
    assert all(url.startswith("https://") for url in Services().bases)
