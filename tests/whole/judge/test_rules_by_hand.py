"""Rules of a sit, tried by lot against plain distances, bearings and sums of one air at a time.

Nothing that the chain worked out tells what to expect here: trails and shots are measured by
the geodesic, strength by `tests.oracle`. Each counts how often it had something to try.
"""

import dataclasses
import datetime
import functools
import math

import numpy as np
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from core.answer.one_sit import answer_sit, stand_sit
from core.ground.layout import Person, Wanted
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CLEAN, GO, JUST_OFF, STAY
from core.units import M_PER_YD
from tests import oracle
from tests.grounds import NOV_10, PIEDMONT, at, bed, ground, judged, lane, wind
from tests.hill_ground import hill_ground
from tests.random_grounds import random_ground

GROUNDS = {"hill": hill_ground, "one": lambda: random_ground(1), "four": lambda: random_ground(4)}
DAYS = (datetime.date(2026, 10, 6), datetime.date(2026, 11, 30))
TOLD_APART = 0.15  # distances nearer to a limit than this are left to neither side
BY_LOT = settings(deadline=None, phases=(Phase.explicit, Phase.generate))

names = st.sampled_from(sorted(GROUNDS))
directions, speeds_mph = st.floats(0, 359), st.floats(4, 14)
halves = st.sampled_from(["morning", "evening"])


@functools.cache
def made(name: str) -> tuple[Scene, oracle.Ground]:
    """A ground with a guest who shoots 18 yards, here and for the second opinion."""
    prop = dataclasses.replace(GROUNDS[name](), people=(Person("Guest", 18.0),))
    return Scene(prop), oracle.Ground(prop)


# --- a wrong way out ---


