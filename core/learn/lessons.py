"""Eight short lessons on this very ground, each one screen."""

import dataclasses
from collections.abc import Callable

from core.errors import BadRequest
from core.learn import lessons_air, lessons_care, lessons_deer, lessons_walk
from core.learn.classroom import Lesson, Picture, Room, Task, mixed, teaching_date

__all__ = ["LESSONS", "Lesson", "Picture", "Room", "Task", "lesson", "teaching_date"]

LESSONS: dict[str, tuple[str, Callable[[Room], Lesson]]] = {
    "safe": (lessons_care.SAFE, lessons_care.safe_first),
    "named": (lessons_air.NAMED, lessons_air.wind_named),
    "goes": (lessons_air.GOES, lessons_air.air_goes),
    "clock": (lessons_deer.CLOCK, lessons_deer.deer_by_the_clock),
    "walk": (lessons_walk.WALK, lessons_walk.getting_in),
    "seat": (lessons_deer.SEAT, lessons_deer.trail_clean),
    "slopes": (lessons_air.SLOPES, lessons_air.slopes_and_still_air),
    "leave": (lessons_care.LEAVE, lessons_care.getting_out),
}


def lesson(room: Room, key: str) -> Lesson:
    """One lesson, made from the ground.

    Args: the ground on its date; a key of LESSONS. Raises: BadRequest for another key;
    NoSun on a date without sunrise or sunset.
    """
    if key not in LESSONS:
        raise BadRequest(f"no lesson is called '{key}'", "the lesson", f"Use {', '.join(LESSONS)}.")
    made = LESSONS[key][1](room)
    task = None if made.task is None else mixed(made.task, f"{key} {room.ground.name} {room.date}")
    return dataclasses.replace(made, task=task)
