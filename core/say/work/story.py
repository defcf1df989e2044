"""A trail's story in words: what was done, what was seen, what it serves, how much has grown."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from core.chores.degree_days import DegreeDays, OwnTime, degree_days, own_times
from core.chores.due import Chore
from core.chores.kinds import CHECK, CUT, SPRAY
from core.chores.last_done import all_done, last_done
from core.chores.story import Told, serves, story
from core.ground.layout import Property
from core.keep.entries import Entry
from core.say.log.lines import entry_line
from core.say.words import in_a_row
from core.say.work.chores import STATES_SAID, day_text, title, when
from core.sit.scene import Scene
from core.weather.hours import Hours

DONE_SAID = {CUT: "Cut", SPRAY: "Sprayed", CHECK: "Looked along"}
NO_STORY = "Nothing is known of it yet: no date, no entry of the log."
GROWN_NOTE = (
    "Growing degree days (°F over 50, held to 86): compare them with your own times only. How many "
    "regrowth takes is published nowhere."
)


@dataclass(frozen=True, slots=True)
class TrailSaid:
    """What is known of a trail, in lines: its use, what is due, what grew, what happened."""

    serves: str
    due: tuple[str, ...]
    grown: tuple[str, ...]
    happened: tuple[tuple[datetime.date, str], ...]


def trail_said(
    scene: Scene,
    trail: str,
    entries: Sequence[Entry],
    found: Sequence[Chore],
    today: datetime.date,
    tables: Sequence[Hours],
) -> TrailSaid:
    """A trail's story. Args: the scene; the trail's id; entries of the log; the ground's
    chores; the local date; hours with temperatures, the best first."""
    ground = scene.ground
    return TrailSaid(
        serves_text(scene, trail),
        tuple(
            f"{STATES_SAID[c.state].capitalize()}: {title(c, ground)}, {when(c)}."
            for c in found
            if c.feature == trail
        ),
        tuple(grown_lines(ground, trail, entries, today, tables)),
        tuple((t.day, told_text(t, ground)) for t in story(ground, entries, trail)),
    )


def serves_text(scene: Scene, trail: str) -> str:
    """What a trail serves, in a sentence or two. Args: the scene; the trail's id."""
    found, name = serves(scene, trail), scene.ground.name_of
    stands = in_a_row(name(id_) for id_ in found.stands)
    said = f"In range of {stands}." if stands else "In range of no stand by day."
    areas = in_a_row(name(id_) for id_ in found.areas)
    return f"{said} It touches {areas}." if areas else said


def told_text(told: Told, ground: Property) -> str:
    """One thing of the story, without its day. Args: it; the ground."""
    if told.entry is None:
        return f"{DONE_SAID[told.chore]}, by the ground's own date"
    note = told.entry.get("text")
    said = entry_line(told.entry, ground)
    return f"{said}: {note}" if note and note not in said else said


def grown_lines(
    ground: Property,
    trail: str,
    entries: Sequence[Entry],
    today: datetime.date,
    tables: Sequence[Hours],
) -> list[str]:
    """What has grown since the last cut, and what had when it was sprayed before.

    Args: as `trail_said`. Returns: no line where nobody knows of a cut.
    """
    done = all_done(ground, entries)
    cut = last_done(done, CUT, trail, today).date
    if cut is None:
        return []
    grown = degree_days(tables, ground.timezone, cut, today)
    lines = [f"Since it was cut on {day_text(cut)}: {grown_text(grown)}"]
    times = own_times(done, trail, today, tables, ground.timezone)
    return [*lines, *map(own_time_text, times), GROWN_NOTE]


def grown_text(grown: DegreeDays) -> str:
    """A sum of degree days, and what is missing of it. Args: the sum."""
    if not grown.known:
        days = "no day has gone by" if not grown.missing else "no temperatures of it are kept here"
        return f"not known, {days}."
    least = "at least " if grown.missing else ""
    said = f"{least}{grown.total:,.0f} growing degree days"
    if not grown.missing:
        return f"{said}."
    days = f"{grown.missing} of {grown.known + grown.missing} days"
    return f"{said}; {days} have no temperatures here."


def own_time_text(time: OwnTime) -> str:
    """A former time. Args: it."""
    return (
        f"You sprayed on {day_text(time.sprayed)}, cut on {day_text(time.cut)}: "
        f"{grown_text(time.grown)}"
    )


def story_lines(said: TrailSaid, name: str) -> list[str]:
    """A trail's story as lines. Args: it; the trail's name."""
    happened = [f"{day_text(day)}: {words}" for day, words in said.happened]
    return [f"{name}. {said.serves}", *said.due, *said.grown, *(happened or [NO_STORY])]


def story_dict(said: TrailSaid, trail: str, name: str) -> dict:
    """A trail's story as plain data. Args: it; the trail's id and name."""
    return {
        "trail": trail,
        "name": name,
        "serves": said.serves,
        "due": list(said.due),
        "grown": list(said.grown),
        "happened": [{"date": day.isoformat(), "what": words} for day, words in said.happened],
    }
