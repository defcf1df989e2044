"""The same answers without a screen: python -m core sits | next | daylight | wind | check."""

import argparse
import datetime
import json
import sys
import time
from pathlib import Path

from core.errors import BadRequest, BadWeather, StandWindError


def _as_json(report: dict) -> str:
    return json.dumps(report, ensure_ascii=False, allow_nan=False)


def main(arguments: list[str] | None = None) -> int:
    """Runs one command.

    Args: the words after `python -m core`. Returns: 0, or 2 for bad input with one
    message on stderr. Raises: nothing for bad input.
    """
    options = _parser().parse_args(arguments)
    try:
        text = options.run(options)
    except StandWindError as fault:
        print(" ".join(str(fault).split()), file=sys.stderr)
        return 2
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(encoding="utf-8", newline="\n")
    print(text)
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m core")
    commands = parser.add_subparsers(dest="command", required=True)
    sits = commands.add_parser("sits", help="the ranked answer for one sit")
    _common(sits, _sits)
    sits.add_argument("--date", required=True)
    sits.add_argument("--sit", required=True, choices=("morning", "evening", "all-day"))
    wind = sits.add_mutually_exclusive_group(required=True)
    wind.add_argument("--wind")
    wind.add_argument("--forecast")
    wind.add_argument("--typical", action="store_true")
    sits.add_argument("--cloud", type=float)
    sits.add_argument("--hunter")
    sits.add_argument("--weapon")
    sits.add_argument("--taken", nargs="+", action="extend", default=[], metavar="STAND:NAME")
    coming = commands.add_parser("next", help="the next six sits")
    _common(coming, _next)
    coming.add_argument("--forecast", required=True)
    coming.add_argument("--hunter")
    coming.add_argument("--weapon")
    light = commands.add_parser("daylight", help="sun and legal light of a date")
    _common(light, _daylight)
    light.add_argument("--date", required=True)
    light.add_argument("--weapon")
    table = commands.add_parser("wind", help="what a weather file says")
    table.add_argument("file")
    table.add_argument("--zone")
    table.add_argument("--json", action="store_true")
    table.add_argument("--now")
    table.set_defaults(run=_wind)
    check = commands.add_parser("check", help="validates a property file")
    check.add_argument("file")
    check.set_defaults(run=_check)
    return parser


def _common(parser: argparse.ArgumentParser, run) -> None:
    parser.add_argument("--property", required=True)
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--now")
    parser.set_defaults(run=run)


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise BadRequest(f"'{text}' is no date", "--date", "Write it like 2026-11-10.") from None


def _now_s(text: str | None) -> float:
    if text is None:
        return time.time()
    try:
        at = datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:
        raise BadRequest(
            f"'{text}' is no time", "--now", "Write it like 2026-11-10T04:30-05:00."
        ) from None
    if at.tzinfo is None:
        raise BadRequest(f"'{text}' has no offset", "--now", "Add one, like -05:00 or Z.")
    return at.timestamp()


def _scene(path: str):
    from core.ground.store import open_property
    from core.sits.scene import Scene

    return Scene(open_property(path).property)


def _weather_file(path: str):
    from core.weather.recognise import read_weather

    try:
        data = Path(path).read_bytes()
    except OSError as fault:
        raise BadWeather(f"can't be read ({fault.strerror})", path, "Check the name.") from fault
    return read_weather(data, Path(path).name)


def _weather(options):
    from core.weather.entry import parse_wind
    from core.weather.typical import typical_hours

    if options.wind is not None:
        return parse_wind(options.wind, options.cloud)
    if options.typical:
        return typical_hours(_date(options.date))
    return _weather_file(options.forecast)


def _taken(words: list[str], ground) -> dict[str, str]:
    found = {}
    ids = {s.id: s.id for s in ground.stands} | {s.name.casefold(): s.id for s in ground.stands}
    for word in words:
        stand, colon, name = word.partition(":")
        if not colon or not name.strip():
            raise BadRequest(f"'{word}' is not STAND:NAME", "--taken", "Write it like creek:Nell.")
        key = ids.get(stand.strip()) or ids.get(stand.strip().casefold())
        if key is None:
            raise BadRequest(f"no stand is called '{stand}'", "--taken", "Use a stand's id.")
        found[key] = name.strip()
    return found


def _sits(options) -> str:
    from core.sits.answer import answer_sit, prepare_sit
    from core.sits.coming import next_good
    from core.sits.page import sit_lines
    from core.sits.report import sit_report

    now_s = _now_s(options.now)
    scene = _scene(options.property)
    weather = _weather(options)
    who = {"hunter": options.hunter, "weapon": options.weapon}
    sit = prepare_sit(scene, weather, _date(options.date), options.sit, **who)
    answer = answer_sit(sit, _taken(options.taken, scene.ground))
    good = next_good(scene, weather, answer, **who)
    if options.json:
        return _as_json(sit_report(answer, good))
    return "\n".join(sit_lines(answer, good, now_s))


def _next(options) -> str:
    from core.sits.coming import next_sits
    from core.sits.page import headline
    from core.sits.report import next_report

    scene, now_s = _scene(options.property), _now_s(options.now)
    weather = _weather_file(options.forecast)
    answers = next_sits(scene, weather, now_s, hunter=options.hunter, weapon=options.weapon)
    if options.json:
        return _as_json(next_report(scene.ground.name, answers))
    lines = [
        f"{a.sit.clock.date.isoformat()} {a.sit.clock.sit}: "
        + (headline(a.best) if a.best else "no stands yet.")
        for a in answers
    ]
    return "\n".join(lines) or "No sit of this forecast can still be reached."


def _daylight(options) -> str:
    from core.errors import NoSun
    from core.sits.clock import legal_light_s, season_on
    from core.sits.report import daylight_report
    from core.sky.daylight import sun_day

    ground = _scene(options.property).ground
    date = _date(options.date)
    day = sun_day(ground.center[1], ground.center[0], ground.timezone, date)
    season = season_on(ground, date, options.weapon)
    try:
        legal = legal_light_s(day, season) if season else None
    except NoSun:
        legal = None
    report = daylight_report(day, legal)
    if options.json:
        return _as_json(report)
    return "\n".join(f"{k.replace('_', ' ')}: {v}" for k, v in report.items())


def _wind(options) -> str:
    from core.weather.report import hours_lines, hours_report

    hours = _weather_file(options.file)
    return _as_json(hours_report(hours)) if options.json else "\n".join(hours_lines(hours))


def _check(options) -> str:
    from core.ground.report import check_report

    return "\n".join(check_report(options.file))


if __name__ == "__main__":
    sys.exit(main())
