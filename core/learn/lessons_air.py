"""Lessons on the air: a wind's name, where air goes, slopes and still air."""

import numpy as np

from core.air.slopes import tilt_deg
from core.angles import opposite_deg, point_deg, point_name
from core.ground.layout import Stand
from core.judge.stand_rows import land_at
from core.learn.classroom import Lesson, Pair, Picture, Room, Task, date_text, lacking, turn_points
from core.learn.turn_the_wind import (
    POINT_WORDS,
    a_wind,
    capital,
    direction_words,
    like_yards,
    strength_words,
    yards,
)
from core.say.words import like_text
from core.sit.dates import dates_on
from core.sit.slope import beam_times_s, beams_of, shaded_beam_times_s
from core.sit.ways import MOST_SHOWN_YD
from core.units import MPS_PER_MPH

NAMED = "Wind is named for where it comes from"
GOES = "Where your air goes, and why it widens and thins"
SLOPES = "Where still air goes"
SIDES_SAID = {
    "upwind": "That is upwind. Its air comes to you.",
    "crosswind": "That is to the side: crosswind.",
}


def wind_named(room: Room) -> Lesson:
    """Lesson 2. Args: the ground on its date."""
    apart = (
        "Air goes where the wind blows. That much is plain.",
        "All weather reports name a wind for where it comes from. So do we.",
        "A report is for a mast in the open. No one has measured the wind at this tree.",
    )
    pair = room.pair
    if pair is None:
        return lacking("named", NAMED, "a stand and a bed or food", apart)
    wind, to = POINT_WORDS[pair.wind], direction_words(float(opposite_deg(point_deg(pair.wind))))
    stand, area = pair.stand.name, pair.area.name
    sides = _sides(room, pair)
    says = [
        f"{capital(a_wind(point_deg(pair.wind)))} comes from the {wind}. It takes your air to "
        f"the {to}.",
        f"You sit at {stand}. {area} lies {yards(pair.place.distance_m)} off to the "
        f"{direction_words(pair.place.bearing_deg)}. That is downwind. Your air goes there.",
        *(line for _, _, line in sides),
        "To check, let a bit of fluff go and watch it drift.",
    ]
    caption = f"{stand} on {a_wind(point_deg(pair.wind))}. The arrow comes from the {wind}."
    picture = Picture(
        caption,
        stand=pair.stand.id,
        air_from_deg=point_deg(pair.wind),
        beside_arrow=(f"wind {pair.wind}", ""),
        lit={pair.area.id: "downwind"},
        noted={id_: side for id_, side, _ in sides},
    )
    return Lesson("named", NAMED, tuple(says), *apart, picture, _turn_task(pair))


def _sides(room: Room, pair: Pair) -> list[tuple[str, str, str]]:
    """What lies upwind and what to the side, where something does: id, side, sentence."""
    told: dict[str, tuple[str, str, str]] = {}
    skip, wind = {pair.area.id}, point_deg(pair.wind)
    for turn, side in ((0.0, "upwind"), (90.0, "crosswind"), (-90.0, "crosswind")):
        place = room.nearest_to(pair.stand, (wind + turn) % 360.0, skip)
        if place is None or side in told:
            continue
        skip.add(place.id)
        toward = direction_words(place.bearing_deg)
        line = f"{room.ground.name_of(place.id)} lies to the {toward}. {SIDES_SAID[side]}"
        told[side] = (place.id, side, line)
    return list(told.values())


def _turn_task(pair: Pair) -> Task:
    new = turn_points(pair.wind, 4)
    right, same = turn_points(new, 8), new
    old = turn_points(pair.wind, 8)
    choices = tuple(f"To the {POINT_WORDS[p]}" for p in (same, right, old))
    return Task(
        f"Now the wind is from the {POINT_WORDS[new]}. Where does your air go from "
        f"{pair.stand.name}?",
        choices,
        1,
        f"From the {POINT_WORDS[new]} means to the {POINT_WORDS[right]}.",
    )


STIRRED = " Sun stirs the air and thins it. Night air lies still and stays thick."


