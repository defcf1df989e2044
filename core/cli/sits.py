"""sits, next and daylight."""

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers, read_answered
from core.cli.shared import (
    add_taken,
    as_json,
    common,
    date_of,
    likely,
    now_from,
    scene_at,
    taken_from,
    weather_file,
)


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    sits = commands.add_parser("sits", help="the ranked answer for one sit")
    common(sits, _sits)
    sits.add_argument("--date", required=True)
    sits.add_argument("--sit", required=True, choices=("morning", "evening", "all-day"))
    add_wind(sits)
    add_answers(sits)
    sits.add_argument("--cloud", type=float)
    sits.add_argument("--hunter")
    sits.add_argument("--weapon")
    add_taken(sits)
    add_log(sits)
    coming = commands.add_parser("next", help="the next six sits")
    common(coming, _next)
    coming.add_argument("--forecast", required=True, help="a file, or live, or kept")
    add_answers(coming)
    coming.add_argument("--hunter")
    coming.add_argument("--weapon")
    add_log(coming)
    add_taken(coming)
    light = commands.add_parser("daylight", help="sun and legal light of a date")
    common(light, _daylight)
    light.add_argument("--date", required=True)
    light.add_argument("--weapon")


def add_wind(parser) -> None:
    """Adds where the wind of a sit is from. Args: the command's parser."""
    wind = parser.add_mutually_exclusive_group(required=True)
    wind.add_argument("--wind")
    wind.add_argument("--forecast", help="a file, or live, or kept")
    wind.add_argument("--typical", action="store_true")


def sit_weather(options, scene):
    """The hours of a sit. Args: the parsed words; the scene. Returns: Hours. Raises: BadWeather."""
    from core.weather.entry import parse_wind
    from core.weather.files.typical import typical_hours

    if options.wind is not None:
        return read_answered(lambda _: parse_wind(options.wind, options.cloud), options)
    if options.typical:
        return read_answered(lambda _: typical_hours(date_of(options.date)), options)
    return forecast_hours(options, scene)


def forecast_hours(options, scene):
    """The hours of a forecast file, or of the live or kept forecast by those words.

    Args: the parsed words; the scene. Raises: BadWeather, NoForecast."""
    from core.cli.winds.forecast import KEPT, LIVE, named_forecast

    def read(answers):
        if options.forecast in (LIVE, KEPT):
            return named_forecast(options.forecast, scene.ground, now_from(options.now))
        return weather_file(options.forecast, answers, scene.ground.center)

    return read_answered(read, options, scene.ground.timezone)


def _sits(options) -> str | list[str]:
    from core.answer.coming import next_good
    from core.answer.one_sit import answer_sit
    from core.say.answer_lines import sit_lines
    from core.say.as_json import sit_dict
    from core.sit.prepare import prepare_sit

    now_s = now_from(options.now)
    scene = scene_at(options.property)
    weather = sit_weather(options, scene)
    log = log_of(options, scene.ground)
    who = {"hunter": options.hunter, "weapon": options.weapon}
    sit = prepare_sit(scene, weather, date_of(options.date), options.sit, log=log, **who)
    taken = taken_from(options.taken, scene.ground)
    answer = likely([answer_sit(sit, taken)], now_s, log)[0]
    good = next_good(scene, weather, answer, taken=taken, **who)
    if options.json:
        return as_json(sit_dict(answer, good))
    return [*sit_lines(answer, good, now_s), *_open_today(options, answer)]


def _open_today(options, answer) -> list[str]:
    """Which weapon the answer is for, where none was named and there is a choice."""
    from core.say.hunters.orange import which_weapon_text

    clock = answer.sit.clock
    season = clock.season if options.weapon is None else None
    said = which_weapon_text(answer.sit.scene.ground, clock.date, season.weapon if season else None)
    return ["", f"{said} Another: --weapon NAME."] if said else []


def _next(options) -> str | list[str]:
    from core.answer.coming import next_sits
    from core.say.as_json import next_dict
    from core.say.chance.words import law_text
    from core.say.words import noted
    from core.weather.age import stale_note

    scene, now_s = scene_at(options.property), now_from(options.now)
    weather = forecast_hours(options, scene)
    who = {"hunter": options.hunter, "weapon": options.weapon}
    who |= {"log": log_of(options, scene.ground), "taken": taken_from(options.taken, scene.ground)}
    answers = likely(next_sits(scene, weather, now_s, **who), now_s, who["log"])
    if options.json:
        return as_json(next_dict(scene.ground.name, answers, weather))
    lines = [
        f"{a.sit.clock.date.isoformat()} {a.sit.clock.sit}: "
        + (_coming_line(a) if a.best else "no stands yet.")
        for a in answers
    ]
    likely_why = next((law_text(a.chances) for a in answers if law_text(a.chances)), "")
    none = f"No sit of this forecast can still be reached. {stale_note(weather, now_s)}".strip()
    return [*(lines or [none]), *noted(weather.notes), *filter(None, [likely_why])]


def _coming_line(answer) -> str:
    """A later sit in a line: its first choice, how likely, and plan B."""
    from core.say.answer_lines import headline
    from core.say.chance.words import chance_text, plan_text

    told = [headline(answer.best, answer.chances), chance_text(answer, answer.best)]
    return " ".join([*filter(None, [*told, plan_text(answer)])])


def _daylight(options) -> str | list[str]:
    from core.errors import NoSun
    from core.say.as_json import daylight_dict
    from core.say.daylight import daylight_lines
    from core.say.headline import NOT_CONFIRMED
    from core.sit.dates import legal_light_s, season_on
    from core.sky.daylight import sun_day

    ground = scene_at(options.property).ground
    date = date_of(options.date)
    day = sun_day(ground.center[1], ground.center[0], ground.timezone, date)
    season = season_on(ground, date, options.weapon)
    try:
        legal = legal_light_s(day, season) if season else None
    except NoSun:
        legal = None
    report = daylight_dict(day, legal)
    if options.json:
        return as_json(report)
    said = daylight_lines(day, legal)
    if legal and season and not season.checked_on:
        said.append(f"Legal light is {NOT_CONFIRMED}.")
    return [*said, *([report["note"]] if "note" in report else [])]
