"""wind: what a weather file says."""

from core.cli.shared import as_json, weather_file


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    table = commands.add_parser("wind", help="what a weather file says")
    table.add_argument("file")
    table.add_argument("--zone")
    table.add_argument("--json", action="store_true")
    table.add_argument("--now")
    table.set_defaults(run=_wind)


def _wind(options) -> str:
    from core.weather.report import hours_lines, hours_report

    hours = weather_file(options.file)
    return as_json(hours_report(hours)) if options.json else "\n".join(hours_lines(hours))
