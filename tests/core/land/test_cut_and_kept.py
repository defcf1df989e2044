"""Heights cut to a ground, kept beside it, and found again or told to be gone."""

import dataclasses
import json
import re

import numpy as np
import pytest

from core.__main__ import main
from core.criticism.whole_ground import review
from core.errors import BadProperty
from core.ground.heights.elevation_file import read_elevation
from core.ground.heights.grid import METERS, BadElevation, HeightGrid
from core.ground.heights.slope_at import slope_at
from core.ground.heights.utm import to_utm
from core.ground.plan import Plane
from core.ground.store import demo_path, open_property, open_version, save_property
from core.land import kept as keeping
from core.land.cut import as_feet, cut_to, feet_question
from core.land.derived import follows_the_ground, land_on
from core.land.kept import land_of, tiff, with_member
from core.say.land import disagreements, land_lines
from core.sit.scene import Scene

NOW_S = 1_790_000_000


@pytest.fixture
def own(tmp_path):
    """A copy of the demo's ground in a file of its own, without heights."""
    demo = open_property(demo_path())
    return save_property(demo, with_member(demo.document, None), tmp_path / "g.json", now_s=NOW_S)


@pytest.fixture
def small(own):
    """One with four of its stands only: a grid about them is a third of its size."""
    near = ("dry-fork", "plum-edge", "oats-box", "split-oak")
    features = [f for f in own.document["features"] if f["id"] in near]
    return save_property(own, {**own.document, "features": features}, now_s=NOW_S)


def plane_grid(ground, *, downhill_deg=255.0, grade=0.08, cell_m=10.0, reach_m=2500.0):
    """An evenly tilted grid about a ground."""
    plane, n = Plane(ground.center), int(reach_m / cell_m)
    at = (np.arange(2 * n + 1) - n) * cell_m
    east, north = at[None, :], -at[:, None]
    turn = np.radians(downhill_deg)
    height = 300.0 - grade * (np.sin(turn) * east + np.cos(turn) * north)
    lon, lat = plane.to_lonlat(-n * cell_m, n * cell_m)
    cells = cell_m / plane.m_per_lon_deg, cell_m / plane.m_per_lat_deg
    return HeightGrid(height, float(lon), float(lat), *cells, METERS)


def test_a_grid_comes_back_bit_for_bit(own):
    grid, _ = cut_to(plane_grid(own.property), own.property, "hill.tif")
    again = read_elevation(tiff(grid), "x.tif", None)
    assert (again.height == grid.height.astype("f4")).all()
    assert again.west_deg == pytest.approx(grid.west_deg, abs=1e-12)
    assert again.north_deg == pytest.approx(grid.north_deg, abs=1e-12)
    assert again.unit == METERS


def test_kept_found_and_taken_out(own):
    grid, notes = cut_to(plane_grid(own.property), own.property, "hill.tif")
    assert notes == []
    saved = keeping.keep_land(own, grid, source="mine", surface="ground", now_s=NOW_S)
    kept, why = land_of(open_property(saved.path))
    assert (why, kept.source, kept.surface, kept.use) == ("", "mine", "ground", True)
    assert (kept.grid.height == grid.height.astype("f4")).all()
    out = save_property(saved, with_member(saved.document, None), now_s=NOW_S)
    assert land_of(out) == (None, "")
    # an earlier version finds its own heights again
    assert land_of(open_version(saved.path, 2))[0] is not None


def test_heights_that_are_gone_changed_or_odd_are_told(own):
    grid, _ = cut_to(plane_grid(own.property), own.property, "hill.tif")
    saved = keeping.keep_land(own, grid, source="mine", surface="ground", now_s=NOW_S)
    place = saved.path.with_name(saved.document["property"]["land"]["file"])
    data = place.read_bytes()
    place.write_bytes(data[:-1] + b"x")
    assert "changed since" in land_of(saved)[1]
    place.unlink()
    assert "gone" in land_of(saved)[1]
    for member in ([1], {"file": "../../x.tif", "sha256": "0"}, {"file": 3}, "land.tif"):
        odd = with_member(saved.document, member)
        assert "not understood" in land_of(dataclasses.replace(saved, document=odd))[1]


