"""season and visor: the review of a season, and the sheet on the sun visor."""

from core.cli.open_questions import add_answers, read_answered
from core.cli.shared import (
    add_replace,
    add_taken,
    as_json,
    common,
    date_of,
    now_from,
    output,
    scene_at,
    taken_from,
)
from core.cli.winds.history import KEPT, MEASURED, own_history


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    season = commands.add_parser("season", help="how often each stand can be sat in a season")
    season.add_argument("--property", required=True)
    wind = season.add_mutually_exclusive_group(required=True)
    wind.add_argument("--history", nargs="+", action="extend", metavar="FILE")
    wind.add_argument("--typical", action="store_true")
    add_answers(season)
    season.add_argument("--json", action="store_true")
    season.add_argument("--csv", metavar="OUT")
    add_replace(season)
    season.add_argument("--from", dest="first", metavar="MM-DD")
    season.add_argument("--to", dest="last", metavar="MM-DD")
    season.add_argument("--weapon")
    season.add_argument(
        "--no-candidates", action="store_true", help="leave out new stands and winter jobs"
    )
    season.set_defaults(run=_season)
    visor = commands.add_parser("visor", help="one printed page for the season: wind and stand")
    common(visor, _visor)
    visor.add_argument("--out", required=True)
    add_replace(visor)
    visor.add_argument("--date", help="the day that stands for the season; else its middle")
    visor.add_argument("--weapon")
    visor.add_argument("--hunter")
    add_taken(visor)


def history(options, ground):
    """The hours of --history or --typical. Args: the parsed words; the ground.

    Raises: BadWeather, and NeedsAnswer where something stays open."""
    from pathlib import Path

    from core.weather.elsewhere import for_ground
    from core.weather.files.history import read_history
    from core.weather.files.typical import typical_year

    def read(answers):
        if options.typical:
            return typical_year()
        if options.history in ([KEPT], [MEASURED]):
            return own_history(options.history[0], ground)
        files = [(Path(name), Path(name).name) for name in options.history]
        return for_ground(read_history(files, answers), ground.center, files[0][1], answers)

    return read_answered(read, options, ground.timezone)


def _season(options) -> str | list[str]:
    from core.errors import BadRequest
    from core.say.log.felt import turn_lines
    from core.say.season.tables import season_csv, season_dict
    from core.say.season.words import other_country, season_lines
    from core.season.next_stand import next_stands
    from core.season.report import season_report
    from core.season.review import judge_season
    from core.season.saw_work import saw_work

    if (options.first is None) != (options.last is None):
        raise BadRequest("one end of the dates is missing", "--from, --to", "Give both.")
    span = (options.first, options.last) if options.first else None
    files = [name for name in options.history or () if name not in (KEPT, MEASURED)]
    inputs = (options.property, *files)
    write = output(options, options.csv, *inputs) if options.csv is not None else None
    scene = scene_at(options.property)
    weather = history(options, scene.ground)
    answer = judge_season(scene, weather, span=span, weapon=options.weapon)
    found, jobs = ([], []) if options.no_candidates else (next_stands(answer), saw_work(answer))
    if write:
        write(season_csv(answer))
    report = season_report(answer, found, jobs)
    if options.json:
        return as_json(season_dict(report))
    elsewhere = [line] if (line := other_country(answer.weather, scene.ground.center)) else []
    felt = [f"As you felt it: {line}" for line in turn_lines(scene.ground)]
    return [*elsewhere, *season_lines(report), *felt, *_beside(options, scene, answer, span)]


def _beside(options, scene, answer, span) -> list[str]:
    """The other kept history side by side with the one that was asked for; nothing without."""
    from core.errors import BadRequest
    from core.say.season.words import beside_lines
    from core.season.report import beside, season_report
    from core.season.review import judge_season

    if options.history not in ([KEPT], [MEASURED]):
        return []
    is_modelled = options.history == [KEPT]
    try:
        weather = own_history(MEASURED if is_modelled else KEPT, scene.ground)
    except BadRequest:
        return []
    other = judge_season(scene, weather, span=span, weapon=options.weapon)
    both = (answer, other) if is_modelled else (other, answer)
    return beside_lines(beside(*map(season_report, both)))


def _visor(options) -> str:
    import datetime
    from zoneinfo import ZoneInfo

    from core.season.visor import middle_of_season
    from core.show.visor import visor_sheet

    write = output(options, options.out, options.property)
    scene, now_s = scene_at(options.property), now_from(options.now)
    year = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(scene.ground.timezone)).year
    date = date_of(options.date) if options.date else middle_of_season(scene.ground, year)
    sheet = visor_sheet(
        scene,
        date,
        now_s,
        options.weapon,
        options.hunter,
        taken_from(options.taken, scene.ground),
    )
    count = write(sheet)
    if options.json:
        told = {"out": options.out, "date": date.isoformat(), "bytes": count}
        return as_json(told)
    return f"Wrote {options.out}, worked out for {date.isoformat()}."
