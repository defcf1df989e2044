"""The stands of a sit side by side, a row each: why, leave, way, what is to spare, and the
other half of the day."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.angles import point_name
from core.answer.change import spare_deg, works_near
from core.answer.one_sit import SitAnswer, StandSit
from core.say.chance.words import short_text
from core.say.log.felt import felt_here
from core.say.reason_texts import reason_line, rested_text
from core.say.words import GROUPS_SAID, clock_digits
from core.show.template import filled
from core.sit.prepare import Sit
from core.sit.verdicts import GO

if TYPE_CHECKING:
    from markupsafe import Markup

NONE = "–"
LOOKED_AT_DEG = 45  # to either side of the wind; who has more to spare need not count it


@dataclass(frozen=True, slots=True)
class Compared:
    """One stand: what its row says. Empty words and None where there is nothing to say."""

    id: str
    verdict: int
    name: str
    group: str
    why: str
    leave: str
    way: str
    spare: str
    other: str  # of the other half of the day
    other_verdict: int | None


def compared(answer: SitAnswer, other: SitAnswer | None) -> dict[str, Compared]:
    """The rows of a sit's stands by id, best first.

    Args: the answer; that of the other half of the day, or None.
    """
    halves = {s.stand.id: s for s in other.stands} if other is not None else {}
    return {s.stand.id: _row(answer, s, halves.get(s.stand.id)) for s in answer.stands}


def _row(answer: SitAnswer, seat: StandSit, other: StandSit | None) -> Compared:
    sit, likely = answer.sit, short_text(answer.chances, seat)
    likely = f"{likely[:1].upper()}{likely[1:]}." if likely else ""
    left, told = seat.leave_truck_s, (felt_here(sit, seat), rested_text(sit, seat))
    return Compared(
        id=seat.stand.id,
        verdict=seat.verdict,
        name=seat.stand.name,
        group=group_word(seat.group),
        why=" ".join(filter(None, [likely, reason_line(sit, seat), *told])),
        leave=clock_digits(left, sit.timezone) if left is not None and seat.group == GO else NONE,
        way=seat.way_in.way.lane.name if seat.way_in is not None else NONE,
        spare=spare_short(sit, seat) if seat.group == GO else NONE,
        other="" if other is None else group_word(other.group),
        other_verdict=None if other is None else other.verdict,
    )


def group_word(group: int) -> str:
    """A group as it is read: "go", "can't call", "stay out". Args: the group."""
    return GROUPS_SAID[group].lower()


def spare_short(sit: Sit, seat: StandSit) -> str:
    """The nearer edge of the winds that work, as "23° to W".

    Args: the sit; the stand in it. Missing: a dash where no wind is known or none works.
    """
    mean = sit.mean_wind_deg
    left, right = spare_deg(works_near(sit, seat, LOOKED_AT_DEG), mean)
    if left is None or right is None:
        return NONE
    near, side = min((left, -1), (right, 1))
    if near > LOOKED_AT_DEG:
        return f"over {LOOKED_AT_DEG}°"
    return f"{near:.0f}° to {point_name(mean + side * 45)}"


def cells_html(row: Compared) -> "Markup":
    """What a row says beside the stand's name. Args: the row."""
    return filled("compared.html", row=row)


def compared_head_html(half: str) -> "Markup":
    """The names of the columns. Args: the sit, "morning" or "evening"."""
    return filled("compared_head.html", half=half)