def test_only_a_ground_of_ones_own_keeps_heights():
    demo = open_property(demo_path())
    grid, _ = cut_to(plane_grid(demo.property), demo.property, "hill.tif")
    with pytest.raises(BadProperty, match="of your own"):
        keeping.keep_land(demo, grid, source="", surface="ground", now_s=NOW_S)


def test_a_kill_between_the_two_writes_leaves_the_ground_as_it_was(own, monkeypatch):
    grid, _ = cut_to(plane_grid(own.property), own.property, "hill.tif")

    def killed(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr(keeping, "save_property", killed)
    with pytest.raises(KeyboardInterrupt):
        keeping.keep_land(own, grid, source="mine", surface="ground", now_s=NOW_S)
    assert open_property(own.path).content_hash == own.content_hash


def test_the_cut_reaches_a_kilometer_past_every_feature(own):
    grid, _ = cut_to(plane_grid(own.property, cell_m=2.0), own.property, "fine.tif")
    plane = Plane(own.property.center)
    # 2 m cells are averaged to 10 m: a plane stays a plane
    assert grid.cell_lat_deg * plane.m_per_lat_deg == pytest.approx(10.0, rel=1e-3)
    rise = np.diff(grid.height, axis=1) / 10.0
    assert rise == pytest.approx(-0.08 * np.sin(np.radians(255.0)), abs=1e-6)
    stands = plane.points([s.at for s in own.property.stands])
    west, _ = plane.to_local(grid.west_deg, grid.north_deg)
    assert float(west) <= stands[:, 0].min() - 990.0


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"cell_m": 40.0}, "over 30"),
        ({"reach_m": 300.0}, "ends inside the ground"),
    ],
)
def test_grids_that_do_not_serve(own, change, said):
    with pytest.raises(BadElevation, match=said):
        cut_to(plane_grid(own.property, **change), own.property, "hill.tif")


def test_another_place_and_no_heights(own):
    grid = plane_grid(own.property)
    away = dataclasses.replace(grid, west_deg=grid.west_deg + 3.0)
    with pytest.raises(BadElevation, match="elsewhere"):
        cut_to(away, own.property, "hill.tif")
    empty = np.where(np.arange(grid.height.shape[1]) % 4 > 0, np.nan, grid.height)
    with pytest.raises(BadElevation, match="no height"):
        cut_to(dataclasses.replace(grid, height=empty), own.property, "hill.tif")


def test_a_short_grid_and_holes_are_said(own):
    grid = plane_grid(own.property)
    height = grid.height.copy()
    height[100:110, 100:110] = np.nan
    plane = Plane(own.property.center)
    stands = plane.points([s.at for s in own.property.stands])
    _, notes = cut_to(dataclasses.replace(grid, height=height), own.property, "hill.tif")
    assert [n for n in notes if "no height" in n] or np.isfinite(height).all()
    # 300 m past the farthest feature
    from core.land.cut import named_points

    far = np.abs(plane.points([p for _, p in named_points(own.property)])).max()
    assert far > np.abs(stands).max() - 1
    short = plane_grid(own.property, reach_m=float(far) + 300.0)
    notes = cut_to(short, own.property, "hill.tif")[1]
    assert any("The grid stops" in note for note in notes)


def test_feet_read_as_meters_are_asked_about(own):
    """A hill whose heights are 3.28 times too high, about stands that have typed slopes."""
    stands = [
        dataclasses.replace(s, downhill_deg=255.0, grade_pct=8.0) for s in own.property.stands
    ]
    ground = dataclasses.replace(own.property, stands=tuple(stands))
    assert feet_question(plane_grid(ground), ground) == ""
    steep = plane_grid(ground, grade=0.08 * 3.2808)
    assert feet_question(steep, ground).startswith("Feet for meters?")
    assert feet_question(as_feet(steep), ground) == ""


