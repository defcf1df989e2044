"""Holes, stands that alone serve, the smallest set, and the next stand."""

import dataclasses
import itertools

import numpy as np
import pytest
import shapely

from core.angles import mean_direction_deg
from core.ground.layout import Season, Stand, Wanted
from core.ground.store import demo_path, open_property
from core.say.season.tables import season_dict
from core.say.season.words import watch_words
from core.season.gaps import fewest, holes, only_stand_sits, sit_winds, smallest_set
from core.season.next_stand import (
    APART_M,
    Tries,
    next_stands,
    some_sits,
    with_spots,
)
from core.season.report import season_report, watch_seats
from core.season.review import judge_season
from core.season.spot_place import spot_words
from core.season.spots import Spot, spots_for
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.files.typical import typical_year
from core.weather.hours import make_hours
from tests.core.sit.test_land_air import tilted
from tests.grounds import PIEDMONT, at, bed, corridor, ground, lane
from tests.years import laid_over


def serves_at_least(go, columns, keep) -> bool:
    whole = go.any(axis=1).sum()
    return go[:, list(columns)].any(axis=1).sum() >= keep * whole - 1e-9


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("keep", [0.95, 0.8])
def test_fewest_is_what_trying_every_set_finds(seed, keep):
    rng = np.random.default_rng(seed)
    go = rng.random((60, 7)) < rng.uniform(0.1, 0.5, 7)
    picked = np.flatnonzero(fewest(go, keep))
    size = next(
        n
        for n in range(8)
        if any(serves_at_least(go, c, keep) for c in itertools.combinations(range(7), n))
    )
    assert len(picked) == size
    most = max(go[:, list(c)].any(axis=1).sum() for c in itertools.combinations(range(7), size))
    assert go[:, picked].any(axis=1).sum() == most


def test_no_stand_ever_go_needs_no_stand():
    assert not fewest(np.zeros((5, 3), bool), 0.95).any()


# --- a season of made winds: a week of each of four winds and of calm ---

SEASON = Season("bow", "11-01", "11-28")


def made_winds(by_week, mph=10.0):
    """Hours of 28 days of November; None for a calm week."""
    start = int(np.datetime64("2026-11-01T00", "s").astype(int))
    week = np.arange(28 * 24 + 24) // (7 * 24) % len(by_week)
    degrees = np.array([np.nan if d is None else d for d in by_week], float)[week]
    return make_hours(
        start_s=start + 3600 * np.arange(len(week)),
        wind_from_deg=degrees,
        half_width_deg=5.0,
        speed_mps=np.where(np.isnan(degrees), 0.0, mph * MPS_PER_MPH),
        cloud_frac=0.5,
        kind="measured",
    )


def two_stands(**more):
    """Oak north of the bed, Elm south of it: each bad in one wind."""
    stands = (
        Stand("oak", "Oak", at(PIEDMONT, 0, 100), cover="open"),
        Stand("elm", "Elm", at(PIEDMONT, 180, 100), cover="open"),
    )
    lanes = (
        lane(PIEDMONT, (0, 700), (0, 105), id_="north", stands=("oak",)),
        lane(PIEDMONT, (180, 700), (180, 105), id_="south", stands=("elm",)),
    )
    kept = {"areas": (bed(PIEDMONT, 0, 0, held="always"),), "seasons": (SEASON,), **more}
    return ground(stands=stands, lanes=lanes, **kept)


def test_holes_and_only_stands_of_made_winds():
    answer = judge_season(Scene(two_stands()), made_winds([0.0, 180.0, 90.0, None]))
    assert answer.n_sits == 56
    # a north wind carries Oak's air over the bed, a south wind Elm's; an east wind leaves
    # both, calm leaves none
    assert only_stand_sits(answer).tolist() == pytest.approx([14, 14], abs=1)
    direction, speed = sit_winds(answer)
    north, east = np.abs(direction) < 1e-6, np.abs(direction - 90.0) < 1e-6
    assert answer.go[east].all() and east.sum() > 10
    assert north.sum() == pytest.approx(14, abs=1)
    assert answer.go[north, 1].all() and not answer.go[north, 0].any()
    assert np.nanmedian(speed) == pytest.approx(10.0 * MPS_PER_MPH)
    assert smallest_set(answer) == ["oak", "elm"]
    rows = holes(answer)
    assert {hole.sit for hole in rows} == {"morning", "evening"}
    assert all(hole.from_deg is None and hole.low_mph is None for hole in rows)
    assert sum(hole.sits_lost for hole in rows) == pytest.approx(14, abs=2)


def test_a_wind_that_leaves_no_stand_is_named():
    prop = two_stands()
    shut = dataclasses.replace(prop.stands[1], closed=True)
    prop = dataclasses.replace(prop, stands=(prop.stands[0], shut))
    answer = judge_season(Scene(prop), made_winds([0.0, 180.0]))
    worst = holes(answer)[0]
    assert (worst.from_deg, worst.to_deg) == (348.75, 11.25)
    assert (worst.low_mph, worst.high_mph) == (8.0, 13.0)
    assert sum(hole.sits_lost for hole in holes(answer)) == pytest.approx(28, abs=2)


