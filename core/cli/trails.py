"""trail, visit and spray: what is known of a trail, and when to go in."""

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers
from core.cli.shared import as_json, common, date_of, now_from
from core.cli.work import due


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    trail = commands.add_parser("trail", help="what was done to a trail, seen on it, and is due")
    common(trail, _trail)
    trail.add_argument("--at", required=True, metavar="TRAIL", help="which, by its id or name")
    trail.add_argument("--date", help="the day that is asked about; today where it is not given")
    trail.add_argument("--history", nargs="+", action="extend", metavar="FILE")
    trail.add_argument("--forecast", help="a forecast or report file, for its temperatures too")
    trail.set_defaults(typical=False)
    add_log(trail)
    add_answers(trail)
    spray = commands.add_parser("spray", help="hours that keep to the limits of the label")
    common(spray, _spray)
    spray.add_argument("--forecast", required=True, help="a file, or live, or kept")
    add_answers(spray)
    spray.add_argument("--at", required=True, metavar="TRAIL", help="which, by its id or name")
    spray.add_argument(
        "--label-read",
        metavar="DATE",
        help="the day on which the label was read; the ground's own by default",
    )
    visit = commands.add_parser("visit", help="hours in which one may go in and work")
    common(visit, _visit)
    visit.add_argument("--forecast", required=True, help="a file, or live, or kept")
    add_answers(visit)
    visit.add_argument("--at", required=True, metavar="PLACE", help="where, by its id or name")
    visit.add_argument("--hours", type=float, default=2.0, help="how long one stays; 2 by default")
    visit.add_argument("--by", metavar="LANE", help="the way in; the nearest by default")


def _visit(options) -> str | list[str]:
    from core.chores.going import find_place, visit_to
    from core.chores.visit import judge_visit, windows
    from core.cli.shared import scene_at
    from core.cli.sits import forecast_hours
    from core.say.work.visits import visit_lines, visit_report

    scene, now_s = scene_at(options.property), now_from(options.now)
    place = find_place(scene.ground, options.at)
    visit = visit_to(scene.ground, place, options.by, scene.heights)
    weather = forecast_hours(options, scene)
    starts = judge_visit(visit, weather, options.hours, now_s)
    found = windows(starts, options.hours)
    if options.json:
        return as_json(visit_report(visit, weather, found))
    return visit_lines(visit, weather, found)


def _trail(options) -> str | list[str]:
    from core.cli.season import history
    from core.cli.sits import forecast_hours
    from core.ground.store import data_folder
    from core.say.work.story import story_dict, story_lines, trail_said
    from core.sit.scene import Scene
    from core.weather.services.sources import rounded
    from core.weather.services.whole_years import kept_days

    ground, today, found = due(options)
    trail = _trail_id(ground, options.at)
    tables = [history(options, ground)] if options.history else []
    scene = Scene(ground)
    tables += [forecast_hours(options, scene)] if options.forecast else []
    tables += kept_days(data_folder(), rounded(ground.center), now_from(options.now))
    entries = list(log_of(options, ground) or ())
    said = trail_said(scene, trail, entries, found, today, tables)
    name = ground.name_of(trail)
    if options.json:
        return as_json(story_dict(said, trail, name))
    return [*story_lines(said, name), *_how_to_get_days(said.growth)]


def _how_to_get_days(growth) -> list[str]:
    """How temperatures that are missing are fetched; none where all is told."""
    if growth is None or growth.is_whole:
        return []
    asks = f"python -m core history --property FILE --days-since {growth.since.isoformat()}"
    return [f"Temperatures since then, from the open archive: {asks}."]


def _trail_id(ground, named: str) -> str:
    from core.chores.going import find_place
    from core.errors import BadRequest

    place, trails = find_place(ground, named), [c.id for c in ground.corridors]
    if place not in trails:
        known = ", ".join(trails[:12]) or "none"
        raise BadRequest(f"'{named[:40]}' is no trail", "--at", f"Trails here: {known}.")
    return place


def _spray(options) -> str | list[str]:
    import dataclasses

    from core.chores.spraying import spray_windows
    from core.cli.shared import scene_at
    from core.cli.sits import forecast_hours
    from core.say.work.sprays import spray_report, spray_text

    scene, now_s = scene_at(options.property), now_from(options.now)
    trail, label = _trail_id(scene.ground, options.at), scene.ground.work.label
    if options.label_read:
        label = dataclasses.replace(label, read_on=date_of(options.label_read).isoformat())
    weather = forecast_hours(options, scene)
    found = spray_windows(scene, trail, label, weather, now_s)
    if options.json:
        return as_json(spray_report(found, scene.ground, weather, label))
    return spray_text(found, scene.ground, weather, label)