def test_feet_by_the_command_line_are_asked_about(small, tmp_path, capsys):
    """The file says meters, and holds the demo's heights in feet."""
    demo = land_of(open_property(demo_path()))[0].grid
    place = tmp_path / "feet.tif"
    place.write_bytes(tiff(dataclasses.replace(demo, height=demo.height / 0.3048)))
    words = ["land", "--property", str(small.path), "--use", str(place)]
    assert main(words) == 2
    assert "Feet for meters?" in capsys.readouterr().err
    assert open_property(small.path).content_hash == small.content_hash
    assert main([*words, "--unit", "feet"]) == 0
    kept = land_of(open_property(small.path))[0].grid
    assert np.nanmean(kept.height) == pytest.approx(np.nanmean(demo.height), rel=0.1)
    assert main([*words, "--unit", "meters"]) == 0
    assert "Feet for meters?" in capsys.readouterr().out


def test_treetops_are_followed_only_where_all_is_open(own):
    kept = keeping.KeptLand(plane_grid(own.property), "", "", "treetops", "", "0" * 64, True)
    assert not follows_the_ground(kept, own.property)
    opened = dataclasses.replace(
        own.property,
        stands=tuple(dataclasses.replace(s, cover="open") for s in own.property.stands),
    )
    assert follows_the_ground(kept, opened)
    assert not follows_the_ground(dataclasses.replace(kept, use=False), opened)


def test_an_evenly_tilted_ground_leads_straight(own):
    kept = keeping.KeptLand(
        plane_grid(own.property, reach_m=1200.0), "", "", "ground", "", "1" * 64, True
    )
    land = land_on(kept, own.property)
    assert not land.pool.any()
    for way in land.ways_down(own.property.stands[0].at):
        step = way.points_m[-1] - way.points_m[0]
        assert np.degrees(np.arctan2(*step)) % 360 == pytest.approx(255.0, abs=0.01)
    stand = dataclasses.replace(own.property.stands[0], downhill_deg=80.0, grade_pct=8.0)
    assert "the heights say down to the WSW" in next(disagreements(kept, stand))


def test_the_demo_has_heights_that_agree_with_its_slopes():
    demo = open_property(demo_path())
    kept, why = land_of(demo)
    assert why == ""
    assert not any(line for s in demo.property.stands for line in disagreements(kept, s))
    lines = land_lines(demo)
    assert len(lines) == 1 + len(demo.property.stands) + 3
    assert any("turns along Bent Nail Branch" in line for line in lines)


