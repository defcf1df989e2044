"""What the commands share: dates, the clock, files, the words for a taken stand."""

import argparse
import datetime
import json
import time
from collections.abc import Callable
from pathlib import Path

from core.errors import BadRequest
from core.harmless import harmless_json


def as_json(report: dict) -> str:
    """JSON on one line. Args: a report of plain values. Returns: the text; characters that a
    terminal obeys are escapes in it, so that what it means is whole."""
    return harmless_json(json.dumps(report, ensure_ascii=False, allow_nan=False))


def common(parser: argparse.ArgumentParser, run) -> None:
    """What most commands take. Args: the command's parser; the function that runs it."""
    parser.add_argument("--property", required=True)
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--now")
    parser.set_defaults(run=run)


def date_of(text: str) -> datetime.date:
    """A date from words. Args: text. Returns: the date. Raises: BadRequest."""
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise BadRequest(f"'{text}' is no date", "--date", "Write it like 2026-11-10.") from None


def now_from(text: str | None) -> float:
    """The clock, or the time given. Args: ISO text with an offset, or None. Returns: epoch
    seconds. Raises: BadRequest."""
    if text is None:
        return time.time()
    try:
        at = datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        raise BadRequest(
            f"'{text}' is no time", "--now", "Write it like 2026-11-10T04:30-05:00."
        ) from None
    if at.tzinfo is None:
        raise BadRequest(f"'{text}' has no offset", "--now", "Add one, like -05:00 or Z.")
    return at.timestamp()


def scene_at(path: str):
    """The ground of a file. Args: its path. Returns: its Scene. Raises: BadProperty."""
    from core.ground.store import open_property
    from core.land.kept import land_of
    from core.sit.scene import Scene

    opened = open_property(path)
    return Scene(opened.property, land_of(opened)[0])


def weather_file(path: str, answers=None, center=None):
    """The hours of a weather file.

    Args: its path; Answers to what it leaves open; (lon, lat) of the ground it is for, None
    for any [deg]. Returns: Hours. Raises: BadWeather, and NeedsAnswer where something stays
    open.
    """
    from core.weather.answers import Answers
    from core.weather.elsewhere import for_ground
    from core.weather.files.recognise import read_weather
    from core.weather.reading.weather_file import file_bytes

    name, answers = Path(path).name, answers or Answers()
    hours = read_weather(file_bytes(Path(path), path), name, answers)
    return hours if center is None else for_ground(hours, center, name, answers)


def add_taken(parser: argparse.ArgumentParser) -> None:
    """Adds --taken, the stands that others have. Args: the command's parser."""
    parser.add_argument(
        "--taken",
        nargs="+",
        action="extend",
        default=[],
        metavar="STAND:NAME",
        help="a stand that another hunter has, like creek:Nell",
    )


def taken_from(words: list[str], ground) -> dict[str, str]:
    """Who has which stand. Args: words like creek:Nell; the ground. Returns: names by stand
    id. Raises: BadRequest, also for one stand with two hunters."""
    found: dict[str, str] = {}
    for word in words:
        stand, colon, name = word.partition(":")
        if not colon or not name.strip():
            raise BadRequest(f"'{word}' is not STAND:NAME", "--taken", "Write it like creek:Nell.")
        key = stand_id(stand, ground, "--taken")
        if found.get(key, name.strip()) != name.strip():
            raise BadRequest(
                f"'{stand}' is taken by {found[key]} and by {name.strip()}",
                "--taken",
                "Name one hunter for each stand.",
            )
        found[key] = name.strip()
    return found


def stand_id(word: str, ground, option: str) -> str:
    """The id of a stand. Args: its id or name; the ground; the option that names it, for the
    message. Raises: BadRequest for a stand that is not there."""
    ids = {s.name.casefold(): s.id for s in ground.stands} | {s.id: s.id for s in ground.stands}
    key = ids.get(word.strip()) or ids.get(word.strip().casefold())
    if key is None:
        known = ", ".join(sorted({s.id for s in ground.stands}))
        raise BadRequest(f"no stand is called '{word}'", option, f"Stands here: {known}.")
    return key


def add_replace(parser: argparse.ArgumentParser) -> None:
    """Adds --replace. Args: the parser of a command that writes a file."""
    parser.add_argument("--replace", action="store_true")


def output(options, path: str, *inputs: str) -> Callable[[str], int]:
    """What writes a file, whole or not at all; whether it may is seen at once.

    Args: the parsed words; where to; files that are read and must stay.
    Returns: a function that writes a text and gives its length. [bytes]
    Raises: BadRequest, as the function does.
    """
    from core.ground.files.output import check_output, write_output

    check_output(path, replace=options.replace, inputs=inputs)

    def write(text: str) -> int:
        data = text.encode("utf-8")
        write_output(path, data, replace=options.replace, inputs=inputs)
        return len(data)

    return write


def likely(answers: list, now_s: float, log=()) -> list:
    """Answers with their chances, ordered by them.

    Args: answers of one wind; the clock [epoch s]; entries of the log, or None.
    """
    from core.chance.shares import with_chances

    if not answers:
        return []
    sit = answers[0].sit
    return with_chances(answers, now_s, misses_at(sit.weather, sit.scene.ground, now_s, log))


def misses_at(weather, ground, now_s: float, log=()):
    """How far forecasts miss on a ground, by what is kept there; None for another wind.

    Args: the wind; the property; the clock [epoch s]; entries of the log, or None.
    """
    from core.chance.own_pairs import misses_here
    from core.ground.store import data_folder

    if weather.kind != "forecast":
        return None
    return misses_here(weather, ground, data_folder(), log or (), now_s=now_s)
