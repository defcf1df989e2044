"""land: the heights that are kept beside a ground, and where still air goes over them."""

import sys
import time

from core.cli.printing import put
from core.cli.shared import as_json


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    land = commands.add_parser("land", help="heights of the ground, and where still air goes")
    land.add_argument("--property", metavar="FILE", help="the property; without it the demo")
    land.add_argument("--use", metavar="GRID", help="keep this grid of heights beside the ground")
    land.add_argument(
        "--unit", help="of its heights where the file leaves it open: meters, feet, us-survey-feet"
    )
    land.add_argument(
        "--zone", metavar="17N", help="UTM zone of a text grid in meters, which does not tell it"
    )
    land.add_argument(
        "--surface",
        choices=("ground", "treetops"),
        default="ground",
        help="what the heights are of (default: ground)",
    )
    land.add_argument("--source", default="", help="where they are from")
    land.add_argument("--credit", default="", help="what has to be said beside them")
    land.add_argument(
        "--fetch",
        action="store_true",
        help="get heights of the box about the ground from an open service, and keep them",
    )
    land.add_argument("--take-out", action="store_true", help="use no heights any more")
    land.add_argument("--json", action="store_true")
    land.set_defaults(run=_land)


def _land(options) -> str | list[str]:
    from core.errors import BadRequest
    from core.ground.store import demo_path, open_property, save_property
    from core.land.kept import with_member
    from core.say.land import land_dict, land_lines

    if sum(map(bool, (options.use, options.fetch, options.take_out))) > 1:
        raise BadRequest(
            "heights are used, fetched or taken out",
            "land",
            "Name one of --use, --fetch, --take-out.",
        )
    opened = open_property(options.property or demo_path())
    notes: list[str] = []
    if options.take_out:
        told = with_member(opened.document, None)
        opened = save_property(opened, told, now_s=int(time.time()))
        notes = ["The heights are no longer used; their file stays beside the ground's."]
    if options.use:
        opened, notes = _kept(opened, options)
    if options.fetch:
        opened, notes = _fetched(opened, quiet=options.json)
    if options.json:
        return as_json({"notes": notes, **land_dict(opened)})
    return [*notes, *land_lines(opened)]


def _kept(opened, options):
    from pathlib import Path

    from core.ground.heights.elevation_file import read_elevation_file
    from core.ground.heights.grid import METERS, BadElevation
    from core.land.cut import as_feet, box_about, cut_to, feet_question

    place, ground = Path(options.use), opened.property
    unit = options.unit and options.unit.replace("us-survey-", "US survey ")
    grid = read_elevation_file(place, box_about(ground), unit, options.zone)
    cut, notes = cut_to(grid, ground, place.name)
    if question := feet_question(cut, ground):
        if unit is None:
            fix = "Answer with --unit feet or --unit meters."
            raise BadElevation(question, place.name, fix)
        if unit == METERS:
            notes.append(question)
        else:  # the file itself says meters
            cut = as_feet(cut)
    if options.zone and not grid.read_as:
        notes.append("--zone was not used: the file says where it lies.")
    told = {"source": options.source or place.name, "credit": options.credit}
    return _keep(opened, cut, surface=options.surface, **told), notes


def _fetched(opened, *, quiet: bool):
    """Says what will be asked, asks, and keeps what came."""
    from core.land.cut import box_about, cut_to
    from core.land.kept import own_file
    from core.weather.services.heights import fetch_heights, said_before

    own_file(opened)
    box = box_about(opened.property)
    if not quiet:
        put([said_before(box)], sys.stdout)
    came = fetch_heights(box)
    cut, notes = cut_to(came.grid, opened.property, "the heights that came")
    told = {"source": came.source, "credit": came.credit, "surface": came.surface}
    return _keep(opened, cut, **told), notes


def _keep(opened, cut, **told):
    from core.land.kept import keep_land

    return keep_land(opened, cut, now_s=int(time.time()), **told)
