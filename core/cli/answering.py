"""All answers to what a weather file leaves open: those of `asked`, and which column is what."""

import argparse
import dataclasses

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
