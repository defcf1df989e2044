"""The same flat ground turned, mirrored or laid elsewhere, its wind with it, answers the same.

Flat: a slope asks which way the sun stands, and that does not turn along. No expected
number is needed: each answer is held against that of the ground as it was drawn.
"""

import dataclasses
import datetime
import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from core.answer.change import spare_deg, works_by_degree
from core.answer.one_sit import SitAnswer, answer_sit
from core.ground.layout import ALL_ROUND, Property, Stand, Swirls
from core.ground.plan import Plane
from core.say.answer_lines import sit_lines
from core.say.as_json import sit_dict
from core.say.headline import head_of
from core.say.what_would_change import doubt_text
from core.units import M_PER_YD
from core.weather.hours import make_hours
from tests.grounds import PIEDMONT, at, bed, corridor, food, ground, hourly, lane, sit_of

MIDNIGHT = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
LIMITS_YD = np.array([250.0, 500.0])  # what the grounds here have
EXACT = 1e-6  # rounding of longitudes and of sines
BEARINGS = st.floats(0.0, 359.9)
# a whole answer takes a tenth of a second: few grounds, and a failing one as it was found
FEW = settings(max_examples=6, phases=[Phase.generate])


def redrawn(prop: Property, place, direction) -> Property:
    """A ground whose every place and every direction is changed.

    `place` turns metres east and north of the centre into others; `direction` turns
    the pair of ends of a span.
    """
    plane = Plane(prop.center)

    def line(points):
        lon, lat = plane.to_lonlat(*place(*plane.points(points).T))
        return tuple(zip(map(float, lon), map(float, lat), strict=True))

    def spans(pairs):
        return pairs if pairs == ALL_ROUND else tuple(direction(a, b) for a, b in pairs)

    def swirls(known):
        if known is None or known.from_deg is None:
            return known
        return dataclasses.replace(known, from_deg=spans(known.from_deg))

    change = dataclasses.replace
    return change(
        prop,
        stands=tuple(change(s, at=line([s.at])[0], swirls=swirls(s.swirls)) for s in prop.stands),
        lanes=tuple(change(x, line=line(x.line)) for x in prop.lanes),
        corridors=tuple(change(x, line=line(x.line)) for x in prop.corridors),
        areas=tuple(
            change(x, ring=line(x.ring), with_wind_deg=spans(x.with_wind_deg)) for x in prop.areas
        ),
    )


def turned(prop: Property, by_deg: float) -> Property:
    """A ground turned clockwise about its centre."""
    sin, cos = math.sin(math.radians(by_deg)), math.cos(math.radians(by_deg))
    return redrawn(
        prop,
        lambda east, north: (east * cos + north * sin, north * cos - east * sin),
        lambda a, b: ((a + by_deg) % 360.0, (b + by_deg) % 360.0),
    )


def mirrored(prop: Property) -> Property:
    """A ground with east and west changed over: clockwise is counter-clockwise."""
    return redrawn(
        prop, lambda east, north: (-east, north), lambda a, b: ((-b) % 360.0, (-a) % 360.0)
    )


