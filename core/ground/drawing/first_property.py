"""A property of one's own, begun: empty or as a copy, with the owner's first answers.

Numbers that stand here until the owner says otherwise are those of the property file:
common practice with no source.
"""

import copy
import re
import uuid
from dataclasses import dataclass, field

from core.errors import BadProperty
from core.ground.drawing.edits import FIRST_WORDS
from core.ground.drawing.settings import day_written
from core.ground.fields import shown
from core.ground.layout import LonLat
from core.ground.parse import FORMAT, VERSION, read_document
from core.units import M_PER_MILE, M_PER_YD

MINUTES_PER_HOUR = 60
SLOWEST_MPH, FASTEST_MPH = 0.2, 4.0
EMPTY = {"type": "FeatureCollection", "features": []}
CLEAN_IS = 2.0  # times the distance within which the wind is wrong
LEAST_RANGE_YD = 5.0
YARDS = re.compile(r"\s*(?P<yards>\d{1,4}(?:\.\d+)?)\s*(?:yd|yds|yards?)?\.?\s*", re.IGNORECASE)
YARDS_AT_END = re.compile(r"\s" + YARDS.pattern + "$", re.IGNORECASE)
LEAST_WORRY_YD, MOST_WORRY_YD = 10.0, 1760.0


@dataclass(frozen=True)
class OwnerAnswers:
    """What the owner answered, about eight things; each has its default."""

    weapon: str = "bow"
    season_first: str = "09-13"  # MM-DD
    season_last: str = "01-01"
    before_sunrise_min: float = 30.0
    after_sunset_min: float = 30.0
    rule: str = ""  # where legal light was read
    checked_on: str | None = None  # the day it was read, YYYY-MM-DD
    range_yd: float = 30.0
    worry_yd: float = 250.0
    climb_down: str = "10:30"
    walk_yd: float = 880.0
    walk_min: float = 20.0
    gear_up_min: float = 10.0
    parts: tuple[tuple[str, str, str, float], ...] = ()  # name, first, last, rest days
    max_gust_mph: float | None = None
    people: tuple[tuple[str, float], ...] = ()  # name, range in yards


@dataclass(frozen=True)
class Start:
    """Which ground: its name, and for an empty one the middle of it and its time zone."""

    name: str
    center: LonLat | None = None
    timezone: str = "America/New_York"
    answers: OwnerAnswers = field(default_factory=OwnerAnswers)


def first_document(start: Start, copied: dict | None = None) -> dict:
    """The document of a property that begins now, ready to be saved.

    Args:
        start: its name, place and the owner's answers.
        copied: the document of a ground to copy; None begins an empty one.

    Raises: BadProperty for an answer that no property file may hold.
    """
    if not start.name.strip():
        raise BadProperty("the property has no name yet", "name", "Write what you call it.")
    if copied is None and start.center is None:
        raise BadProperty(
            "the place of the ground is not known yet",
            "place",
            "Write latitude and longitude of a spot on it, like 36.10, -79.90.",
        )
    base: dict = copy.deepcopy(copied) if copied else dict(EMPTY)
    rules = {**base.get("property", {}), **_rules(start), "name": start.name.strip()}
    if copied is None:
        rules |= {"timezone": start.timezone, "center": list(start.center or ())}
    rules["uid"] = str(uuid.uuid4())
    document = {**base, "property": rules, "features": _with_gusts(base["features"], start)}
    return read_document(document, "your answers").document


def _rules(start: Start) -> dict:
    """The rules that the answers give; what they leave open keeps its default."""
    answers = start.answers
    season = {
        "weapon": answers.weapon,
        "first": answers.season_first,
        "last": answers.season_last,
        "before_sunrise_min": answers.before_sunrise_min,
        "after_sunset_min": answers.after_sunset_min,
        "rule": answers.rule,
        "checked_on": answers.checked_on,
    }
    words: dict = {"range_yd": answers.range_yd}
    if answers.max_gust_mph is not None:
        words["max_gust_mph"] = answers.max_gust_mph
    return {
        "format": FORMAT,
        "version": VERSION,
        "revision": 0,
        "seasons": [season],
        "parts": [
            {"name": name, "first": first, "last": last, "rest_days": rest}
            for name, first, last, rest in answers.parts
        ],
        "sit": {
            "morning_end": answers.climb_down,
            "gear_up_min": answers.gear_up_min,
            "walk_mph": round(walk_mph(answers.walk_yd, answers.walk_min), 2),
        },
        "air": {"wrong_within_yd": answers.worry_yd, "clean_beyond_yd": _clean_beyond_yd(answers)},
        "people": [
            {"name": name, "range_yd": range_yd, "ranges_yd": {}}
            for name, range_yd in answers.people
        ],
        "accepted": [],
        FIRST_WORDS: {"stand": words},
    }