def test_a_seat_to_watch_from_fills_no_hole():
    prop = two_stands()
    watched = dataclasses.replace(prop.stands[1], wanted=Wanted("watch", None))
    prop = dataclasses.replace(prop, stands=(prop.stands[0], watched))
    answer = judge_season(Scene(prop), made_winds([0.0, 180.0]))
    # Elm is go in the north wind, but of a morning the owner only watches there
    sits = {hole.sit: hole.sits_lost for hole in holes(answer)}
    assert sits == {"morning": pytest.approx(14, abs=1)}
    assert only_stand_sits(answer).tolist() == pytest.approx([28, 14], abs=2)
    assert answer.go[:, 1].sum() == pytest.approx(28, abs=2)
    assert watch_seats(answer) == []
    both = dataclasses.replace(watched, wanted=Wanted("watch", "watch"))
    prop = dataclasses.replace(prop, stands=(prop.stands[0], both))
    answer = judge_season(Scene(prop), made_winds([0.0, 180.0]))
    assert watch_seats(answer) == ["elm"]
    assert smallest_set(answer) == ["oak"]
    assert any("Elm" in line for line in watch_words(season_report(answer)))


def test_mean_wind_of_a_sit_is_the_unit_vector_mean():
    answer = judge_season(Scene(two_stands()), typical_year())
    direction, _ = sit_winds(answer)
    sits = answer.reviews[0].sits
    for i in (0, 9, 20, 27):
        inside = sits.clock.rows.minutes[i] > 0
        wind = sits.judged.by_sit(sits.judged.hours.weather.wind_from_deg)[i, inside]
        if (~np.isnan(wind)).sum() * 2 > inside.sum():
            assert direction[i] == pytest.approx(mean_direction_deg(wind), abs=1e-6)
        else:
            assert np.isnan(direction[i])


# --- the next stand ---


def trails(prop):
    """The same ground with a trail right and left of the bed, and a lane to each."""
    east = corridor(PIEDMONT, (75, 150), (105, 150), id_="east")
    west = corridor(PIEDMONT, (285, 150), (255, 150), id_="west")
    return dataclasses.replace(prop, corridors=(east, west))


def test_spots_keep_off_beds_and_are_reached_past_them():
    scene = Scene(open_property(demo_path()).property)
    spots = list(spots_for(scene))
    assert len(spots) > 50
    beds = shapely.unary_union(
        [p for a, p in zip(scene.areas, scene.polygons, strict=True) if a.kind == "bedding"]
    )
    for spot in spots:
        point = shapely.Point(spot.at_m)
        assert not beds.covers(point)
        off = scene.corridor_lines[spot.corridor].distance(point) / M_PER_YD
        assert off <= 25.0 + 1e-6
        end = shapely.shortest_line(scene.lane_lines[spot.lane], point)
        assert end.length == pytest.approx(spot.cut_m)
        assert not end.intersects(beds)


def test_no_spot_is_given_near_a_bed_or_a_seat_that_is_there():
    prop = open_property(demo_path()).property
    scene = Scene(prop)
    beds = shapely.unary_union(list(scene.beds))
    spots = list(spots_for(scene, clear=True))
    assert len(spots) > 10
    for spot in spots:
        assert beds.distance(shapely.Point(spot.at_m)) >= 60 * M_PER_YD - 0.1
        # a ring of straight pieces lies a little inside its circle
        assert np.hypot(*(scene.stands_m - spot.at_m).T).min() >= 59.5 * M_PER_YD
    off = dataclasses.replace(prop.sit, spot_off_bed_yd=0.0, spot_off_seat_yd=0.0)
    free = list(spots_for(Scene(dataclasses.replace(prop, sit=off)), clear=True))
    assert len(free) == len(list(spots_for(scene)))


def test_a_spot_is_told_by_what_is_known_there():
    """Two lines that cross 100 yd east of the middle: a spot 30 yd north of that."""
    way = lane(PIEDMONT, (90, 200), (90, 20), id_="briar cut")
    trail = corridor(PIEDMONT, (45, 141.4), (135, 141.4), id_="fence run")
    scene = Scene(ground(lanes=(way,), corridors=(trail,)))
    told = spot_words(scene, np.array([100.0, 30.0]) * M_PER_YD)
    assert told == "30 yd N of where Fence Run meets Briar Cut"
    assert spot_words(scene, np.array([100.0, 1.0]) * M_PER_YD).startswith("at where")


def test_a_hole_is_filled_and_each_spot_adds_what_it_says():
    prop = trails(two_stands())
    shut = tuple(dataclasses.replace(s, closed=True) for s in prop.stands)
    answer = judge_season(
        Scene(dataclasses.replace(prop, stands=shut)), made_winds([90.0, 270.0, None])
    )
    assert not answer.go.any()
    found = next_stands(answer)
    assert 2 <= len(found) <= 10
    adds = [f.adds_sits for f in found]
    assert adds == sorted(adds, reverse=True) and min(adds) > 0
    assert {found[0].corridor, found[1].corridor} == {"east", "west"}
    assert adds == [28, 14]  # two weeks of east wind, one of west; the calm week stays
    assert found[0].adds_share == pytest.approx(adds[0] / 56)
    (told,) = season_dict(season_report(answer, found[:1]))["candidates"]
    assert told["adds_share"] == pytest.approx(adds[0] / 56, abs=1e-3)
    assert "a tree may not stand there" in told["why"]


