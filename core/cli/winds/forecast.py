"""forecast: the live forecast of a property, or the kept one, with its age."""

import sys
from pathlib import Path

from core.cli.open_questions import add_answers, read_answered
from core.cli.printing import put
from core.cli.shared import as_json, common, now_from, scene_at

LIVE, KEPT = "live", "kept"


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    live = commands.add_parser("forecast", help="fetches the forecast, or reads the kept one")
    common(live, _forecast)
    live.add_argument("--offline", action="store_true", help="ask nobody, read the kept one")
    live.add_argument("--source", default="auto", help="auto, nws or open-meteo")
    live.add_argument(
        "--against",
        nargs="*",
        metavar="FILE",
        help="how the kept forecasts did against wind history files, or station reports",
    )
    add_answers(live)
    live.add_argument(
        "--runs",
        action="store_true",
        help="fetches how far forecasts part instead: many runs of one model, for the chances",
    )
    live.add_argument("--fresh", action="store_true", help="ask even if it is minutes old")


def named_forecast(word: str, ground, now_s: float):
    """The hours of the live or the kept forecast.

    Args: live or kept; the property; the clock [epoch s]. Returns: Hours. Raises:
    NoForecast.
    """
    from core.ground.store import data_folder
    from core.weather.services.live import forecast_for, noted_hours

    kept = forecast_for(ground.center, data_folder(), now_s=now_s, offline=word == KEPT)
    return noted_hours(kept, ground.center)


def _forecast(options) -> str | list[str]:
    from core.ground.store import data_folder
    from core.weather.services.live import forecast_dict, forecast_for, forecast_lines
    from core.weather.services.sources import where_it_goes

    if options.against is not None:
        return _against(options)
    now_s = now_from(options.now)
    center = scene_at(options.property).ground.center
    if options.runs:
        return _runs(options, center, now_s)
    if not (options.offline or options.json):
        put([where_it_goes(center, options.source)], sys.stdout)
    kept = forecast_for(
        center,
        data_folder(),
        now_s=now_s,
        offline=options.offline,
        source=options.source,
        fresh=options.fresh,
    )
    read_answered(lambda _: kept.hours, options)  # a service leaves nothing open
    if options.json:
        return as_json(forecast_dict(kept, center, now_s))
    return forecast_lines(kept, center, now_s)


def _runs(options, center, now_s: float) -> str | list[str]:
    """The runs of a model: fetched, or the kept ones with --offline."""
    from core.ground.store import data_folder
    from core.weather.services import runs
    from core.weather.services.sources import rounded

    if not (options.offline or options.json):
        put([runs.said_before(center)], sys.stdout)
    if not options.offline:
        runs.fetch_runs(center, data_folder(), now_s=now_s)
    found = runs.kept_runs(data_folder(), rounded(center), now_s)
    if options.json:
        return as_json({"runs": 0 if found is None else len(found)})
    if found is None:
        return "No runs are kept for this ground, or they are over a day old."
    return [f"{runs.runs_words(found, now_s)}.", f"{runs.CREDIT}: {runs.CREDIT_LINK}"]


def _against(options) -> str | list[str]:
    """How the kept forecasts did. Asks nobody."""
    from core.ground.store import data_folder
    from core.weather.elsewhere import for_ground
    from core.weather.files.history import read_history
    from core.weather.services.archive import (
        all_kept,
        honesty,
        honesty_dict,
        honesty_words,
        reported,
    )
    from core.weather.services.sources import rounded

    ground = scene_at(options.property).ground
    kept = all_kept(data_folder(), rounded(ground.center))
    files = [(Path(name), Path(name).name) for name in options.against]

    def read(answers):
        if not files:
            return reported(kept)
        return for_ground(read_history(files, answers), ground.center, files[0][1], answers)

    measured = read_answered(read, options, ground.timezone)
    found = honesty(kept, measured)
    if options.json:
        return as_json(honesty_dict(found, measured))
    none = f"No hour of the {len(kept)} kept forecasts can be compared yet."
    return [measured.source, *map(honesty_words, found)] if found else [none]