def _clean_beyond_yd(answers: OwnerAnswers) -> float:
    if not LEAST_WORRY_YD <= answers.worry_yd <= MOST_WORRY_YD:
        raise BadProperty(
            f"a bed worries you within {answers.worry_yd:g} yd",
            "your answers",
            f"Give {LEAST_WORRY_YD:g} to {MOST_WORRY_YD:,.0f} yards.",
        )
    return CLEAN_IS * answers.worry_yd


def walk_mph(yards: float, minutes: float) -> float:
    """Walking speed in the dark, from one walk that the owner knows. [mph]

    Raises: BadProperty for a walk that nobody walks.
    """
    mph = yards * M_PER_YD / M_PER_MILE / (minutes / MINUTES_PER_HOUR) if minutes > 0 else 0.0
    if not SLOWEST_MPH <= mph <= FASTEST_MPH:
        raise BadProperty(
            f"{yards:g} yards in {minutes:g} minutes is {mph:.1f} miles an hour",
            "longest walk",
            f"Give a walk of {SLOWEST_MPH:g} to {FASTEST_MPH:g} miles an hour.",
        )
    return mph


def _with_gusts(features: list[dict], start: Start) -> list[dict]:
    """The stands of a copy take the owner's limit, where they have none of their own."""
    limit = start.answers.max_gust_mph
    if limit is None:
        return features
    return [
        {**f, "properties": {**f["properties"], "max_gust_mph": limit}}
        if f["properties"].get("kind") == "stand" and "max_gust_mph" not in f["properties"]
        else f
        for f in features
    ]


def people_from_text(text: str, range_yd: float) -> tuple[tuple[str, float], ...]:
    """People as typed, one a line: a name, and after a comma how far they shoot.

    Args:
        text: as "Nell, 25", "Nell 25" or "Nell, 25 yd"; lines without anything are passed over.
        range_yd: for those without a number.

    Raises: BadProperty, with the line.
    """
    people = []
    for line in filter(str.strip, text.splitlines()):
        name, comma, range_text = line.partition(",")
        ends = YARDS_AT_END.search(name)
        if ends and not comma:
            _check_no_name(name.strip(), ends)
            name, range_text = name[: ends.start()], ends["yards"]
        number = YARDS.fullmatch(range_text)
        if range_text.strip() and not number:
            raise BadProperty(
                f"the range {shown(range_text.strip())} is not a number",
                f"person {shown(name.strip())}",
                "Write a name, a comma and the yards, like Nell, 25.",
            )
        people.append((name.strip(), float(number["yards"]) if number else range_yd))
    return tuple(people)


def _check_no_name(line: str, ends: re.Match) -> None:
    """That a number behind a name is a range and no part of it. Raises: BadProperty."""
    if float(ends["yards"]) >= LEAST_RANGE_YD and line[: ends.start()].strip():
        return
    raise BadProperty(
        f"{shown(line)} may be a name or a name and a range",
        "who hunts here",
        "Write a name, a comma and the yards, like Nell, 25.",
    )


def parts_from_text(
    text: str, month_first: bool | None = None
) -> tuple[tuple[str, str, str, float], ...]:
    """Parts of the season as typed, one a line: name, first day, last day, days of rest.

    Args:
        text: as "early, 09-13, 10-19, 3"; lines without anything are passed over.
        month_first: whether the month stands first in 9/10; None where nobody said.

    Raises: BadProperty, with the line.
    """
    parts = []
    for line in filter(str.strip, text.splitlines()):
        cells = [cell.strip() for cell in line.split(",")]
        try:
            name, first, last, rest = cells
            days = [day_written(day, f"part {name}", month_first) for day in (first, last)]
            parts.append((name, days[0], days[1], float(rest)))
        except ValueError:
            raise BadProperty(
                f"{shown(line.strip())} is no part of a season",
                "parts of the season",
                "Write four things with commas, like early, 09-13, 10-19, 3.",
            ) from None
    return tuple(parts)