@st.composite
def flat_grounds(draw, plain=False) -> Property:
    """Two stands, beds, food, trails past the first stand and lanes to both.

    `plain`: one lane, and no place and no seat that minds which wind blows.
    """
    winds = [ALL_ROUND] if plain else [ALL_ROUND, ((80.0, 200.0),), ((300.0, 40.0),)]
    half_yd = st.floats(15.0, 60.0)
    beds = [
        bed(
            PIEDMONT,
            draw(BEARINGS),
            draw(st.floats(20.0, 650.0)),
            f"bed-{i}",
            draw(half_yd),
            held=draw(st.sampled_from(["day", "night", "always", "never"])),
            with_wind_deg=draw(st.sampled_from(winds)),
        )
        for i in range(draw(st.integers(1, 3)))
    ]
    plot = food(PIEDMONT, draw(BEARINGS), draw(st.floats(60.0, 400.0)))
    trails = [
        corridor(
            PIEDMONT,
            (draw(BEARINGS), 240.0),
            (draw(BEARINGS), draw(st.floats(8.0, 40.0))),
            (draw(BEARINGS), 270.0),
            id_=f"trail-{i}",
        )
        for i in range(draw(st.integers(0, 2)))
    ]
    swirls = None if plain else draw(st.sampled_from([None, Swirls(from_deg=((20.0, 75.0),))]))
    # off the centre, so that no corner lies on a whole degree of bearing by construction
    stands = (
        Stand("oak", "Oak", at(PIEDMONT, 63.7, 3.3), cover=draw(covers), swirls=swirls),
        Stand("elm", "Elm", at(PIEDMONT, draw(BEARINGS), 87.7), height_ft=0.0, cover=draw(covers)),
    )
    lanes = tuple(
        lane(
            PIEDMONT,
            (draw(BEARINGS), 430.0),
            (draw(BEARINGS), draw(st.floats(15.0, 90.0))),
            id_=f"lane-{i}",
            stands=("oak", "elm"),
            cover=draw(covers),
        )
        for i in range(1 if plain else draw(st.integers(1, 2)))
    )
    return ground(stands=stands, areas=(*beds, plot), corridors=tuple(trails), lanes=lanes)


covers = st.sampled_from(["open", "edge", "timber"])
sits = st.sampled_from(["morning", "evening", "all-day"])
mph = st.floats(1.0, 20.0)


@st.composite
def windy_days(draw):
    """Hours of one day: whole degrees that may turn, one speed."""
    first = draw(st.integers(0, 359))
    steps = draw(st.lists(st.integers(-25, 25), min_size=29, max_size=29))
    return (first + np.cumsum([0, *steps])) % 360, draw(mph)


def answers(prop: Property, degrees, mph_, sit, half_width_deg=5.0) -> SitAnswer:
    weather = hourly(MIDNIGHT, degrees % 360.0, mph_, half_width_deg=half_width_deg)
    return answer_sit(sit_of(prop, weather, sit))


def of_id(answer: SitAnswer, id_: str):
    return next(s for s in answer.stands if s.stand.id == id_)


def on_the_edge(yards, share: float):
    """Whether a distance is within a share of one of the two limits. Elementwise."""
    return (np.abs(np.asarray(yards)[..., None] / LIMITS_YD - 1.0) <= share).any(axis=-1)


def assert_alike(plain: SitAnswer, other: SitAnswer, share=EXACT) -> None:
    """Two answers are one, but for verdicts of distances within a share of a limit."""
    clear = True
    for own in plain.stands:
        like = of_id(other, own.stand.id)
        assert (like.corridors, like.wanted) == (own.corridors, own.wanted)
        yards = own.hours.equivalent_yd
        assert like.hours.equivalent_yd == pytest.approx(yards, rel=share, nan_ok=True)
        edge = on_the_edge(yards, share)
        assert np.array_equal(like.hours.counts, own.hours.counts)
        assert np.array_equal(like.hours.cause, own.hours.cause)
        assert (like.hours.place_verdict == own.hours.place_verdict)[~edge].all()
        assert (like.hours.verdict == own.hours.verdict)[~edge.any(axis=1)].all()
        clear = clear and not edge.any() and assert_ways_alike(own, like, share)
    if not clear:
        return
    for own, like in zip(plain.stands, other.stands, strict=True):
        assert like.stand.id == own.stand.id
        for name in ("group", "verdict", "causes", "leave_by_s", "not_before_s", "leave_truck_s"):
            assert getattr(like, name) == getattr(own, name)
        assert like.air_share == pytest.approx(own.air_share)


