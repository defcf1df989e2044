"""Everybody's seats in words and as plain data: who sits where, who stays, what of each other."""

import itertools

from core.angles import point_name
from core.ground.plan import bearing_deg
from core.party.pairs import FOUND, Seated, apart_yd, no_shoot_between
from core.party.seating import (
    NO_SHOT,
    NOT_FOR_GUESTS,
    NOT_GO,
    TOO_HIGH,
    TRAIL_IN_AIR,
    Out,
    Seating,
)
from core.say.as_json import iso
from core.say.headline import sit_line
from core.say.hunters.orange import orange_text
from core.say.reason_texts import reason_line, reason_texts
from core.say.reasons import reasons
from core.say.two_hunters import NOT_CLEARANCE, Said, finding_text, shared_lanes
from core.say.words import GROUPS_SAID, at_time, in_a_row
from core.sit.verdicts import GROUP_WORDS, VERDICT_WORDS

UNFIT_SAID = {
    NOT_GO: "not go",
    TOO_HIGH: "too high to climb",
    NOT_FOR_GUESTS: "not marked for guests",
    NO_SHOT: "without a shot in range",
    TRAIL_IN_AIR: "with the trail in the air",
}
FOUND_SAID = dict(
    zip(
        FOUND,
        (
            "too near",
            "within range",
            "in line with a shot",
            "in the air",
            "with the trail in the air",
            "on the way past a seat",
            "on a way over the trail",
        ),
        strict=True,
    )
)


def party_report(seating: Seating) -> dict:
    """The answer of `party --json`. Args: the proposal."""
    sit = seating.out[0].answer.sit
    return {
        "date": sit.clock.date.isoformat(),
        "sit": sit.clock.sit,
        "seats": [_seat_report(seating.out[i], seat) for i, seat in sorted(seating.seats.items())],
        "staying": [
            {"hunter": seating.out[i].person.name, "why": staying_text(seating, i)}
            for i in seating.staying
        ],
        "pairs": [
            {"hunters": [_name(seating, i), _name(seating, k)], "text": pair_text(seating, i, k)}
            for i, k in pairs_of(seating)
        ],
    }


def _seat_report(out: Out, seat: Seated) -> dict:
    own, sit = seat.own, seat.sit
    return {
        "hunter": out.person.name,
        "weapon": weapon_of(out),
        "stand": own.stand.id,
        "group": GROUP_WORDS[own.group],
        "verdict": VERDICT_WORDS[own.verdict],
        "leave_truck": iso(own.leave_truck_s, sit.timezone),
        "reasons": reason_texts(sit, reasons(sit, own)),
    }


def weapon_of(out: Out) -> str | None:
    """What a hunter is out with: as named, else the weapon of the season. Args: the hunter."""
    season = out.answer.sit.clock.season
    return out.hunter.weapon or (season.weapon if season else None)


def party_lines(seating: Seating) -> list[str]:
    """The whole proposal in text. Args: the proposal."""
    sit = seating.out[0].answer.sit
    lines = [sit_line(sit), *[seat_line(seating, i) for i in in_walking_order(seating)]]
    lines += [f"{_name(seating, i)} stays: {staying_text(seating, i)}" for i in seating.staying]
    lines += ["", *[pair_text(seating, i, k) for i, k in pairs_of(seating)]]
    oranges = [orange_text(out.answer.sit) for out in seating.out]
    return [*lines, *dict.fromkeys(filter(None, oranges)), NOT_CLEARANCE]


def in_walking_order(seating: Seating) -> list[int]:
    """Who goes, the first to leave the truck first; who has no way in last. Args: the proposal.

    Returns: places among those who are out.
    """

    def leaves(i: int) -> tuple[bool, float, int]:
        leave_s = seating.seats[i].own.leave_truck_s
        return leave_s is None, leave_s or 0.0, i

    return sorted(seating.seats, key=leaves)


