"""season and visor: the review of a season, and the sheet on the sun visor."""

from core.cli.shared import as_json, scene_at


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    season = commands.add_parser("season", help="how often each stand can be sat in a season")
    season.add_argument("--property", required=True)
    wind = season.add_mutually_exclusive_group(required=True)
    wind.add_argument("--history", nargs="+", action="extend", metavar="FILE")
    wind.add_argument("--typical", action="store_true")
    season.add_argument("--json", action="store_true")
    season.add_argument("--csv", metavar="OUT")
    season.add_argument("--from", dest="first", metavar="MM-DD")
    season.add_argument("--to", dest="last", metavar="MM-DD")
    season.add_argument("--weapon")
    season.add_argument("--no-candidates", action="store_true", help="leave out new stands")
    season.set_defaults(run=_season)


def _history(options):
    from pathlib import Path

    if options.typical:
        from core.weather.typical import typical_year

        return typical_year()
    from core.weather.history import read_history

    return read_history([(Path(name), Path(name).name) for name in options.history])


def _season(options) -> str:
    from core.cli.shared import write_text
    from core.errors import BadRequest
    from core.sits.next_stand import next_stands
    from core.sits.season import judge_season
    from core.sits.season_report import season_csv, season_lines, season_report

    if (options.first is None) != (options.last is None):
        raise BadRequest("one end of the dates is missing", "--from, --to", "Give both.")
    span = (options.first, options.last) if options.first else None
    scene = scene_at(options.property)
    answer = judge_season(scene, _history(options), span=span, weapon=options.weapon)
    found = [] if options.no_candidates else next_stands(answer)
    if options.csv:
        write_text(options.csv, season_csv(answer))
    report = season_report(answer, found)
    return as_json(report) if options.json else "\n".join(season_lines(report))