def assert_ways_alike(own, like, share: float) -> bool:
    """The ways are one where they have the same lane; False where a limit is near."""
    clear = True
    for name in ("way_in", "way_out"):
        mine, other = getattr(own, name), getattr(like, name)
        edge = bool(on_the_edge(mine.equivalent_yd, share).any())
        clear = clear and not edge
        if mine.way.lane.id != other.way.lane.id:  # as good to ten yards
            assert mine.verdict[0] == other.verdict[0] or edge
            clear = False
            continue
        assert other.equivalent_yd == pytest.approx(mine.equivalent_yd, rel=share, nan_ok=True)
        assert other.way.minutes == mine.way.minutes
        assert other.way.crosses == mine.way.crosses
        assert other.crossed_before_shot == mine.crossed_before_shot
        if not edge:
            assert other.verdict[0] == mine.verdict[0]
    return clear


def assert_between(worse: SitAnswer, plain: SitAnswer, better: SitAnswer, share: float) -> None:
    """No distance and no verdict of an answer is outside those of two others."""
    for own in plain.stands:
        least, most = (of_id(answer, own.stand.id) for answer in (worse, better))
        for name in ("hours", "way_in"):
            low, middle, high = (getattr(s, name) for s in (least, own, most))
            yards = middle.equivalent_yd
            assert not (low.equivalent_yd > yards * (1.0 + share)).any()
            assert not (yards > high.equivalent_yd * (1.0 + share)).any()
            near = on_the_edge(yards, share) | np.isnan(yards)  # none where air goes any way
            sure = ~near.reshape(len(middle.verdict), -1).any(axis=1)
            assert (low.verdict >= middle.verdict)[sure].all()
            assert (middle.verdict >= high.verdict)[sure].all()
        if sure.all() and not on_the_edge(own.hours.equivalent_yd, share).any():
            assert least.group >= own.group >= most.group


def assert_works_alike(plain: SitAnswer, other: SitAnswer, back, swap: bool) -> None:
    """The winds that work are the same ones, and so is what is to spare."""
    for own in plain.stands:
        mine = works_by_degree(plain.sit, own)
        like = works_by_degree(other.sit, of_id(other, own.stand.id))[back]
        assert (mine == like).all()
        left, right = spare_deg(mine, plain.sit.mean_wind_deg)
        spare = spare_deg(like[np.argsort(back)], other.sit.mean_wind_deg)
        for a, b in zip((right, left) if swap else (left, right), spare, strict=True):
            assert (a is None) == (b is None)
            assert a is None or a == pytest.approx(b, abs=1e-6)


@FEW
@given(flat_grounds(), windy_days(), sits, st.integers(1, 35).map(lambda tens: 10 * tens))
def test_turning_by_whole_degrees_changes_nothing(prop, day, sit, by_deg):
    # bearings are sampled by whole degrees, and air that may go any way by tens of degrees:
    # so these turns leave every sample in place
    degrees, mph_ = day
    plain = answers(prop, degrees, mph_, sit)
    other = answers(turned(prop, by_deg), degrees + by_deg, mph_, sit)
    assert_alike(plain, other)
    assert_works_alike(plain, other, (np.arange(360) + by_deg) % 360, swap=False)


@FEW
@given(flat_grounds(plain=True), windy_days(), st.floats(0.01, 359.99))
def test_turning_by_any_angle_is_worth_less_than_a_degree_of_wind(prop, day, by_deg):
    # places are looked for on rays of whole degrees, so that on another grid of bearings one
    # may lie a degree to the side: no more than a report vaguer by that degree. Between two
    # rays a straight edge comes nearer by 1 - cos(0.5 degrees), 4e-5
    degrees, mph_ = day
    plain = answers(prop, degrees, mph_, "morning", 5.0)
    there = turned(prop, by_deg)
    worse, better = (
        answers(there, degrees + by_deg, mph_, "morning", 5.0 + more) for more in (1.0, -1.0)
    )
    assert_between(worse, plain, better, 1e-4)


@FEW
@given(flat_grounds(), windy_days(), sits)
def test_a_mirrored_ground_has_the_mirrored_answer(prop, day, sit):
    degrees, mph_ = day
    plain = answers(prop, degrees, mph_, sit)
    other = answers(mirrored(prop), 360.0 - degrees, mph_, sit)
    assert_alike(plain, other)
    assert_works_alike(plain, other, -np.arange(360) % 360, swap=True)


