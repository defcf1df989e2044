"""Which stand can be sat until when: a row for each stand of a sit, on one straight ruler."""

import base64
from typing import TYPE_CHECKING, NamedTuple

from core.answer.one_sit import SitAnswer
from core.say.pieces.stretches import stretches
from core.say.pieces.told import until_text
from core.say.words import clock_digits
from core.show.hours.dusk_clock import strip
from core.show.palette import DARK
from core.show.template import filled

if TYPE_CHECKING:
    from markupsafe import Markup


class UntilRow(NamedTuple):
    """One stand: its verdict, name and id, its ruler as the address of an image, until when."""

    verdict: int
    name: str
    id: str
    ruler: str
    until: str


def until_rows(answer: SitAnswer, most: int) -> list[UntilRow]:
    """The rows of a sit, best first. Args: the answer; rows at most."""
    sit = answer.sit
    return [
        UntilRow(
            seat.verdict,
            seat.stand.name,
            seat.stand.id,
            _address(strip(sit, stretches(sit, seat), DARK)),
            until_text(sit, seat),
        )
        for seat in answer.stands[:most]
    ]


def _address(drawn: str) -> str:
    return f"data:image/svg+xml;base64,{base64.b64encode(drawn.encode()).decode()}" if drawn else ""


def until_html(answer: SitAnswer, rows: list[UntilRow], looked_at: str) -> "Markup":
    """The table. Args: the answer; its rows; the id of the stand that is looked at."""
    clock = answer.sit.clock
    ends = tuple(
        clock_digits(at, answer.sit.timezone) if at is not None else ""
        for at in (clock.start_s, clock.end_s)
    )
    return filled("until.html", rows=rows, ends=ends, looked_at=looked_at)