def like_of_walk(prop, out, from_deg: float, mph: float) -> float:
    """How near the walk out comes to its one bed, as "like N yards", minute by minute.

    The walker's air at 2 m over open ground, the mean of the minutes, for the hours walked.
    """
    there, blows = oracle.Ground(prop), oracle.Wind(from_deg, mph)
    day = oracle.sun_day(PIEDMONT[1], PIEDMONT[0], prop.timezone, NOV_10)
    leaves_s = datetime.datetime(2026, 11, 10, 15, 30, tzinfo=datetime.UTC).timestamp()  # 10:30
    start, end = (np.array(there.xy(p)) for p in (out.line[-1], out.line[0]))
    ring = [there.xy(p) for p in prop.areas[0].ring]
    edge = there.along([*ring, ring[0]], 4.0)
    total, n = 0.0, round(out.minutes)
    hours_s = [(leaves_s + 60 * minute) // 3600 * 3600 for minute in range(n)]
    letters = {t: oracle.letter_of(there, day, t, blows) for t in set(hours_s)}
    for minute, hour_s in enumerate(hours_s):
        letter = letters[hour_s]
        speed = mph * oracle.MPH
        half = math.hypot(blows.half_deg, oracle.wander_deg(letter, speed))
        carried = speed * 0.2 ** oracle.PROFILE[letter] * oracle.SHELTER[out.cover]
        air = oracle.Air((from_deg + 180) % 360, carried, speed, half)
        here = start + (end - start) * (minute + 0.5) / n
        total += max(
            oracle.strength(letter, air, oracle.COVER_DEG[out.cover], 0.0, r, b)
            for r, b in there.polar(here, edge)
        )
    return oracle.like_yd(total / n * n / 60)


def test_no_sit_is_clean_with_a_wrong_way_out():
    """The lane out leads past a bed that lies across the wind from it, far from the seat."""
    seen = []

    @settings(BY_LOT, max_examples=14)
    @example(away_deg=200.0, side=90.0, along_yd=450.0, off_yd=25.0, mph=6.0, minutes=120)
    @example(away_deg=207.0, side=-90.0, along_yd=529.0, off_yd=62.0, mph=5.0, minutes=73)
    @example(away_deg=85.0, side=-90.0, along_yd=396.0, off_yd=251.0, mph=10.0, minutes=64)
    @given(
        st.floats(0, 359), st.sampled_from([-90.0, 90.0]), st.floats(300, 560),
        st.floats(25, 400), speeds_mph, st.integers(60, 120),
    )  # fmt: skip
    def tried(away_deg, side, along_yd, off_yd, mph, minutes):
        passing = at(PIEDMONT, away_deg, along_yd)
        out = lane(
            PIEDMONT, (away_deg, 640), (away_deg, 5),
            id_="out", way="out", minutes=float(minutes), cover="open",
        )  # fmt: skip
        way_in = lane(PIEDMONT, (away_deg + 180, 440), (away_deg + 180, 5), id_="in", way="in")
        prop = ground(areas=(bed(passing, away_deg + side, off_yd),), lanes=(way_in, out))
        from_deg = (away_deg + side + 180) % 360
        own = judged(prop, wind(from_deg, mph))
        like_yd = like_of_walk(prop, out, from_deg, mph)
        if (own.hours.verdict != CLEAN).any() or own.way_in.verdict[0] != CLEAN:
            return
        if like_yd < 100 * (1 - TOLD_APART):
            assert own.group == STAY
            seen.append("out")
        elif 100 * (1 + TOLD_APART) < like_yd < 250 * (1 - TOLD_APART):
            assert (own.group, own.verdict) == (GO, JUST_OFF)
            seen.append("just-off")
        elif like_yd > 250 * (1 + TOLD_APART):
            assert (own.group, own.verdict) == (GO, CLEAN)
            seen.append("clean")

    tried()
    assert {"out", "just-off", "clean"} == set(seen)


# --- shots before watching ---


def has_shot(there: oracle.Ground, stand, range_yd: float) -> bool:
    """Whether a trail that deer use by day, or food, is no further off, to the whole yard."""
    here = Point(there.xy(stand.at))
    food = [
        Polygon([there.xy(p) for p in area.ring]).distance(here) / M_PER_YD
        for area in there.prop.areas
        if area.kind == "food"
    ]
    trails = [there.trail_yd(stand, c) for c in there.prop.corridors if c.use != "night"]
    return any(round(yards) <= range_yd for yards in [*food, *trails])


def test_shots_come_before_watching_whatever_the_owner_marked():
    """Words that pull the other way: by the sums alone a seat to watch from would be first."""
    seen = []

    @settings(BY_LOT, max_examples=14)
    @example("four", 2.0, 7.0, "morning", 0.0, ("watch", "best"))
    @example("hill", 160.0, 7.0, "morning", 0.0, (None, "good"))
    @given(
        names, directions, speeds_mph, halves, st.sampled_from([0.0, 1.0]),
        st.sampled_from([("watch", "best"), ("good", "best"), (None, "good")]),
    )  # fmt: skip
    def tried(name, from_deg, mph, half, cloud, words):
        _, there = made(name)
        shot = {s.id: has_shot(there, s, 18.0) for s in there.prop.stands}
        stands = tuple(
            dataclasses.replace(s, wanted=Wanted(*[words[not shot[s.id]]] * 2), range_yd=18.0)
            for s in there.prop.stands
        )
        scene = Scene(dataclasses.replace(there.prop, stands=stands))
        weather = wind(from_deg, mph, cloud)
        found = answer_sit(prepare_sit(scene, weather, DAYS[0], half, hunter="Guest")).stands
        for group in (GO, CANT):
            own = [s for s in found if s.group == group]
            watches = [not shot[s.stand.id] for s in own]
            assert watches == sorted(watches)
            if len(set(watches)) == 2:
                best = max(own, key=lambda s: s.score)
                seen.append("sums differ" if not shot[best.stand.id] else "mixed")

    tried()
    assert {"sums differ", "mixed"} <= set(seen)


# --- air on every trail ---


def on_every_trail(hour: oracle.Hour, start_s, middle_s, blows, ends) -> bool | None:
    """Whether the air of a piece lies on every trail that counts; None where nobody can tell:
    it has several ways, no trail is in range, or a distance is near a limit."""
    letter = oracle.letter_of(hour.ground, hour.day, start_s, blows)
    span = None
    if hour.slope is not None and blows.mph * oracle.MPH < hour.rules.slope_fades_at_mps:
        spans = hour.slope.turnings(start_s - 7200, start_s + 10800, lambda _: blows.cloud)
        span = next((s for s in spans if s[0] <= middle_s < s[1]), None)
    ways = [] if span else hour.directions(letter, blows, middle_s, None, lambda _: blows.cloud)
    found = []
    for trail in hour.ground.prop.corridors if len(ways) == 1 else ():
        yards = hour.ground.trail_yd(hour.stand, trail)
        for end in ends:
            points = hour.ground.approach_points(hour.stand, trail, end)
            if points is not None and trail.use != "night":
                like = hour._like(letter, ways[0], points)
                found.append((yards, like / min(max(75.0, 3.5 * yards), 250.0)))
    reached = [share for yards, share in found if yards < hour.hunter_yd + 0.5]
    nearest = min((yards for yards, _ in found), default=0.0)
    shares = reached or [share for yards, share in found if yards <= nearest]
    if not shares or any(abs(share - 1) < TOLD_APART for share in shares):
        return None
    return all(share < 1 for share in shares)


def test_no_go_is_sat_through_an_hour_with_the_air_on_every_trail():
    seen = []

    @settings(BY_LOT, max_examples=24)
    @given(names, st.sampled_from(DAYS), halves, directions, st.floats(4, 12), st.data())
    def tried(name, date, half, from_deg, mph, data):
        scene, there = made(name)
        stands = scene.ground.stands
        stand = stands[data.draw(st.integers(0, len(stands) - 1))]
        cloud = data.draw(st.sampled_from([0.0, 1.0]))
        sit = prepare_sit(scene, wind(from_deg, mph, cloud), date, half, hunter="Guest")
        own = stand_sit(sit, stand)
        if own.group != GO:
            return
        hour = oracle.Hour(there, stand, date, min(stand.range_yd, 18.0))
        blows = oracle.Wind(from_deg, mph, cloud=cloud)
        ends = ("food", "bedding") if sit.clock.all_day_part else ("food",)
        if half == "evening" and not sit.clock.all_day_part:
            ends = ("bedding",)
        for i in np.flatnonzero(own.judged.stretch[0] & (own.rows.minutes >= 15)):
            start_s, end_s = own.rows.begins_s[i], int(own.rows.end_s[i])
            on_all = on_every_trail(
                hour, int(start_s) // 3600 * 3600, (int(start_s) + end_s) / 2, blows, ends
            )
            assert on_all is not True, (stand.id, i)
            seen.append(on_all)

    tried()
    assert seen.count(False) > 10
