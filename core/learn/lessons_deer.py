"""Lessons on deer: where they are by the clock, and the trail before the shot."""

import numpy as np

from core.angles import POINTS_16, opposite_deg, point_deg, separation_deg, signed_difference_deg
from core.answer.change import ranges_deg
from core.ground.layout import Stand
from core.ground.plan import bearing_deg
from core.judge.stand import NO_WALKS, stand_sits
from core.learn.classroom import Lesson, Picture, Room, Task, date_text, lacking
from core.learn.turn_the_wind import POINT_WORDS, a_wind, direction_words, yards
from core.say.words import in_a_row
from core.sit.before import BEDDING_END, FOOD_END
from core.sit.held import (
    DAY_FROM_BEFORE_SUNRISE,
    DAY_TO_AFTER_SUNSET,
    NIGHT_FROM_BEFORE_SUNSET,
    NIGHT_TO_AFTER_SUNRISE,
)
from core.sit.verdicts import CLEAN, GO, JUST_OFF, WRONG
from core.units import SECONDS_PER_MINUTE

CLOCK = "Deer by the clock"
SEAT = "The sit: keep the trail clean"
BEFORE_LIGHT_MIN = 120


def deer_by_the_clock(room: Room) -> Lesson:
    """Lesson 4. Args: the ground on its date."""
    apart = (
        "Only the sun's times are physics.",
        "These hours for beds and food are common practice. Deer move most near first and last "
        "light; that has been measured (Webb 2010).",
        "In that study the moon made no change. No test shows that deer bed with the wind at "
        "their back.",
    )
    by_day = room.areas("bedding", ("day", "always"))
    by_night = room.areas("food", ("night", "always"))
    if not by_day and not by_night:
        return lacking("clock", CLOCK, "a bed or food", apart)
    day = room.morning.day
    minute = SECONDS_PER_MINUTE
    says = [
        f"On {date_text(room.date)} the sun is up from {room.at(day.sunrise_s)} to "
        f"{room.at(day.sunset_s)}."
    ]
    if by_night:
        says.append(
            f"At night deer feed: {in_a_row(a.name for a in by_night)}. We count on them there "
            f"from {room.at(day.sunset_s - NIGHT_FROM_BEFORE_SUNSET * minute)} until "
            f"{room.at(day.sunrise_s + NIGHT_TO_AFTER_SUNRISE * minute)}."
        )
    if by_day:
        says.append(
            f"By day they lie in bed: {in_a_row(a.name for a in by_day)}. We count on them there "
            f"from {room.at(day.sunrise_s - DAY_FROM_BEFORE_SUNRISE * minute)} until "
            f"{room.at(day.sunset_s + DAY_TO_AFTER_SUNSET * minute)}."
        )
    says += _travel_lines(room)
    noted = {a.id: "food by night" for a in by_night} | {a.id: "bed by day" for a in by_day}
    picture = Picture(f"Beds and food of {room.ground.name}.", noted=noted)
    return Lesson("clock", CLOCK, tuple(says), *apart, picture, _clock_task(room, by_day, by_night))


def _travel_lines(room: Room) -> list[str]:
    """Which way deer walk one of the trails, morning and evening."""
    for trail in room.ground.corridors:
        if not trail.brings_shot:
            continue
        line = room.scene.corridors_m[trail.id]
        to_food = direction_words(float(bearing_deg(line[0], line[-1])))
        to_bed = direction_words(float(bearing_deg(line[-1], line[0])))
        return [
            f"So in the morning they walk {trail.name} from food to bed, toward the {to_bed}. "
            f"In the evening they walk it back, toward the {to_food}."
        ]
    return []


def _clock_task(room: Room, by_day, by_night) -> Task | None:
    beds, food = in_a_row(a.name for a in by_day[:2]), in_a_row(a.name for a in by_night[:2])
    if not beds or not food:
        return None
    early = room.at(room.morning.day.sunrise_s - BEFORE_LIGHT_MIN * SECONDS_PER_MINUTE)
    return Task(
        f"It is {early} and dark. Where do you count on deer?",
        (f"In bed: {beds}", f"On food: {food}"),
        1,
        f"At {early} the night is not over: they are still on food. Do not walk by it.",
    )


