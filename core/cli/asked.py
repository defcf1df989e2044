"""Answers on the command line to what a weather file leaves open."""

import argparse

OPTION_OF = {
    "zone": "--zone", "speed_unit": "--speed-unit", "dayfirst": "--dayfirst", "columns": "--column",
}  # fmt: skip


def add_answers(parser: argparse.ArgumentParser) -> None:
    """Adds --zone, --speed-unit and --dayfirst. Args: the command's parser."""
    parser.add_argument("--zone", help="zone of a table's times: a name, UTC or -05:00")
    parser.add_argument("--speed-unit", help="unit of a table's wind: mph, kt, m/s or km/h")
    parser.add_argument(
        "--dayfirst", action=argparse.BooleanOptionalAction,
        help="whether 03/04 in a table is 3 April",
    )  # fmt: skip


def joined(words: list[str]) -> list[str]:
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
    Answers. Raises: BadRequest for a zone or unit that is none."""
    from core.weather.answers import Answers, answered_unit, zone_of

    if options.zone is not None:
        zone_of(options.zone)
    unit = None if options.speed_unit is None else answered_unit(options.speed_unit)
    return Answers(options.zone, unit, options.dayfirst, likely_zone)
