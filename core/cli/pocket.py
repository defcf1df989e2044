"""pocket: the page that goes along, made the evening before."""

from pathlib import Path

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers, read_answered
from core.cli.shared import (
    add_replace,
    add_taken,
    common,
    date_of,
    now_from,
    output,
    scene_at,
    taken_from,
    weather_file,
)


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    page = commands.add_parser("pocket", help="one HTML page of a day, to carry or print")
    common(page, _pocket)
    page.add_argument("--date", required=True)
    wind = page.add_mutually_exclusive_group(required=True)
    wind.add_argument("--wind")
    wind.add_argument("--forecast")
    wind.add_argument("--typical", action="store_true")
    add_answers(page)
    page.add_argument("--cloud", type=float)
    page.add_argument("--hunter")
    page.add_argument("--weapon")
    add_log(page)
    add_taken(page)
    page.add_argument("--out", required=True)
    add_replace(page)


def _pocket(options) -> str:
    from core.show.pocket import pocket_page
    from core.weather.entry import parse_wind
    from core.weather.files.typical import typical_hours

    inputs = [options.property, *([options.forecast] if options.forecast else [])]
    write = output(options, options.out, *inputs)
    scene, date = scene_at(options.property), date_of(options.date)

    def read(answers):
        if options.wind is not None:
            return parse_wind(options.wind, options.cloud)
        if options.typical:
            return typical_hours(date)
        return weather_file(options.forecast, answers, scene.ground.center)

    weather = read_answered(read, options, scene.ground.timezone)
    who = {"hunter": options.hunter, "weapon": options.weapon}
    who |= {"log": log_of(options, scene.ground), "taken": taken_from(options.taken, scene.ground)}
    page = pocket_page(scene, weather, date, now_from(options.now), **who)
    return f"Wrote {Path(options.out).name}, {write(page) / 1000:.0f} kB."
