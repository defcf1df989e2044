"""check: what a property file holds, and what is to be criticised. convert: map files."""

from core.cli.shared import add_replace, as_json


def register(commands) -> None:
    """Adds these commands. Args: argparse's subparsers."""
    check = commands.add_parser("check", help="validates a property file and criticises the ground")
    check.add_argument("file")
    check.add_argument("--json", action="store_true")
    check.set_defaults(run=_check)
    convert = commands.add_parser("convert", help="turns one map file into another")
    convert.add_argument("input", metavar="IN", help="property file, GeoJSON, GPX, KML or KMZ")
    convert.add_argument("output", metavar="OUT", help="the .gpx, .geojson or .json file to write")
    convert.add_argument("--as", dest="kind", metavar="KIND", help="take all that suits as this")
    add_replace(convert)
    convert.set_defaults(run=_convert)


def _check(options) -> str | list[str]:
    from core.criticism.common_wind import typical_common_wind
    from core.criticism.whole_ground import finding_dicts, review, review_lines
    from core.ground.store import open_property
    from core.land.kept import land_of
    from core.say.property_file import property_lines
    from core.sit.scene import Scene

    opened = open_property(options.file)
    scene = Scene(opened.property, land_of(opened)[0])
    findings = review(scene, typical_common_wind(opened.property))
    lines = property_lines(opened)
    if options.json:
        said = finding_dicts(opened.property, findings)
        return as_json({"notes": lines, "findings": said})
    return [*lines, *review_lines(opened.property, findings)]


def _convert(options) -> list[str]:
    from core.ground.exchange.files import convert

    return convert(options.input, options.output, options.kind, replace=options.replace)
