"""All answers to what a weather file leaves open: those of `asked`, and which column is what."""

import argparse
import dataclasses
import sys
from collections.abc import Callable
from typing import Any

from core.cli import asked


def add_answers(parser: argparse.ArgumentParser) -> None:
    """Adds the options of `asked` and --column. Args: the command's parser."""
    asked.add_answers(parser)
    parser.add_argument(
        "--column", action="append", default=[], metavar="WHAT=NAME",
        help="which column of a table is the time, clock, from, speed, gust or cloud (percent), "
        "by name or number, such as from=Heading; once for each",
    )  # fmt: skip


def answers_from(options, likely_zone: str | None = None):
    """The answers given. Args: the parsed words; the zone to offer first. Returns:
    Answers. Raises: BadRequest for one that is none."""
    from core.weather.answers import answered_columns

    answers = asked.answers_from(options, likely_zone)
    return dataclasses.replace(answers, columns=answered_columns(options.column))


def read_answered(read: Callable[[Any], Any], options, likely_zone: str | None = None):
    """The hours of a reader with the answers given; one that it did not need is told on
    stderr.

    Args: the reader, of Answers; the parsed words; the zone to offer first.
    Returns: Hours. Raises: as `core.weather.answers.read_with`.
    """
    from core.weather.answers import read_with

    hours, idle = read_with(read, answers_from(options, likely_zone))
    for name in idle:
        option = "--no-dayfirst" if getattr(options, name, None) is False else asked.OPTION_OF[name]
        print(f"{option} was not used: this wind does not leave it open.", file=sys.stderr)
    return hours
