"""A day's round in words: the walk from stop to stop, what to do at each, what to bring."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from core.chores.rounds import Round, Stop, walk_minutes
from core.chores.walking import JOIN_M, Leg
from core.ground.layout import Property
from core.say.words import in_a_row
from core.say.work.chores import bring, cautions, own_why, title, when
from core.units import M_PER_YD

ALONE = "Somebody knows where you are, and when you are back."
ORDER = (
    "Searched exactly: no other order is shorter over what is drawn. It knows no fence, no "
    "water and no deer."
)


@dataclass(frozen=True, slots=True)
class StopSaid:
    """One stop: its name, how one comes to it, its jobs, each with its last date."""

    name: str
    walk: str
    jobs: tuple[tuple[str, str], ...]


def yards(length_m: float) -> str:
    """A walk's length, as 1,210 yd: to ten from a hundred on. Args: [m]"""
    length_yd = length_m / M_PER_YD
    step = 10 if length_yd >= 100 else 1
    return f"{int(length_yd / step + 0.5) * step:,} yd"


def leg_text(leg: Leg, ground: Property) -> str:
    """A walk between two stops. Args: it; the ground."""
    if leg.length_m < 0.5 * M_PER_YD:
        return "You are there."
    by = f" by {in_a_row(ground.name_of(id_) for id_ in leg.along)}" if leg.along else ""
    said = f"{yards(leg.length_m)}{by}, {walk_minutes(leg.length_m, ground)} min."
    if leg.straight_m <= JOIN_M:
        return said
    if leg.length_m - leg.straight_m < 0.5 * M_PER_YD:
        return f"{said} Straight: no path is drawn."
    return f"{said} Of it {yards(leg.straight_m)} straight: no path is drawn."


def stop_said(stop: Stop, ground: Property, today: datetime.date) -> StopSaid:
    """A stop in words. Args: it; the ground; the local date."""
    walk = leg_text(stop.leg, ground)
    if stop.along_m:
        end = "from its far end" if stop.from_end else "from its first end"
        walk += f" Along it {yards(stop.along_m)}, {end}."
    jobs = tuple(
        (title(job, ground), f"{when(job)}. {own_why(job, ground, today)}".strip())
        for job in stop.chores
    )
    name = ground.name_of(stop.feature) if stop.feature else "A new spot"
    return StopSaid(name, walk, jobs)


def summed_up(found: Round, ground: Property) -> str:
    """The whole round in a sentence or two. Args: it; the ground."""
    n = len(found.stops)
    places = f"{n} {'place' if n == 1 else 'places'}"
    said = (
        f"From {ground.name_of(found.start)} past {places} and back: {yards(found.length_m)}, "
        f"{walk_minutes(found.length_m, ground)} min on foot at {ground.sit.walk_mph:g} mph."
    )
    if found.straight_m > JOIN_M:
        said += f" {yards(found.straight_m)} of it is straight, where no path is drawn."
    return f"{said} {_work_said(found)}".strip()


def _work_said(found: Round) -> str:
    """How long the work took last time, as far as it was written down."""
    jobs = [job for stop in found.stops for job in stop.chores] + list(found.nowhere)
    known = [job.last.minutes for job in jobs if job.last.minutes is not None]
    blank = len(jobs) - len(known)
    if not known:
        return "How long the work took is not written down." if jobs else ""
    said = f"The work took {sum(known):.0f} min last time"
    return f"{said}; of {blank} more it is not written down." if blank else f"{said}."


def to_bring(found: Round) -> list[str]:
    """What to take along, each once. Args: the round."""
    return _once(thing for job in _jobs(found) for thing in bring(job))


def care_of(found: Round, ground: Property) -> list[str]:
    """The cautions of all its jobs, each once. Args: the round; the ground."""
    return [*_once(said for job in _jobs(found) for said in cautions(job, ground)), ALONE]


def _jobs(found: Round) -> list:
    return [job for stop in found.stops for job in stop.chores] + list(found.nowhere)


def _once(things: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(things))


def round_lines(found: Round, ground: Property, today: datetime.date) -> list[str]:
    """The round as lines. Args: it; the ground; the local date."""
    lines = [summed_up(found, ground)]
    if things := to_bring(found):
        lines.append(f"Bring: {', '.join(things)}.")
    lines.append(f"Take care. {' '.join(care_of(found, ground))}")
    for number, stop in enumerate(found.stops, 1):
        said = stop_said(stop, ground, today)
        lines.append(f"{number}. {said.name}: {said.walk}")
        lines += [f"   [ ] {job}, {about}" for job, about in said.jobs]
    lines.append(f"Back at {ground.name_of(found.start)}: {leg_text(found.back, ground)}")
    if found.nowhere:
        named = ", ".join(title(job, ground) for job in found.nowhere)
        lines.append(f"At no place of its own: {named}.")
    return [*lines, ORDER]


def round_dict(found: Round, ground: Property, today: datetime.date) -> dict:
    """The round as plain data. Args: as `round_lines`."""
    return {
        "date": today.isoformat(),
        "start": found.start,
        "yards": _whole_yards(found.length_m),
        "straight_yards": _whole_yards(found.straight_m),
        "minutes": walk_minutes(found.length_m, ground),
        "bring": to_bring(found),
        "cautions": care_of(found, ground),
        "stops": [_stop_dict(stop, ground) for stop in found.stops],
        "back": _leg_dict(found.back, ground),
        "nowhere": [job.key for job in found.nowhere],
        "note": ORDER,
    }


def _stop_dict(stop: Stop, ground: Property) -> dict:
    return {
        "feature": stop.feature or None,
        "walk": _leg_dict(stop.leg, ground),
        "along_yards": _whole_yards(stop.along_m),
        "from_end": stop.from_end,
        "jobs": [
            {
                "key": job.key,
                "title": title(job, ground),
                "last": job.last.date.isoformat() if job.last.date else None,
                "minutes_last": job.last.minutes,
            }
            for job in stop.chores
        ],
    }


def _leg_dict(leg: Leg, ground: Property) -> dict:
    return {
        "yards": _whole_yards(leg.length_m),
        "straight_yards": _whole_yards(leg.straight_m),
        "minutes": walk_minutes(leg.length_m, ground),
        "by": list(leg.along),
    }


def _whole_yards(length_m: float) -> int:
    return int(length_m / M_PER_YD + 0.5)
