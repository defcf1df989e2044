"""Lessons on care: safe first; getting out, rest, and when to stay home."""

import datetime

import numpy as np
import shapely

from core.angles import point_deg
from core.answer.one_sit import answer_sit
from core.ground.layout import Stand
from core.ground.plan import bearing_deg
from core.learn.classroom import Lesson, Picture, Room, Task, date_text, lacking
from core.learn.turn_the_wind import POINT_WORDS, a_wind, direction_words, yards
from core.say.hunters.orange import orange_on
from core.say.words import in_a_row, minutes_text
from core.sit.dates import part_on
from core.sit.scene import OUT, Way
from core.sit.verdicts import GO
from core.units import SECONDS_PER_MINUTE

SAFE = "Safe first"
LEAVE = "Getting out, rest, and when to stay home"
HIGH_FT = 16.0  # Massachusetts' tree stand page: never above 16 ft


def safe_first(room: Room) -> Lesson:
    """Lesson 1. Args: the ground on its date."""
    apart = (
        "A fall is plain physics. All else here is care.",
        "A harness from the ground up, three points of contact, a haul line and no seat above "
        f"{HIGH_FT:.0f} feet come from a state safety page (Massachusetts). Your own "
        "state's rules and training come first.",
        "No one can say that a shot is safe or that no one is there. No warning is not an "
        "all-clear.",
    )
    raised = [s for s in room.stands if s.height_ft > 0]
    top = max(raised, key=lambda s: (s.height_ft, s.id), default=None)
    says = [
        *(_climb_lines(raised, top) if room.stands else ["No stand is drawn here yet."]),
        _light_line(room),
        "No light, no shot. Know your target and what is beyond it, from above too.",
        *_no_shot_lines(room),
        *_orange_lines(room),
        *_who_lines(room),
    ]
    picture = Picture(f"The whole of {room.ground.name}: know where each hunter sits.")
    return Lesson("safe", SAFE, tuple(says), *apart, picture, _safe_task(room, top))


def _climb_lines(raised: list[Stand], top: Stand | None) -> list[str]:
    if top is None:
        return ["Every seat here is on the ground. Still tell all where you sit."]
    high = (
        f" That is above {HIGH_FT:.0f} feet: not for a first sit."
        if top.height_ft > HIGH_FT
        else ""
    )
    many = "1 stand here is" if len(raised) == 1 else f"{len(raised)} stands here are"
    return [
        f"{many} off the ground. The highest is {top.name}, {top.height_ft:.0f} feet up.{high}",
        "Wear a full-body harness. Clip in on the ground, and stay clipped until you are down "
        "again. Know how to take the weight off your legs if you hang.",
        "Check straps and tree. Climb with three points of contact. Haul the bow or gun up after "
        "you, unloaded, with nothing nocked.",
    ]


def _light_line(room: Room) -> str:
    clock = room.morning
    span = f"{room.at(clock.legal_start_s)} to {room.at(clock.legal_end_s)}"
    if clock.season is None:
        return f"{date_text(room.date)} is outside every season here: no legal light."
    sure = "" if clock.season.checked_on else " Not confirmed: check your state's rule."
    return f"Legal light on {date_text(room.date)} is {span}.{sure}"


def _no_shot_lines(room: Room) -> list[str]:
    """Where no shot goes: each no-shoot place from the stand nearest to it."""
    lines = []
    for mark in room.ground.marks:
        if mark.kind != "no-shoot" or not room.stands:
            continue
        points = room.scene.plane.points(mark.points)
        shape = shapely.Polygon(points) if len(points) > 2 else shapely.MultiPoint(points)
        at = {s.id: room.scene.stands_m[room.scene.index(s)] for s in room.stands}
        stand = min(room.stands, key=lambda s: (shape.distance(shapely.Point(at[s.id])), s.id))
        middle = np.array([shape.centroid.x, shape.centroid.y])
        far = yards(shape.distance(shapely.Point(at[stand.id])))
        toward = direction_words(float(bearing_deg(at[stand.id], middle)))
        lines.append(f"{mark.name} lies {far} {toward} of {stand.name}: never shoot that way.")
    return lines


def _orange_lines(room: Room) -> list[str]:
    season = room.morning.season
    said = orange_on(room.ground, room.date, season.weapon if season else None)
    return [said] if said else []