@FEW
@given(flat_grounds(plain=True), windy_days(), BEARINGS, st.floats(1.0, 9.0))
def test_a_ground_laid_kilometres_off_has_its_answer(prop, day, bearing, km):
    # the plane is true at its centre: 9 km north of there, at 36 degrees, east to west is
    # off by tan(latitude) x distance / radius = 0.103 %, a bearing by half of that, 0.03
    # degrees, and that may choose another place on a ray of a whole degree
    degrees, mph_ = day
    plain = answers(prop, degrees, mph_, "morning", 5.0)
    there = laid(prop, bearing, km)
    worse, better = (answers(there, degrees, mph_, "morning", 5.0 + w) for w in (1.03, -1.03))
    for own in plain.stands:
        places = worse.sit.scene.places(of_id(worse, own.stand.id).stand)
        for id_, place in plain.sit.scene.places(own.stand).items():
            assert places[id_].distance_m == pytest.approx(place.distance_m, rel=1.1e-3, abs=1e-3)
    assert_between(worse, plain, better, 0.003)  # strength falls with distance squared or so


def laid(prop: Property, bearing_deg: float, km: float) -> Property:
    """Every place as far and in the same direction from another middle, by the geodesic."""
    middle = at(PIEDMONT, bearing_deg, km * 1000.0 / M_PER_YD)

    def place(point):
        line = Geodesic.WGS84.Inverse(*PIEDMONT[::-1], *point[::-1])
        return at(middle, line["azi1"], line["s12"] / M_PER_YD)

    def line(points):
        return tuple(place(p) for p in points)

    change = dataclasses.replace
    return change(
        prop,
        stands=tuple(change(s, at=place(s.at)) for s in prop.stands),
        lanes=tuple(change(x, line=line(x.line)) for x in prop.lanes),
        corridors=tuple(change(x, line=line(x.line)) for x in prop.corridors),
        areas=tuple(change(x, ring=line(x.ring)) for x in prop.areas),
    )


@FEW
@given(flat_grounds(), windy_days(), sits, st.booleans(), st.randoms(use_true_random=False))
def test_the_order_of_stands_places_and_hours_does_not_matter(prop, day, sit, twins, random):
    if twins:  # the same seat, bed, trail and lane under another name: only names tell
        prop = with_twins(prop)
    degrees, mph_ = day
    weather = hourly(MIDNIGHT, degrees, mph_)
    kinds = ("stands", "areas", "corridors", "lanes")
    other = dataclasses.replace(
        prop, **{k: tuple(random.sample(getattr(prop, k), len(getattr(prop, k)))) for k in kinds}
    )
    places = random.sample(range(len(degrees)), len(degrees))
    columns = ("start_s", "wind_from_deg", "half_width_deg", "speed_mps", "cloud_frac")
    mixed = make_hours(**{name: getattr(weather, name)[places] for name in columns})
    plain, back = (answer_sit(sit_of(p, w, sit)) for p, w in ((prop, weather), (other, mixed)))
    assert sit_dict(back) == sit_dict(plain)
    assert sit_lines(back, None, None) == sit_lines(plain, None, None)
    assert head_of(back.sit, back.best) == head_of(plain.sit, plain.best)
    assert doubt_text(back.sit, back.best) == doubt_text(plain.sit, plain.best)


def with_twins(prop: Property) -> Property:
    """A ground with everything drawn twice, under an id and a name that come later."""

    def twice(found, **more):
        return *found, *(
            dataclasses.replace(x, id=f"{x.id}-too", name=f"{x.name} too", **more) for x in found
        )

    served = tuple(f"{s.id}{end}" for s in prop.stands for end in ("", "-too"))
    lanes = tuple(dataclasses.replace(x, stands=served) for x in prop.lanes)
    return dataclasses.replace(
        prop,
        stands=twice(prop.stands),
        areas=twice(prop.areas),
        corridors=twice(prop.corridors),
        lanes=twice(lanes),
    )