def test_greedy_takes_the_best_of_all_spots_and_keeps_them_apart():
    answer = judge_season(Scene(trails(two_stands())), made_winds([90.0, 270.0, 0.0, 180.0]))
    bare = dataclasses.replace(answer, reviews=tuple(_none_go(h) for h in answer.reviews))
    spots = list(spots_for(bare.scene))
    tries = Tries(bare, with_spots(bare.scene, spots))
    every = np.stack([tries.go(i) for i in range(len(spots))], axis=1)
    assert (every <= tries.by_air).all()  # walks never add
    found = next_stands(bare)
    assert found[0].adds_sits >= every.sum(axis=0).max()
    places = np.array([bare.scene.plane.to_local(*f.lonlat) for f in found])
    gaps = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
    assert gaps[~np.eye(len(found), dtype=bool)].min() >= APART_M - 1e-3


def _none_go(review):
    by_stand = tuple(
        dataclasses.replace(s, group=np.full_like(s.group, GO + 2)) for s in review.by_stand
    )
    return dataclasses.replace(review, by_stand=by_stand)


def told_spots(monkeypatch, scene, adds):
    """Spots that add what is told: (yards along a trail to the east, yards off it): sits."""

    class Told(Tries):
        def __init__(self, _, ground, *__):
            places = [np.array(scene.plane.to_local(*s.at)) / M_PER_YD for s in ground.stands]
            columns = [np.isin(np.arange(56), adds[tuple(np.rint(p).astype(int))]) for p in places]
            self.by_air, self.picked = np.stack(columns, axis=1), np.arange(56)

        def go(self, index):
            return self.by_air[:, index]

    def spots(_, off_m=20.0 * M_PER_YD, _corridor=None, **_more):
        off_yd = round(off_m / M_PER_YD)
        some = [np.array(at) * M_PER_YD for at in adds if at[1] == off_yd]
        return iter([Spot(at, "trail", "north", 1.0) for at in some])

    monkeypatch.setattr("core.season.next_stand.spots_for", spots)
    monkeypatch.setattr("core.season.next_stand.Tries", Told)


def test_a_spot_within_60_yards_of_one_taken_is_passed_over(monkeypatch):
    answer = judge_season(Scene(two_stands()), made_winds([None]))
    adds = {(0, 20): range(10), (30, 20): range(10, 18), (100, 20): range(18, 21)}
    told_spots(monkeypatch, answer.scene, adds)
    assert [f.adds_sits for f in next_stands(answer)] == [10, 3]


def test_a_spot_is_moved_five_yards_where_that_adds_more(monkeypatch):
    answer = judge_season(Scene(two_stands()), made_winds([None]))
    adds = {
        (0, 20): range(10),
        (0, 15): range(9),
        (0, 25): range(12),  # farther adds more
        (100, 20): range(10, 14),
        (100, 15): range(12, 30),
        (200, 25): range(56),
    }
    told_spots(monkeypatch, answer.scene, adds)
    found = next_stands(answer)
    # the nudge of the second adds most of all, so it comes first; the last is near none
    assert [f.adds_sits for f in found] == [18, 12]
    places = [np.array(answer.scene.plane.to_local(*f.lonlat)) / M_PER_YD for f in found]
    assert np.allclose(places, [(100, 15), (0, 25)], atol=1e-3)


def test_of_a_long_history_whole_years_are_tried():
    answer = judge_season(
        Scene(two_stands(seasons=(Season("bow", "09-01", "12-31"),))),
        laid_over(typical_year(), range(2010, 2020)),
    )
    at_dates, picked = some_sits(answer)
    years = answer.reviews[0].sits.clock.dates.year[at_dates[0]]
    assert len(np.unique(years)) == 2  # 10 years of 244 sits
    assert len(picked) == sum(len(a) for a in at_dates)


def test_a_ground_without_trails_has_no_spots():
    answer = judge_season(Scene(two_stands()), made_winds([0.0]))
    assert next_stands(answer) == []


def test_a_spot_lies_as_the_heights_have_it():
    """Without heights, or with such of treetops over woods, as the nearest stand does."""
    near = Stand("oak", "Oak", PIEDMONT, lies="bottom", downhill_deg=90.0, grade_pct=5.0)
    kept = tilted(200.0, 0.12)
    treetops = dataclasses.replace(kept, surface="treetops")
    for heights, lies in ((None, False), (treetops, False), (kept, True)):
        scene = Scene(ground(stand=near), heights)
        found = with_spots(scene, [Spot(np.array([150.0, 80.0]), "trail", "lane", 0.0)]).stands[0]
        told = (found.downhill_deg, found.grade_pct, found.lies)
        assert told == ((200.0, 12.0, "side") if lies else (90.0, 5.0, "bottom"))
        assert found.cover == near.cover