def air_goes(room: Room) -> Lesson:
    """Lesson 3. Args: the ground on its date."""
    rules = room.ground.air
    apart = (
        "How air spreads was measured over open grass (Prairie Grass, 1956). "
        "How much trees add is our guess.",
        f"Wrong wind under {rules.wrong_within_yd:.0f} yards and clean over "
        f"{rules.clean_beyond_yd:.0f} are settings of this ground. No study sets them.",
        "No test tells how far off a deer can smell you. So we only say where your air goes.",
    )
    pair = room.pair
    if pair is None:
        return lacking("goes", GOES, "a stand and a bed or food", apart)
    dawn, later = (_like_at(room, pair, *when) for when in (("morning", 0), ("evening", 0)))
    stand, area = pair.stand.name, pair.area.name
    to = direction_words(float(opposite_deg(point_deg(pair.wind))))
    stirred = STIRRED if later[1] > dawn[1] else ""
    says = [
        f"You sit at {stand} on a steady {POINT_WORDS[pair.wind]} wind "
        f"({strength_words('steady')}). Your air goes {to}, to {area}, "
        f"{yards(pair.place.distance_m)} away.",
        "It swings from side to side and mixes up and down. So it gets wide, and it gets thin.",
        f"At {dawn[0]} it is like {like_yards(dawn[1])} straight downwind of you in an open field.",
        f"At {later[0]} it is like {like_yards(later[1])}.{stirred}",
        *_aside(room, pair),
    ]
    sit, seat = room.judged(pair.stand, pair.wind)
    caption = (
        f"{stand} on {a_wind(point_deg(pair.wind))}. The thin line is the way of your air at its "
        f"worst hour, to where it is like {rules.clean_beyond_yd:g} yards. "
        "What it reaches is hatched."
    )
    lit = {pair.area.id: f"like {like_text(dawn[1])}"}
    picture = Picture(caption, sit, seat, lit=lit)
    return Lesson("goes", GOES, tuple(says), *apart, picture, _stronger_when(area, dawn, later))


def _stronger_when(area: str, dawn, later) -> Task:
    """Which of two hours brings more air. Args: the place; clock time and yards of each."""
    near, far = sorted((dawn[1], later[1]))
    return Task(
        f"When is your air stronger at {area}?",
        (f"At {dawn[0]}", f"At {later[0]}"),
        0 if dawn[1] <= later[1] else 1,
        f"Like {like_yards(near)} is nearer, so stronger, than like {like_yards(far)}.",
    )


def _like_at(room: Room, pair: Pair, when: str, case: int) -> tuple[str, float]:
    """Clock time of an hour, and how far the air is like at the pair's area then."""
    _, seat = room.judged(pair.stand, pair.wind, when)
    area = [a.id for a in room.scene.areas].index(pair.area.id)
    return room.at(int(seat.rows.start_s[case])), float(seat.hours.equivalent_yd[case, area])


def _aside(room: Room, pair: Pair) -> list[str]:
    """A place off to the side, reached less than its distance says."""
    wind = (point_deg(pair.wind) + 90.0) % 360.0
    place = room.nearest_to(pair.stand, wind, {pair.area.id}) or room.nearest_to(
        pair.stand, (wind + 180.0) % 360.0, {pair.area.id}
    )
    if place is None:
        return []
    _, seat = room.judged(pair.stand, pair.wind)
    area = [a.id for a in room.scene.areas].index(place.id)
    like = float(seat.hours.equivalent_yd[0, area])
    reach = f"like {like_yards(like)}" if like <= MOST_SHOWN_YD else "next to none gets there"
    name = room.ground.name_of(place.id)
    return [f"{name} is {yards(place.distance_m)} off, but to the side: {reach}."]