def seat_line(seating: Seating, i: int) -> str:
    """One who goes: where, with what, when to leave, and why that seat.

    Args: the proposal; the place among those who are out.
    """
    out, seat = seating.out[i], seating.seats[i]
    own, weapon = seat.own, weapon_of(out)
    leaves = (
        ""
        if own.leave_truck_s is None
        else f", leave the truck {at_time(seat.sit, own.leave_truck_s)}"
    )
    tool = f" ({weapon})" if weapon else ""
    hand = " Chosen by hand." if out.hunter.stand else ""
    return (
        f"{out.person.name}{tool}: {own.stand.name}{leaves}. {GROUPS_SAID[own.group]}.{hand} "
        f"{reason_line(seat.sit, own)}"
    )


def staying_text(seating: Seating, i: int) -> str:
    """Why somebody stays. Args: the proposal; the place among those who are out."""
    out = seating.out[i]
    stands = out.answer.stands
    if not stands:
        return "no stands yet."
    unfit = [out.unfit(own) for own in stands]
    if all(why == NOT_GO for why in unfit):
        first = stands[0]
        group = GROUPS_SAID[first.group].lower()
        return f"no stand is go. {first.stand.name}, {group}: {reason_line(out.answer.sit, first)}"
    if all(unfit):
        fits = [
            f"{own.stand.name} is {UNFIT_SAID[why]}"
            for own, why in zip(stands, unfit, strict=True)
            if why != NOT_GO
        ]
        return f"of the stands that are go, {in_a_row(fits)}."
    blocked = seating.in_the_way(i)
    if not blocked:
        return "every stand that is go for this hunter is taken."
    told = [
        f"{own.stand.name} is {FOUND_SAID[found.kind]} ({_name(seating, k)})"
        for own, k, found in blocked
    ]
    return f"{in_a_row(told)}. The others are taken or not go."


def pairs_of(seating: Seating) -> list[tuple[int, int]]:
    """Every two who go, by their places among those who are out. Args: the proposal."""
    return list(itertools.combinations(sorted(seating.seats), 2))


def pair_text(seating: Seating, i: int, k: int) -> str:
    """What two who go must know of each other. Args: the proposal; their places.

    What was found between seats chosen by hand comes first.
    """
    one, other = seating.seats[i], seating.seats[k]
    me, them = _name(seating, i), _name(seating, k)
    lines = pair_warnings(seating, i, k)
    toward = point_name(float(bearing_deg(one.at_m, other.at_m)))
    back = point_name(float(bearing_deg(other.at_m, one.at_m)))
    lines.append(
        f"{them} sits {apart_yd(one, other):.0f} yd {toward} of {me}. No shot {toward} from "
        f"{one.own.stand.name}, no shot {back} from {other.own.stand.name}."
    )
    if no_shoot_between(one, other):
        lines.append("A no-shoot area lies between.")
    ground = one.scene.ground
    lines += [f"Both walk {ground.name_of(lane)}." for lane in shared_lanes(one, other)]
    first = [n for n in in_walking_order(seating) if n in (i, k)]
    leave_s = [seating.seats[n].own.leave_truck_s for n in first]
    if None not in leave_s and leave_s[0] != leave_s[1]:
        lines.append(f"{_name(seating, first[0])} leaves first.")
    if not pair_warnings(seating, i, k):
        lines.append("Neither's air or walk was found on the other's seat or trails.")
    return " ".join(lines)


def pair_warnings(seating: Seating, i: int, k: int) -> list[str]:
    """What was found between two who go, each once. Args: as `pair_text`."""
    said = {n: Said.of(_name(seating, n)) for n in (i, k)}
    lines: dict[str, None] = {}
    for a, b in ((i, k), (k, i)):
        for found in seating.against[a, b]:
            both_ways = (a, b) == (k, i) and found.kind == FOUND[0]
            if not both_ways:
                lines[finding_text(seating.seats[a], found, said[a], said[b])] = None
    return list(lines)


def _name(seating: Seating, i: int) -> str:
    return seating.out[i].person.name
