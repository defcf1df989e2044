"""party: seats for several hunters at once."""

from core.cli.kept_log import add_log, log_of
from core.cli.open_questions import add_answers
from core.cli.shared import as_json, common, date_of, scene_at, stand_id
from core.cli.sits import add_wind, sit_weather


def register(commands) -> None:
    """Adds this command. Args: argparse's subparsers."""
    party = commands.add_parser("party", help="seats for several hunters at once, up to six")
    common(party, _party)
    party.add_argument("--date", required=True)
    party.add_argument("--sit", required=True, choices=("morning", "evening", "all-day"))
    add_wind(party)
    add_answers(party)
    party.add_argument("--cloud", type=float)
    party.add_argument(
        "--hunter",
        nargs="+",
        action="extend",
        required=True,
        metavar="NAME[:WEAPON]",
        help="who is out, like Nell or Nell:bow",
    )
    party.add_argument(
        "--seat",
        nargs="+",
        action="extend",
        default=[],
        metavar="NAME:STAND",
        help="a seat chosen by hand, like Nell:creek",
    )
    party.add_argument(
        "--beginner", nargs="+", action="extend", default=[], metavar="NAME", help="seated first"
    )
    add_log(party)


def hunters_from(options, ground) -> list:
    """Who is out. Args: the parsed words; the ground. Returns: `core.party.seating.Hunter`s.

    A name may hold a colon where the property knows it so. Raises: BadRequest.
    """
    from core.errors import BadRequest
    from core.party.seating import Hunter

    known = {person.name.casefold() for person in ground.people}
    seats: dict[str, str] = {}
    for word in options.seat:
        name, _, stand = word.rpartition(":")
        key = name.strip().casefold()
        if not key or not stand.strip() or key in seats:
            twice = key and stand.strip()
            what = f"'{name}' has two seats" if twice else f"'{word}' is not NAME:STAND"
            raise BadRequest(what, "--seat", "Write each once, like Nell:creek.")
        seats[key] = stand_id(stand, ground, "--seat")
    beginners = {name.strip().casefold() for name in options.beginner}
    hunters = []
    for word in options.hunter:
        name, colon, weapon = (word, "", "") if word.casefold() in known else word.rpartition(":")
        name, weapon = (name.strip(), weapon.strip()) if colon else (word.strip(), "")
        key = name.casefold()
        beginner = True if key in beginners else None
        hunters.append(Hunter(name, weapon or None, seats.pop(key, None), beginner))
    names = {hunter.name.casefold() for hunter in hunters}
    for name in [*seats, *(beginners - names)]:
        raise BadRequest(
            f"'{name}' is not among those who are out", "--seat, --beginner", "Add --hunter."
        )
    return hunters


def _party(options) -> str | list[str]:
    from core.party.seating import seat_all
    from core.say.hunters.party import party_lines, party_report

    scene = scene_at(options.property)
    hunters = hunters_from(options, scene.ground)
    weather, log = sit_weather(options, scene), log_of(options, scene.ground)
    seating = seat_all(scene, weather, date_of(options.date), options.sit, hunters, log)
    return as_json(party_report(seating)) if options.json else party_lines(seating)
