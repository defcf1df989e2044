"""wind: what a weather file says."""

import dataclasses

from core.cli.open_questions import add_answers, read_answered
from core.cli.shared import as_json, now_from, weather_file


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    table = commands.add_parser("wind", help="what a weather file says")
    table.add_argument("file")
    add_answers(table)
    table.add_argument("--json", action="store_true")
    table.add_argument("--now")
    table.set_defaults(run=_wind)


def _wind(options) -> str | list[str]:
    from core.weather.age import stale_note
    from core.weather.hour_lines import hours_dict, hours_lines

    hours = read_answered(lambda answers: weather_file(options.file, answers), options)
    stale = stale_note(hours, now_from(options.now))
    if stale:
        hours = dataclasses.replace(hours, notes=(stale, *hours.notes))
    return as_json(hours_dict(hours)) if options.json else hours_lines(hours)
