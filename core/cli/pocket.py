"""pocket: the page that goes along, made the evening before; for a day or for some."""

from pathlib import Path

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers, read_answered
from core.cli.shared import (
    add_replace,
    add_taken,
    common,
    date_of,
    misses_at,
    now_from,
    output,
    scene_at,
    taken_from,
    weather_file,
)
from core.errors import BadRequest


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    page = commands.add_parser("pocket", help="an HTML page of a day or some, to carry or print")
    common(page, _pocket)
    page.add_argument("--date", required=True)
    wind = page.add_mutually_exclusive_group(required=True)
    wind.add_argument("--wind")
    wind.add_argument("--forecast")
    wind.add_argument("--typical", action="store_true")
    add_answers(page)
    page.add_argument("--cloud", type=float)
    page.add_argument("--days", type=int, default=1, help="1 to 7 days of a forecast in one file")
    page.add_argument(
        "--hunter", action="append", help="once for each of a party, seated as `party` does"
    )
    page.add_argument("--party", action="store_true", help="everyone whom the property knows")
    page.add_argument("--weapon")
    add_log(page)
    add_taken(page)
    page.add_argument("--out", required=True)
    add_replace(page)


def _pocket(options) -> str:
    from core.show.take_along.days import pocket_days
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
    log, now_s = log_of(options, scene.ground), now_from(options.now)
    page = pocket_days(
        scene,
        weather,
        date,
        options.days,
        now_s,
        hunters=_hunters(options, scene.ground),
        weapon=options.weapon,
        log=log,
        taken=taken_from(options.taken, scene.ground),
        misses=misses_at(weather, scene.ground, now_s, log),
    )
    return f"Wrote {Path(options.out).name}, {write(page) / 1000:.0f} kB."


def _hunters(options, ground) -> list[str | None]:
    """Whose pages are made: those named, the whole party, or anyone's."""
    if not options.party:
        return list(dict.fromkeys(options.hunter or [None]))
    if not ground.people:
        raise BadRequest("the property knows nobody", "--party", "Name them with --hunter.")
    named = [*(options.hunter or []), *(person.name for person in ground.people)]
    return list(dict.fromkeys(named))