def slopes_and_still_air(room: Room) -> Lesson:
    """Lesson 7. Args: the ground on its date."""
    rules = room.ground.air
    apart = (
        "Cold air is heavy and slides down. Sun-warmed air climbs (Schroeder and Buck 1970).",
        "Not calling a bottom under 8 mph, or in settled air, is common practice.",
        "No one has measured slope air on small hills. "
        f"Our {rules.slope_wind_mps / MPS_PER_MPH:.1f} mph is a guess.",
    )
    sloped = [s for s in room.stands if s.downhill_deg is not None and s.grade_pct]
    light = f"Under {rules.cant_call_below_mps / MPS_PER_MPH:.0f} mph no one can call the wind."
    if not sloped:
        return lacking("slopes", SLOPES, "a stand with its slope marked", apart)
    stand = max(sloped, key=lambda s: (s.grade_pct or 0.0, s.id))
    down, up = _down_up(stand)
    fades = rules.slope_fades_at_mps / MPS_PER_MPH
    says = [
        f"{stand.name} hangs over a slope that falls to the {down}.",
        f"On a still, clear night cold air slides down it, to the {down}. "
        f"With sun on the slope, air climbs to the {up}.",
        *_over_the_land(room, stand),
        _sun_line(room, stand),
        f"A wind of {fades:.0f} mph or more blows all that away. {light}",
        *_hard_seats(room),
    ]
    caption = f"{stand.name}: still air slides to the {down}."
    task = Task(
        f"It is {room.at(room.morning.legal_start_s)}, clear and still. Where does the air go at "
        f"{stand.name}?",
        (f"Up, to the {up}", f"Down, to the {down}", "It stays where it is"),
        1,
        f"Cold air slides down, to the {down}, until the sun is on the slope.",
    )
    uphill = float(opposite_deg(stand.downhill_deg or 0.0))
    picture = Picture(
        caption,
        stand=stand.id,
        air_from_deg=uphill,
        beside_arrow=("still night air", f"slides {point_name(stand.downhill_deg or 0.0)}"),
        still_way_m=_still_way_m(room, stand),
    )
    return Lesson("slopes", SLOPES, tuple(says), *apart, picture, task)


def _over_the_land(room: Room, stand: Stand) -> list[str]:
    """The way that still air takes on from the seat, where heights show one."""
    own_land = land_at(room.scene, stand)
    if own_land is None or not own_land.bends:
        return []
    from core.land.still_words import still_air, still_text  # what only heights need

    way = still_air(own_land.way_down, room.ground, room.scene.plane)
    if way is None:
        return []
    toward = direction_words(way.toward_deg)
    told = still_text(way, whose="By the heights of this ground it", toward=toward)
    return [told, "That is the bare ground. Trees can lead air another way."]


def _still_way_m(room: Room, stand: Stand):
    """The same as a line on the map, with its doubts."""
    own_land = land_at(room.scene, stand)
    if own_land is None or not own_land.bends:
        return None
    down, _ = own_land.still_ways
    doubts = [way.points_m for way in down if way is not own_land.way_down]
    return own_land.way_down.points_m, doubts


def _down_up(stand: Stand) -> tuple[str, str]:
    down = float(stand.downhill_deg or 0.0)
    return direction_words(down), direction_words(float(opposite_deg(down)))


def _sun_line(room: Room, stand: Stand) -> str:
    """When the sun comes to a slope and leaves it: the times at which its air turns."""
    _, beams = beams_of(room.ground, dates_on(room.ground, [room.date]))
    tilt = tilt_deg(stand.grade_pct or 0.0)
    own_land = land_at(room.scene, stand)
    shade = None if own_land is None else own_land.shade
    times_s = (
        beam_times_s(beams, tilt, stand.downhill_deg or 0.0)
        if shade is None
        else shaded_beam_times_s(beams, shade)
    )
    first_s, last_s = (t[0] for t in times_s)
    if np.isnan(first_s):
        return f"On {date_text(room.date)} no sun comes onto this slope."
    return (
        f"On {date_text(room.date)} the sun comes onto this slope near {room.at(first_s)} and is "
        f"off it near {room.at(last_s)}. Near those times the air turns."
    )


def _hard_seats(room: Room) -> list[str]:
    """Stands in bottoms, and stands that the owner knows to swirl."""
    lines = [
        f"{s.name} sits in a bottom. Air pools there and goes round."
        for s in room.stands
        if s.lies == "bottom"
    ]
    for stand in room.stands:
        known = stand.swirls
        if known is None or not (known.from_deg or known.under_mph):
            continue
        wind = (
            ""
            if not known.from_deg
            else " on winds from "
            + " or ".join(
                f"{direction_words(a)} round to {direction_words(b)}" for a, b in known.from_deg
            )
        )
        under = f" under {known.under_mph:.0f} mph" if known.under_mph else ""
        lines.append(f"The owner knows that {stand.name} swirls{wind}{under}.")
    return lines[:3]
