"""The lesson on the way in."""

import numpy as np

from core.angles import POINTS_16, point_deg
from core.ground.layout import Stand
from core.learn.classroom import Lesson, Picture, Room, Task, lacking
from core.learn.turn_the_wind import POINT_WORDS, a_wind, capital, like_yards, yards
from core.say.words import VERDICTS_SAID, in_a_row, like_text, minutes_text
from core.sit.scene import IN, Way
from core.sit.verdicts import CANT_CALL
from core.sit.ways import MOST_SHOWN_YD, WayAir, way_air, ways_in
from core.units import SECONDS_PER_MINUTE

WALK = "Getting in"
FOOTING_WORDS = {
    "mown": "mown grass",
    "bare": "bare dirt",
    "leaves": "dry leaves",
    "gravel": "gravel",
    "creek": "the creek bed",
}


def getting_in(room: Room) -> Lesson:
    """Lesson 5. Args: the ground on its date."""
    apart = (
        "A walk is a dose. The longer your air lies on a bed, the more of it gets there.",
        f"To be seated {room.ground.sit.settle_min:.0f} minutes before legal light is common "
        "practice. So is not to cross the trail that deer will use.",
        "No one has measured how long a boot track warns deer. We only count the trails you cross.",
    )
    stand = _walked_to(room)
    if stand is None:
        return lacking("walk", WALK, "a stand with a way in", apart)
    wind, airs = _telling_walk(room, stand)
    clock = room.morning
    says = [_lane_line(room, w) for w in room.scene.ways(stand, IN)]
    says += [_walk_verdict(room, air, wind, i == 0) for i, air in enumerate(airs)]
    first = airs[0]
    leave = clock.seated_s - (first.way.minutes + stand.set_up_min) * SECONDS_PER_MINUTE
    says.append(
        f"Legal light starts at {room.at(clock.legal_start_s)}. Be in the seat at "
        f"{room.at(clock.seated_s)}. So by {first.way.lane.name} leave the truck at "
        f"{room.at(leave)}."
    )
    task = _walk_task(room, stand, wind, airs, leave)
    return Lesson("walk", WALK, tuple(says), *apart, _walk_picture(room, stand, wind, airs), task)


def _walk_picture(room: Room, stand: Stand, wind: str, airs: list[WayAir]) -> Picture:
    """The best way in as a line, the worst as a dashed one, and what they give air to."""
    caption = f"Ways in to {stand.name} on {a_wind(point_deg(wind))}. The line is the better one."
    shown = [airs[0], airs[-1]] if len(airs) > 1 else [airs[0]]
    if len(shown) == 1:
        caption = f"The way in to {stand.name} on {a_wind(point_deg(wind))}."
    lit = {}
    for air in shown:
        area, like = int(air.worst_area[0]), float(air.equivalent_yd[0])
        if area >= 0 and like <= room.ground.air.clean_beyond_yd:
            lit[room.scene.areas[area].id] = f"like {like_text(like)}"
    return Picture(
        caption,
        stand=stand.id,
        air_from_deg=point_deg(wind),
        beside_arrow=(f"wind {wind}", ""),
        ways_m=tuple(a.way.path_m for a in shown),
        lit=lit,
    )


def _walked_to(room: Room) -> Stand | None:
    """The stand whose ways in teach most: several, or with trails across."""
    ways = {s.id: room.scene.ways(s, IN) for s in room.stands}
    reached = [s for s in room.stands if ways[s.id]]
    return min(
        reached,
        key=lambda s: (-len(ways[s.id]), -max(len(w.crosses) for w in ways[s.id]), s.id),
        default=None,
    )


def _telling_walk(room: Room, stand: Stand) -> tuple[str, list[WayAir]]:
    """The point of a steady wind in which the ways in differ most, and they in it."""
    sit = room.sit("N")
    degrees = np.array([point_deg(p) for p in POINTS_16])
    swept = sit.sits.swept(sit.at, degrees)
    seated_s = np.full(len(degrees), sit.clock.seated_s)
    walks = ways_in(swept, stand, seated_s, np.arange(len(degrees)))
    verdicts = np.array([w.verdict for w in walks])  # (way, point)
    apart = verdicts.max(axis=0) - verdicts.min(axis=0)
    best = int(np.argmax(apart * 10 + verdicts.max(axis=0)))
    found = [way_air(swept, stand, walk, best) for walk in walks]
    return POINTS_16[best], sorted(
        found, key=lambda w: (int(w.verdict[0]), -float(w.equivalent_yd[0]))
    )


def _lane_line(room: Room, way: Way) -> str:
    lane = way.lane
    on = f", on {FOOTING_WORDS[lane.footing]}" if lane.footing else ""
    crosses = in_a_row(room.ground.name_of(x) for x in way.crosses) or "no trail"
    near = way.closest_bed_m
    bed = "" if np.isnan(near) else f" The nearest bed is {yards(near)} off."
    return (
        f"{lane.name} is {yards(way.length_m)} long, {minutes_text(way.minutes)}{on}. "
        f"It crosses {crosses}.{bed}"
    )


def _walk_verdict(room: Room, air: WayAir, wind: str, first: bool) -> str:
    """What one walk is in this wind, and the place that makes it so."""
    verdict, lane = int(air.verdict[0]), air.way.lane.name
    head = f"On a steady {POINT_WORDS[wind]} wind {lane}" if first else f"By {lane} it"
    like, area = float(air.equivalent_yd[0]), int(air.worst_area[0])
    why = ""
    if verdict != CANT_CALL and area >= 0 and like <= MOST_SHOWN_YD:
        name = room.ground.name_of(room.scene.areas[area].id)
        why = f": {name} gets your air like {like_yards(like)} straight downwind"
    return f"{head} is {VERDICTS_SAID[verdict]}{why}."


def _walk_task(room: Room, stand: Stand, wind: str, airs: list[WayAir], leave: float) -> Task:
    clock = room.morning
    names = [airs[-1].way.lane.name, airs[0].way.lane.name]
    if int(airs[0].verdict[0]) < int(airs[-1].verdict[0]) and names[0] != names[1]:
        return Task(
            f"{capital(a_wind(point_deg(wind)))}, and you want {stand.name}. Which way in?",
            tuple(names),
            1,
            f"{names[1]} is {VERDICTS_SAID[int(airs[0].verdict[0])]}, "
            f"{names[0]} is {VERDICTS_SAID[int(airs[-1].verdict[0])]}.",
        )
    late_s = clock.legal_start_s + 30 * SECONDS_PER_MINUTE
    times = (late_s, leave, clock.seated_s)
    return Task(
        f"When do you leave the truck for {stand.name}?",
        tuple(f"At {room.at(t)}" for t in times),
        1,
        f"The walk is {minutes_text(airs[0].way.minutes)}, and you want to sit still before light.",
    )
