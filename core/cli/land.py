"""land: the heights that are kept beside a ground, and where still air goes over them."""

import time

from core.cli.shared import as_json

LARGEST_BYTES = 100_000_000  # as many as a grid of four million cells takes in text


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    land = commands.add_parser("land", help="heights of the ground, and where still air goes")
    land.add_argument("--property", metavar="FILE", help="the property; without it the demo")
    land.add_argument("--use", metavar="GRID", help="keep this grid of heights beside the ground")
    land.add_argument(
        "--unit", help="of its heights where the file leaves it open: meters, feet, us-survey-feet"
    )
    land.add_argument(
        "--surface",
        choices=("ground", "treetops"),
        default="ground",
        help="what the heights are of (default: ground)",
    )
    land.add_argument("--source", default="", help="where they are from")
    land.add_argument("--credit", default="", help="what has to be said beside them")
    land.add_argument("--take-out", action="store_true", help="use no heights any more")
    land.add_argument("--json", action="store_true")
    land.set_defaults(run=_land)


def _land(options) -> str | list[str]:
    from core.errors import BadRequest
    from core.ground.store import demo_path, open_property, save_property
    from core.land.kept import with_member
    from core.say.land import land_dict, land_lines

    if options.use and options.take_out:
        raise BadRequest("heights are either kept or taken out", "--take-out", "Name one of both.")
    opened = open_property(options.property or demo_path())
    notes: list[str] = []
    if options.take_out:
        told = with_member(opened.document, None)
        opened = save_property(opened, told, now_s=int(time.time()))
        notes = ["The heights are no longer used; their file stays beside the ground's."]
    if options.use:
        opened, notes = _kept(opened, options)
    if options.json:
        return as_json({"notes": notes, **land_dict(opened)})
    return [*notes, *land_lines(opened)]


def _kept(opened, options):
    from pathlib import Path

    from core.ground.heights.slope_at import BadElevation, read_elevation
    from core.land.cut import cut_to
    from core.land.kept import keep_land

    place = Path(options.use)
    try:
        with place.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)  # a device tells no size
    except OSError as error:
        raise BadElevation(
            f"the file cannot be opened: {error.strerror or error}", place.name, "Check the name."
        ) from None
    if len(data) > LARGEST_BYTES:
        raise BadElevation(
            f"the file has over {LARGEST_BYTES / 1e6:.0f} MB",
            place.name,
            "Cut out the piece that is this ground.",
        )
    unit = options.unit and options.unit.replace("us-survey-", "US survey ")
    grid, notes = cut_to(read_elevation(data, place.name, unit), opened.property, place.name)
    source = options.source or place.name
    kept = keep_land(
        opened,
        grid,
        source=source,
        credit=options.credit,
        surface=options.surface,
        now_s=int(time.time()),
    )
    return kept, notes
