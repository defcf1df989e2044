"""history: the wind of one's own ground over the years, fetched once and kept for good."""

import sys
from datetime import UTC, datetime

from core.cli.printing import put
from core.cli.shared import as_json, common, date_of, now_from, scene_at
from core.errors import BadRequest, StandWindError

KEPT, MEASURED = "kept", "measured"


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    history = commands.add_parser(
        "history", help="fetches the ground's own autumns of wind, or a station's, and keeps them"
    )
    common(history, _history)
    history.add_argument("--years", type=int, default=10, help="how many autumns: 10 or 30")
    history.add_argument(
        "--stations",
        nargs="?",
        const="",
        metavar="ID",
        help="measured wind: lists the five nearest stations, or fetches the one of this id",
    )
    history.add_argument(
        "--days-since",
        metavar="DATE",
        help="instead: the hours of whole years from this day on, for growing degree days",
    )
    history.add_argument("--offline", action="store_true", help="ask nobody, tell what is kept")


def own_history(word: str, ground):
    """The kept history of a ground. Args: kept or measured; the property. Returns: Hours.

    Raises: BadRequest where none is kept."""
    from core.ground.store import data_folder
    from core.weather.services.autumns import modelled_history
    from core.weather.services.sources import rounded
    from core.weather.services.station_years import measured_history

    read, more = (modelled_history, "") if word == KEPT else (measured_history, " --stations ID")
    found = read(data_folder(), rounded(ground.center))
    if found is None:
        fix = f"Fetch it once: python -m core history --property FILE --years 10{more}."
        raise BadRequest("no history of this ground is kept", f"--history {word}", fix)
    return found


def _history(options) -> str | list[str]:
    from core.weather.services.history_press import YEARS

    if options.years not in YEARS:
        raise BadRequest(f"{options.years} years", "--years", "Take 10 or 30.")
    ground, now_s = scene_at(options.property).ground, now_from(options.now)
    try:
        if not options.offline:
            _fetch(options, ground, now_s)
    except KeyboardInterrupt:
        put(["Stopped. What came is kept; the same command goes on from there."], sys.stderr)
    return as_json(_kept(ground)) if options.json else _kept_lines(_kept(ground))


def _fetch(options, ground, now_s: float) -> None:
    """Says what will be asked, asks, and tells each year as it comes. Raises: as the presses."""
    from core.ground.store import data_folder
    from core.weather.services import history_press, station_years, whole_years

    quiet, seasons, center = options.json, ground.seasons, ground.center
    if options.days_since:
        since, today = date_of(options.days_since), datetime.fromtimestamp(now_s, UTC).date()
        if not whole_years.years_of(since, today):
            raise BadRequest(
                f"the archive has no day after {since.isoformat()} yet",
                "--days-since",
                "Take an earlier day, or ask again in a week.",
            )
        _say([whole_years.said_before(center, since, today)], quiet)
        press = whole_years.fetch_years(center, since, data_folder(), now_s=now_s)
    elif options.stations is None:
        _say([history_press.said_before(center, options.years)], quiet)
        press = history_press.fetch_autumns(
            seasons, center, options.years, data_folder(), now_s=now_s
        )
    elif options.stations:
        _say([station_years.said_before(options.stations)], quiet)
        press = station_years.fetch_station(
            seasons, center, options.years, options.stations, data_folder(), now_s=now_s
        )
    else:
        near = station_years.nearest_stations(center, now_s=now_s)
        _say([station_years.station_line(one, ground.elevation_m or None) for one in near], quiet)
        _say(["Fetch one with --stations ID, as it stands first in its line."], quiet)
        return
    try:
        got = None
        for got in press:
            _say([got.words], quiet)
        if got is None:
            _say(["All of it is kept: nobody was asked."], quiet)
    except OSError as fault:
        raise StandWindError(
            f"it can't be kept ({fault.strerror or fault})", "the history", "Make room for it."
        ) from fault


def _say(lines: list[str], quiet: bool) -> None:
    if not quiet:
        put(lines, sys.stdout)


def _kept(ground) -> dict:
    """What is kept of a ground, as plain values."""
    from core.ground.store import data_folder
    from core.weather.services.autumns import kept_years, modelled_history
    from core.weather.services.sources import rounded
    from core.weather.services.station_years import measured_history
    from core.weather.services.whole_years import whole_years

    place = rounded(ground.center)
    found = {
        "modelled": modelled_history(data_folder(), place),
        "measured": measured_history(data_folder(), place),
    }
    told = {
        name: None
        if hours is None
        else {"source": hours.source, "hours": len(hours), "notes": list(hours.notes)}
        for name, hours in found.items()
    }
    years = whole_years(data_folder(), place)
    return {"autumns": kept_years(data_folder(), place), "whole_years": years, **told}


def _kept_lines(kept: dict) -> list[str]:
    lines = []
    for name, word in (("modelled", KEPT), ("measured", MEASURED)):
        if kept[name]:
            lines.append(f"Kept: {kept[name]['source']}. Use it: season --history {word}.")
            lines += [f"{note}." for note in kept[name]["notes"]]
    if kept["whole_years"]:
        named = ", ".join(map(str, kept["whole_years"]))
        lines.append(f"Kept for growing degree days: {named}. See them: trail --at TRAIL.")
    return lines or ["No history of this ground is kept yet."]