def test_by_the_command_line(small, tmp_path, capsys):
    place = tmp_path / "hill.tif"
    place.write_bytes(tiff(plane_grid(small.property)))
    words = ["land", "--property", str(small.path)]
    assert main([*words, "--use", str(place), "--source", "county", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["land"]["source"] == "county"
    assert told["stands"][0]["toward_deg"] == 255
    assert main([*words, "--take-out"]) == 0
    assert main(words) == 0
    assert "No heights are kept" in capsys.readouterr().out
    assert main([*words, "--use", str(tmp_path / "none.tif")]) == 2
    capsys.readouterr()
    assert main([*words, "--use", "/dev/zero"]) == 2  # it never ends
    assert "over 100 MB" in capsys.readouterr().err


def test_a_text_grid_in_meters_by_the_command_line(small, tmp_path, capsys):
    """The zone is asked; one that is not the ground's leaves everything as it was."""
    east, north = to_utm(*small.property.center, 17)
    n, cell = 180, 20.0
    rise = np.arange(n) * cell * 0.08
    rows = "\n".join(" ".join(f"{300 + z:.2f}" for z in rise) for _ in range(n))
    head = f"ncols {n}\nnrows {n}\nxllcorner {float(east) - n * cell / 2}\n"
    place = tmp_path / "hill.asc"
    place.write_text(
        f"{head}yllcorner {float(north) - n * cell / 2}\ncellsize {cell}\n{rows}\n", "ascii"
    )
    words = ["land", "--property", str(small.path), "--use", str(place)]
    assert main([*words, "--unit", "meters"]) == 2
    assert "--zone 17N" in capsys.readouterr().err
    assert main([*words, "--unit", "meters", "--zone", "18N"]) == 2
    assert "read as UTM zone 18N, lies elsewhere" in capsys.readouterr().err
    assert open_property(small.path).content_hash == small.content_hash
    assert main([*words, "--zone", "17N"]) == 2
    assert "--unit meters" in capsys.readouterr().err
    assert main([*words, "--unit", "meters", "--zone", "17N"]) == 0
    assert "hill.asc" in capsys.readouterr().out
    slope = slope_at(land_of(open_property(small.path))[0].grid, small.property.center)
    assert slope.grade_pct == pytest.approx(8.0, abs=0.05)  # 0.9996 of the zone's scale
    # north of the zone lies to the right of true north there: tan(turn) = tan(lon - lon0) sin(lat)
    lon, lat = np.radians(small.property.center)
    turn = np.degrees(np.arctan(np.tan(lon + np.radians(81.0)) * np.sin(lat)))
    assert slope.downhill_deg == pytest.approx(270.0 + turn, abs=0.05)


def test_a_wall_upwind_is_told_by_its_winds(small, tmp_path, capsys):
    """A fall of 40 m, 60 m to the west of the first stand: winds about west, told by command."""
    stand = small.property.stands[0]
    plane, n = Plane(small.property.center), 250
    at_m = plane.points([stand.at])[0]
    east = (np.arange(2 * n + 1) - n) * 10.0
    height = np.broadcast_to(np.where(east <= at_m[0] - 60.0, 340.0, 300.0), (501, 501))
    lon, lat = plane.to_lonlat(-n * 10.0, n * 10.0)
    cells = 10.0 / plane.m_per_lon_deg, 10.0 / plane.m_per_lat_deg
    place = tmp_path / "wall.tif"
    place.write_bytes(tiff(HeightGrid(height, float(lon), float(lat), *cells, METERS)))
    assert main(["land", "--property", str(small.path), "--use", str(place)]) == 0
    line = next(
        x for x in capsys.readouterr().out.splitlines() if "steep fall" in x and stand.name in x
    )
    a, b = (int(x) for x in re.findall(r"(\d+)°", line))
    # the wall is a straight one: as far on either side of west
    assert (a + b) / 2 == pytest.approx(270, abs=3)
    assert 30 <= b - a < 180


def test_the_criticism_names_a_typed_slope_that_the_heights_do_not_show(own):
    """The heights fall to 255 degrees everywhere."""
    kept = keeping.KeptLand(plane_grid(own.property), "", "", "ground", "", "2" * 64, True)
    slopes = {"spring": (255.0, 8.0), "dry-fork": (299.0, 8.0), "three-ash": (301.0, 8.0)}
    stands = tuple(
        dataclasses.replace(s, downhill_deg=slopes[s.id][0], grade_pct=slopes[s.id][1])
        if s.id in slopes
        else dataclasses.replace(s, downhill_deg=None, grade_pct=None)
        for s in own.property.stands
    )
    ground = dataclasses.replace(own.property, stands=stands)

    def odd(heights):
        return [f for f in review(Scene(ground, heights)) if f.code == "stand-slope-odd"]

    (found,) = odd(kept)
    assert (found.id, round(found.value)) == ("three-ash", 46)
    assert "typed down to the WNW (301°), 8 %" in found.text
    assert "the heights say down to the WSW (255°), 8 %" in found.text
    assert odd(None) == []
    assert odd(dataclasses.replace(kept, use=False)) == []
    assert odd(dataclasses.replace(kept, surface="treetops")) == []
    level = plane_grid(own.property, grade=0.004)
    assert len(odd(dataclasses.replace(kept, grid=level))) == 3  # under 1 %: level
