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
from core.say.work.chores import day_text, state_line
from core.sit.scene import Scene
from core.weather.hours import Hours

DONE_SAID = {CUT: "Cut", SPRAY: "Sprayed", CHECK: "Looked along"}
NO_STORY = "Nothing is known of it yet: no date, no entry of the log."
MOST_GAPS = 3
KINDS_OF_DAYS = {  # after a number of days
    "forecast": "days of kept forecasts",
    "measured": "days measured",
    "modelled": "days modelled",
    "unsaid": "days of files",
}
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
    growth: "Growth | None" = None


@dataclass(frozen=True, slots=True)
class Growth:
    """What has grown since the last cut, and what had when it was sprayed before."""

    cut: datetime.date
    grown: DegreeDays
    times: tuple[OwnTime, ...]

    @property
    def since(self) -> datetime.date:
        """The first cut of those that are told."""
        return min([self.cut, *(time.cut for time in self.times)])

    @property
    def is_whole(self) -> bool:
        """Whether all of it is told."""
        return all(g.is_told for g in (self.grown, *(time.grown for time in self.times)))


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
    growth = growth_of(ground, trail, entries, today, tables)
    return TrailSaid(
        serves_text(scene, trail),
        tuple(
            f"{line[:1].upper()}{line[1:]}"
            for line in (state_line(c, ground) for c in found if c.feature == trail)
        ),
        tuple(grown_lines(growth)),
        tuple((t.day, told_text(t, ground)) for t in story(ground, entries, trail)),
        growth,
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


def growth_of(
    ground: Property,
    trail: str,
    entries: Sequence[Entry],
    today: datetime.date,
    tables: Sequence[Hours],
) -> Growth | None:
    """What has grown since the last cut. Args: as `trail_said`. Missing: None where nobody
    knows of a cut."""
    done = all_done(ground, entries)
    cut = last_done(done, CUT, trail, today).date
    if cut is None:
        return None
    grown = degree_days(tables, ground.timezone, cut, today)
    return Growth(cut, grown, tuple(own_times(done, trail, today, tables, ground.timezone)))


def grown_lines(growth: Growth | None) -> list[str]:
    """What has grown, and had grown before. Args: it. Returns: no line without a cut."""
    if growth is None:
        return []
    since = f"Since it was cut on {day_text(growth.cut)}: {grown_text(growth.grown)}"
    return [since, *map(own_time_text, growth.times), GROWN_NOTE]


def grown_text(grown: DegreeDays) -> str:
    """A sum of degree days, and what is missing of it. Args: the sum. Returns: no number
    where too many days are missing."""
    days = grown.known + grown.missing
    if not days:
        return "no day has gone by."
    if not grown.known:
        return "not known, no temperatures of it are kept here."
    gaps = f"{grown.missing} of {days} days have no temperatures here ({_gaps_said(grown)})"
    if not grown.is_told:
        return f"not known: {gaps}."
    least = "at least " if grown.missing else ""
    said = f"{least}{grown.total:,.0f} growing degree days"
    by = in_a_row(f"{n:,} {KINDS_OF_DAYS[kind]}" for kind, n in grown.kinds)
    by = f", by {by}" if by else ""
    return f"{said}{by}; {gaps}." if grown.missing else f"{said}{by}."


def _gaps_said(grown: DegreeDays) -> str:
    spans = [
        day_text(first) if first == last else f"{day_text(first)} to {day_text(last)}"
        for first, last in grown.gaps[:MOST_GAPS]
    ]
    return ", ".join(spans) + (", and others" if len(grown.gaps) > MOST_GAPS else "")


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
        "degree_days": _growth_dict(said.growth),
        "happened": [{"date": day.isoformat(), "what": words} for day, words in said.happened],
    }


def _growth_dict(growth: Growth | None) -> dict | None:
    if growth is None:
        return None

    def told(cut: datetime.date, grown: DegreeDays) -> dict:
        return {
            "cut": cut.isoformat(),
            "degree_days_f": round(grown.total) if grown.is_told else None,
            "days_known": grown.known,
            "days_missing": grown.missing,
            "missing": [[a.isoformat(), b.isoformat()] for a, b in grown.gaps],
            "by": dict(grown.kinds),
        }

    before = [
        {**told(time.cut, time.grown), "sprayed": time.sprayed.isoformat()} for time in growth.times
    ]
    return {**told(growth.cut, growth.grown), "before": before}