def _who_lines(room: Room) -> list[str]:
    """Whom to tell, and when one is back."""
    people = in_a_row(p.name for p in room.ground.people)
    whom = f"Tell {people}" if people else "Tell someone"
    stand, way = next(((s, w) for s in room.stands for w in room.scene.ways(s, OUT)), (None, None))
    lines = [f"{whom} where you sit, which way you walk, and when you are back."]
    if stand is not None and way is not None:
        back = room.at(room.morning.legal_end_s + way.minutes * SECONDS_PER_MINUTE)
        lines.append(
            f"From {stand.name} by {way.lane.name} you are at the truck by {back}. "
            "Say what they do if you are not."
        )
    return lines


def _safe_task(room: Room, top: Stand | None) -> Task:
    if top is not None:
        return Task(
            f"Somebody climbs to {top.name}, {top.height_ft:.0f} feet up. When to clip in?",
            ("At the top", "On the ground", "When a deer comes"),
            1,
            "Most of the way up is as high as the top when you fall. Clip in on the ground.",
        )
    end_s = room.morning.legal_end_s
    return Task(
        f"Legal light ends at {room.at(end_s)}. A deer steps out at {room.at(end_s + 300)}. "
        "What now?",
        ("Shoot if it is close", "No shot"),
        1,
        "No light, no shot.",
    )


def getting_out(room: Room) -> Lesson:
    """Lesson 8. Args: the ground on its date."""
    part = part_on(room.ground, room.date)
    days = part.rest_days if part else 3.0
    apart = (
        "After sunset the air settles. What you leave behind stays thick and low.",
        "Rest days and the wait after a shot are common practice.",
        "Only a talk on bucks, not a checked paper, gave three days for a hunted stand. "
        "Does in a checked study came less at midday and more at night (Sullivan 2018).",
    )
    stand = next((s for s in room.stands if room.scene.ways(s, OUT)), None)
    if stand is None:
        return lacking("leave", LEAVE, "a stand with a way out", apart)
    way = room.scene.ways(stand, OUT)[0]
    end_s = room.morning.legal_end_s
    wind = room.pair.wind if room.pair else "N"
    answers = [answer_sit(room.sit(w)) for w in (wind, "calm")]
    go = [sum(s.group == GO for s in a.stands) for a in answers]
    said_part = f" ({part.name})" if part else ""
    says = [
        f"After an evening at {stand.name}, legal light ends at {room.at(end_s)}. By "
        f"{way.lane.name} you walk {minutes_text(way.minutes)} and are at the truck by "
        f"{room.at(end_s + way.minutes * SECONDS_PER_MINUTE)}.",
        *_food_line(room, way),
        f"Then rest it: {days:g} days on this ground at this time{said_part}.",
        f"Some days, stay home. On a steady {POINT_WORDS[wind]} wind that morning {go[0]} of "
        f"{len(answers[0].stands)} stands are go. In calm air it is {go[1]}.",
        "After a shot: note the time, and where the deer stood and ran. Wait half an hour, longer "
        "for a hit far back. Unload, lower the weapon, climb down clipped in, and get help.",
    ]
    sit, seat = room.judged(stand, wind, "evening")
    picture = Picture(f"{stand.name} on {a_wind(point_deg(wind))}, in the evening.", sit, seat)
    return Lesson("leave", LEAVE, tuple(says), *apart, picture, _rest_task(room, stand, days))


def _food_line(room: Room, way: Way) -> list[str]:
    """The food that lies nearest to the way out, which deer hold by then."""
    line = shapely.LineString(way.path_m)
    food = [
        (line.distance(p), a.name)
        for a, p in zip(room.scene.areas, room.scene.polygons, strict=True)
        if a in room.areas("food", ("night", "always"))
    ]
    if not food:
        return []
    near, name = min(food)
    return [
        f"By then deer are on food. {name} is {yards(near)} from that way. If deer stand there, "
        "wait, or have someone drive up."
    ]


def _rest_task(room: Room, stand: Stand, days: float) -> Task:
    rest = int(np.ceil(days))
    others = [d for d in (1, 0, 2 * rest + 7) if d != rest]
    soon, back, late = (
        room.date + datetime.timedelta(days=d) for d in (others[0], rest, others[-1])
    )
    return Task(
        f"You sat at {stand.name} on {date_text(room.date)}. When is it rested, by the setting of "
        "this ground?",
        tuple(f"On {date_text(d)}" for d in (soon, back, late)),
        1,
        f"{days:g} days after {date_text(room.date)} is {date_text(back)}.",
    )
