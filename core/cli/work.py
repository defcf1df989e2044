"""chores and round: what is due on a ground, and a day's jobs as one walk."""

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers
from core.cli.shared import add_replace, as_json, common, date_of, now_from, output, scene_at


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    chores = commands.add_parser("chores", help="what is due: trails, ways in, straps, plots")
    common(chores, _chores)
    chores.add_argument("--date", help="the day that is asked about; today where it is not given")
    chores.add_argument("--ics", metavar="OUT", help="a calendar file for a phone")
    add_log(chores)
    add_replace(chores)
    wind = chores.add_mutually_exclusive_group()
    wind.add_argument("--history", nargs="+", action="extend", metavar="FILE")
    wind.add_argument("--typical", action="store_true")
    add_answers(chores)
    rounds = commands.add_parser("round", help="some jobs as the shortest walk, on one sheet")
    common(rounds, _round)
    rounds.add_argument("--date", help="the day it is for; today where it is not given")
    rounds.add_argument(
        "--job",
        nargs="+",
        action="extend",
        metavar="JOB",
        help="like cut:east-trail, or a place's id; by default what is due",
    )
    rounds.add_argument("--from", dest="start", metavar="PLACE", help="the truck spot")
    rounds.add_argument("--out", metavar="FILE", help="the sheet to print, HTML")
    add_log(rounds)
    add_replace(rounds)


def _chores(options) -> str | list[str]:
    from core.chores.worth import by_worth, worth_of
    from core.say.work.calendar import calendar_text
    from core.say.work.chores import care_line, chore_line, chores_dict

    if options.ics:
        _check(options)
    ground, today, found = due(options)
    now_s = now_from(options.now)
    worths = _worths(options)
    if worths is not None:
        found = by_worth(found, worths)
    if options.ics:
        _write(options, calendar_text(found, ground, today, now_s))
    if options.json:
        return as_json(chores_dict(found, ground, today, worths))
    if options.ics:
        return f"Wrote {options.ics}: {len(found)} chores."
    lines = [chore_line(c, ground, today, worth_of(c, worths or {})) for c in found]
    return [*lines, *care_line(found, ground)] or "Nothing here to look after yet."


def due(options):
    """The ground, the day that is asked about, and its chores. Args: the parsed words."""
    import datetime
    from zoneinfo import ZoneInfo

    from core.chores.due import chores
    from core.ground.store import open_property

    ground = open_property(options.property).property
    local = datetime.datetime.fromtimestamp(now_from(options.now), ZoneInfo(ground.timezone))
    today = date_of(options.date) if options.date else local.date()
    return ground, today, chores(ground, _entries(options, ground), today)


def _round(options) -> str | list[str]:
    from core.chores.rounds import due_jobs, jobs_named, round_of
    from core.say.work.rounds import round_dict, round_lines
    from core.show.yearly.round_sheet import round_sheet

    write = output(options, options.out, options.property) if options.out else None
    ground, today, found = due(options)
    jobs = jobs_named(found, options.job) if options.job else due_jobs(found, today)
    walk = round_of(ground, jobs, options.start)
    if write:
        write(round_sheet(walk, ground, today, now_from(options.now)))
    if options.json:
        return as_json(round_dict(walk, ground, today))
    wrote = [f"Wrote {options.out}."] if options.out else []
    return [*round_lines(walk, ground, today), *wrote] if jobs else "Nothing is due."


def _worths(options):
    """What each trail and way in is worth, where a wind history was named."""
    if not (options.typical or options.history):
        return None
    from core.chores.worth import worths
    from core.cli.season import history
    from core.season.review import judge_season

    scene = scene_at(options.property)
    return worths(judge_season(scene, history(options, scene.ground)))


def _entries(options, ground) -> list:
    return list(log_of(options, ground) or ())


def _check(options) -> None:
    from core.ground.files.output import check_output

    check_output(options.ics, replace=options.replace, inputs=(options.property,))


def _write(options, data: bytes) -> None:
    from core.ground.files.output import write_output

    write_output(options.ics, data, replace=options.replace, inputs=(options.property,))
