"""Two hunters on one ground: what to know of each other. No warning is never clearance."""

from dataclasses import dataclass

from core.answer.one_sit import StandSit
from core.party.pairs import (
    AIR_ON_SEAT,
    AIR_ON_TRAIL,
    IN_LINE,
    IN_RANGE,
    PAST_SEAT,
    TOO_NEAR,
    PairFinding,
    Seated,
    findings,
)
from core.party.pairs import shots_at as shots_between
from core.say.words import at_time, like_text
from core.sit.prepare import Sit

NOT_CLEARANCE = "No warning is not clearance: agree on where each sits and where nobody shoots."


@dataclass(frozen=True, slots=True)
class Said:
    """How one of two hunters is spoken of: as `Nell`, `Nell's`, or as `you`, `your`.

    The last two begin a sentence; a name keeps its own first letter.
    """

    name: str
    whose: str
    does: str  # the end of what one does
    first: str
    whose_first: str

    @staticmethod
    def of(name: str) -> "Said":
        """Someone by name."""
        return Said(name, f"{name}'s", "s", name, f"{name}'s")


YOU = Said("you", "your", "", "You", "Your")


def finding_text(one: Seated, found: PairFinding, me: Said, other: Said) -> str:
    """What the first hunter does to the second in a sentence.

    Args: the first in his seat; what was found; how both are spoken of.
    """
    trail = one.scene.ground.name_of(found.trail) if found.trail else ""
    yards = "" if found.yards != found.yards else f"{found.yards:.0f} yd"
    said = {
        TOO_NEAR: f"{other.first} sit{other.does} {yards} from {me.name}: too near",
        IN_RANGE: f"{other.first} sit{other.does} within {me.whose} range, {yards} off",
        IN_LINE: f"In line: {me.whose} shot to {trail} points at {other.name}, {yards} off",
        PAST_SEAT: f"{me.first} walk{me.does} past {other.whose} seat, {yards} off",
    }.get(found.kind)
    if found.kind in (AIR_ON_SEAT, AIR_ON_TRAIL):
        on = f"trail {trail}" if trail else "seat"
        said = f"{me.whose_first} air lies on {other.whose} {on}, like {like_text(found.yards)}"
    elif found.kind == PAST_SEAT:
        said = f"{said}, at {at_time(one.sit, found.time_s)}"
    elif said is None:
        said = f"{me.first} walk{me.does} over {trail}, where {other.name} wait{other.does}"
    return f"{said}."


def together(sit: Sit, mine: StandSit, other: StandSit, name: str) -> list[str]:
    """What two hunters must know when one sits here and the other there.

    Args: the sit; my stand in it; the other's; the other's name.
    Returns: sentences; none where nothing was found, which is no clearance.
    """
    if mine.stand.id == other.stand.id:
        return []
    me, them, said = Seated(sit, mine), Seated(sit, other), Said.of(name)
    lines = []
    for one, two, who, whom in ((me, them, YOU, said), (them, me, said, YOU)):
        for found in findings(one, two):
            if found.kind == TOO_NEAR and one is me:
                lines.append(f"{name} sits {found.yards:.0f} yd from you, at {other.stand.name}.")
            elif found.kind != TOO_NEAR:
                lines.append(finding_text(one, found, who, whom))
    lines += [
        f"You share {sit.scene.ground.name_of(lane)} with {name}: agree on who walks when."
        for lane in shared_lanes(me, them)
    ]
    return list(dict.fromkeys(lines))


def shared_lanes(one: Seated, other: Seated) -> list[str]:
    """Ids of the lanes that both walk, in or out."""

    def lanes(seat: Seated) -> set[str]:
        return {w.way.lane.id for w in (seat.own.way_in, seat.own.way_out) if w}

    return sorted(lanes(one) & lanes(other))


def shots_at(sit: Sit, seat: StandSit, target: StandSit) -> list[str]:
    """Trails to which a shot from one seat points at another, out to where it may carry.

    Args: the sit; the seat that shoots; the other. Returns: ids of the trails.
    """
    return shots_between(Seated(sit, seat), Seated(sit, target))
