"""The same answers without a screen: python -m core sits | next | daylight | wind | check ..."""

import sys

from core.cli import (
    ground,
    land,
    log,
    party,
    phone,
    pocket,
    season,
    sits,
    trails,
    work,
)
from core.cli.help_texts import helped
from core.cli.open_questions import one_word_zones
from core.cli.printing import Parser, put
from core.cli.winds import forecast, history, weather
from core.errors import StandWindError

# a module a line: each adds its commands with register()
GROUPS = (
    sits,
    party,
    weather,
    forecast,
    ground,
    land,
    pocket,
    season,
    history,
    log,
    trails,
    work,
    phone,
)


def main(arguments: list[str] | None = None) -> int:
    """Runs one command.

    Args: the words after `python -m core`. Returns: 0, or 2 for bad input with one
    message on stderr, and where something has to be asked. Raises: nothing for bad input.
    """
    try:
        options = _parser().parse_args(
            one_word_zones(sys.argv[1:] if arguments is None else arguments)
        )
    except SystemExit:  # after --help, or words that are none
        put([], sys.stdout)
        raise
    try:
        told = options.run(options)
    except StandWindError as fault:
        put([" ".join(str(fault).split())], sys.stderr)
        return 2
    # a command gives its lines, or one line
    lost = put([told] if isinstance(told, str) else told, sys.stdout)
    if lost:
        put([f"The answer could not be written: {lost}."], sys.stderr)
    return 2 if lost else getattr(options, "exit_code", 0)


def _parser() -> Parser:
    parser = Parser(prog="python -m core")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for group in GROUPS:
        group.register(commands)
    helped(parser, commands)
    return parser


if __name__ == "__main__":
    sys.exit(main())
