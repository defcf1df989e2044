"""Answers on the command line to what a weather file leaves open."""

import argparse
import sys
from collections.abc import Callable
from typing import Any

from core.cli.printing import put

WORDS_HELP = {
    "direction_sense": "whether a table's directions say where the wind comes from or goes toward",
    "direction_unit": "what a table's directions count in: deg, tens (of degrees), rad, turns, or "
    "points of the compass",
    "hour_label": "whether a table's times are the start or the end of their hours",
    "far_hours": "whether hours decades from all others are to keep or to drop",
    "elsewhere": "whether to use or to leave a file that is for a place over 30 miles off",
}


def option_of(field: str) -> str:
    """The option of a field of Answers. Args: the field."""
    return "--column" if field == "columns" else f"--{field.replace('_', '-')}"


def add_answers(parser: argparse.ArgumentParser) -> None:
    """Adds an option for each answer that a file may ask for. Args: the command's parser."""
    parser.add_argument("--zone", help="zone of a table's times: a name, UTC or -05:00")
    parser.add_argument("--speed-unit", help="unit of a table's wind: mph, kt, m/s or km/h")
    parser.add_argument(
        "--dayfirst",
        action=argparse.BooleanOptionalAction,
        help="whether 03/04 in a table is 3 April",
    )
    parser.add_argument(
        "--yearfirst",
        action=argparse.BooleanOptionalAction,
        help="whether 26/11/10 in a table is in 2026",
    )
    for field, said in WORDS_HELP.items():
        parser.add_argument(option_of(field), help=said)
    parser.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="WHAT=NAME",
        help="which column of a table is the time, clock, from, speed, gust or cloud (percent), "
        "by name or number, such as from=Heading; once for each",
    )


def one_word_zones(words: list[str]) -> list[str]:
    """Command words with `--zone -05:00` made one, which argparse takes for two options.

    Args: the words. Returns: the words.
    """
    out: list[str] = []
    for word in words:
        if out and out[-1] == "--zone" and word[:1] == "-" and word[1:2].isdigit():
            out[-1] = f"--zone={word}"
        else:
            out.append(word)
    return out


def answers_from(options, likely_zone: str | None = None):
    """The answers given. Args: the parsed words; the zone to offer first. Returns:
    Answers. Raises: BadRequest for a zone, unit, word or column that is none."""
    from core.weather.answers import (
        Answers,
        answered_columns,
        answered_unit,
        answered_word,
        zone_of,
    )

    if options.zone is not None:
        zone_of(options.zone)
    unit = None if options.speed_unit is None else answered_unit(options.speed_unit)
    words = {f: answered_word(f, w) for f in WORDS_HELP if (w := getattr(options, f)) is not None}
    return Answers(
        options.zone,
        unit,
        options.dayfirst,
        likely_zone,
        columns=answered_columns(options.column),
        yearfirst=options.yearfirst,
        **words,
    )


def read_answered(read: Callable[[Any], Any], options, likely_zone: str | None = None):
    """The hours of a reader with the answers given; one that it did not need is told on
    stderr.

    Args: the reader, of Answers; the parsed words; the zone to offer first.
    Returns: Hours. Raises: as `core.weather.answers.read_with`.
    """
    from core.weather.answers import read_with

    hours, idle = read_with(read, answers_from(options, likely_zone))
    for name in idle:
        option = option_of(name)
        option = option.replace("--", "--no-") if getattr(options, name, None) is False else option
        put([f"{option} was not used: this wind does not leave it open."], sys.stderr)
    return hours