def trail_clean(room: Room) -> Lesson:
    """Lesson 6. Args: the ground on its date."""
    apart = (
        "Which part of a trail your air reaches is a matter of lines and spread.",
        "We look at 150 yards of trail before the shot. Your range is your own setting. "
        "Many hunters like a just-off wind: it is nearly right for the deer, and it just misses "
        "them.",
        "No test shows that deer like to walk with the wind in the face.",
    )
    seats = ((s, watched) for s in room.stands if (watched := _watched(room, s)) is not None)
    first = next(seats, None)
    if first is None:
        return lacking("seat", SEAT, "a stand in range of a day trail", apart)
    found, (name, near_deg, other_deg) = first
    trail = room.ground.name_of(name)
    away = yards(room.scene.places(found)[name].distance_m)
    clean, off, onto, beside = _winds(room, found)
    wind = _most_onto(onto or beside or off or clean or list(POINTS_16), near_deg)
    says = [
        f"{found.name} watches {trail}, {away} off. Your range there is {found.range_yd:.0f} "
        "yards.",
        "In the morning deer come from the food end. They walk 150 yards of trail before your "
        f"shot. That part lies to the {direction_words(near_deg)}. Keep your air off it.",
        f"In the evening they come from the bed end, from the {direction_words(other_deg)}.",
        _winds_line(found, clean, off),
    ]
    says += _on_or_past(trail, wind if onto else None, beside, near_deg)
    sit, seat = room.judged(found, wind)
    caption = f"{found.name} on {a_wind(point_deg(wind))}, in the morning."
    right, other = direction_words(near_deg), direction_words(other_deg)
    choices = list(dict.fromkeys([other, right, direction_words(float(opposite_deg(near_deg)))]))
    task = Task(
        f"A morning at {found.name}. Which side of you must your air stay off?",
        tuple(f"The {c}" for c in choices),
        choices.index(right),
        f"Deer come along {trail} from the {right}.",
    )
    return Lesson("seat", SEAT, tuple(says), *apart, Picture(caption, sit, seat), task)


def _on_or_past(trail: str, onto: str | None, beside: list[str], near_deg: float) -> list[str]:
    """What air on a trail is, and air just past it, each with a wind that does it."""
    says = []
    if onto:
        says.append(
            f"On {a_wind(point_deg(onto))} your air goes straight onto {trail}, where they come. "
            "Where every trail in range is like that, it is the wrong wind."
        )
    if beside:
        past = a_wind(point_deg(_most_onto(beside, near_deg)))
        says.append(
            f"On {past} it goes just past {trail}. That is just-off: they come close to it."
        )
    return says


def _watched(room: Room, stand: Stand) -> tuple[str, float, float] | None:
    """A trail in range, and where its parts lie: morning's and evening's. [deg]"""
    at_m = room.scene.stands_m[room.scene.index(stand)]
    both = [room.scene.before_shot(stand, stand.range_yd, (e,)) for e in (FOOD_END, BEDDING_END)]
    for name in both[0]:
        if name in both[1]:
            # the far end of a part is where deer come from
            far = [_farthest_deg(parts[name], at_m) for parts in both]
            return name, far[0], far[1]
    return None


def _farthest_deg(part, at_m) -> float:
    points = np.concatenate([part.a_m, part.b_m]) - at_m
    far = points[int(np.argmax(np.hypot(points[:, 0], points[:, 1])))]
    return float(np.degrees(np.arctan2(far[0], far[1])) % 360.0)


def _winds(room: Room, stand: Stand) -> tuple[list[str], list[str], list[str], list[str]]:
    """Points on which a steady morning's air is clean; just-off; straight onto a trail, wrong
    or not; just-off by a trail that it does not lie on."""
    sit = room.sit("N")
    swept = sit.sits.swept(sit.at, [point_deg(p) for p in POINTS_16])
    found = stand_sits(swept, stand, walks=NO_WALKS)
    judged, hours = found.judged, found.hours
    go = judged.air_group == GO
    clean, off = (go & (judged.air_verdict == v) for v in (CLEAN, JUST_OFF))
    n_areas, by_sit = len(room.scene.areas), found.rows.judged.by_sit
    trails = np.where(hours.counts, hours.place_verdict, CLEAN)[:, n_areas:]
    onto, reached = (
        by_sit(mask.any(axis=1)).any(axis=1) for mask in (trails == WRONG, trails != CLEAN)
    )
    masks = (clean, off, onto, off & reached & ~onto)
    points = [[POINTS_16[i] for i in np.flatnonzero(mask)] for mask in masks]
    return points[0], points[1], points[2], points[3]


def _most_onto(points: list[str], toward_deg: float) -> str:
    """Of some winds the one that blows most squarely toward a direction."""
    straight = opposite_deg(toward_deg)
    return min(
        points,
        key=lambda p: (
            float(separation_deg(point_deg(p), straight)),
            float(signed_difference_deg(point_deg(p), straight)),
        ),
    )


def _winds_line(stand: Stand, clean: list[str], off: list[str]) -> str:
    runs = []
    for word, points in (("clean", clean), ("just-off", off)):
        if points:
            runs.append(f"{word} on winds from {_rounds(points)}")
    if not runs:
        return f"On a steady wind no point is good for {stand.name} in the morning."
    return f"In a steady wind {stand.name} is {', and '.join(runs)}."


def _rounds(points: list[str]) -> str:
    """Points in runs: west round to north."""
    runs = ranges_deg([p in points for p in POINTS_16])
    if runs == [(0, 360)]:
        return "all round"
    return " or ".join(
        POINT_WORDS[POINTS_16[a]]
        if a == b
        else f"{POINT_WORDS[POINTS_16[a]]} round to {POINT_WORDS[POINTS_16[b]]}"
        for a, b in runs
    )
