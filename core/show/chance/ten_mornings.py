"""Ten mornings like this: ten of our own marks in a row, and the same in words."""

from typing import TYPE_CHECKING

import numpy as np

from core.answer.one_sit import SitAnswer, StandSit
from core.chance.tenths import in_tenths
from core.say.chance.words import chance_text, law_text, plan_text
from core.show.template import filled
from core.sit.minutes import EVENING, MORNING
from core.sit.verdicts import CANT_CALL, CLEAN, GO, JUST_OFF, WRONG

if TYPE_CHECKING:
    from markupsafe import Markup

MANY_SAID = {MORNING: "mornings", EVENING: "evenings"}
SAID = ((CLEAN, "clean"), (JUST_OFF, "just-off"), (CANT_CALL, "can't call"), (WRONG, "stay out"))


def ten_marks(answer: SitAnswer, seat: StandSit) -> list[int]:
    """The verdict of each of ten sits like this one, the best first.

    Args: an answer with its chances; the stand. Returns: as many go, can't call and stay out
    as the words say; empty without a chance.
    """
    chances = answer.chances
    shares = chances.shares(seat.stand.id) if chances is not None else None
    if chances is None or shares is None:
        return []
    go, cant, stay = in_tenths(shares)
    groups, verdicts = (kept[seat.stand.id] for kept in (chances.groups, chances.verdicts))
    off_share = float(np.mean(verdicts[groups == GO] == JUST_OFF)) if go else 0.0
    off = int(go * off_share + 0.5)
    return [CLEAN] * (go - off) + [JUST_OFF] * off + [CANT_CALL] * cant + [WRONG] * stay


def marks_told(answer: SitAnswer, marks: list[int]) -> str:
    """Ten marks in words, such as "Ten mornings like this: 7 clean, 2 can't call, 1 stay out".

    Args: the answer; the marks.
    """
    counts = [f"{marks.count(verdict)} {word}" for verdict, word in SAID if verdict in marks]
    return f"Ten {MANY_SAID.get(answer.sit.clock.sit, 'days')} like this: {', '.join(counts)}"


def chance_html(answer: SitAnswer, seat: StandSit, *, paper: bool = False) -> "Markup | str":
    """How likely a stand holds: the sentence, ten marks, plan B, and what that rests on.

    Args: an answer with its chances; the stand; whether it is for paper.
    Returns: empty where nobody asked for chances, or the stand is out whatever the wind.
    """
    sentence = chance_text(answer, seat)
    if not sentence:
        return ""
    marks, first = ten_marks(answer, seat), answer.best
    is_first = first is not None and first.stand.id == seat.stand.id
    return filled(
        "chance.html",
        sentence=sentence,
        marks=marks,
        told=marks_told(answer, marks) if marks else "",
        plan=plan_text(answer) if is_first else "",
        law=law_text(answer.chances),
        paper=paper,
    )
