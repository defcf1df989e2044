"""Why the pick stands above the second: what weighed most in the order, in one line."""

import dataclasses

import numpy as np

from core.answer.one_sit import SitAnswer, StandSit
from core.judge.order import BAND, after_shots, factors, rested
from core.say.chance.words import standing_of
from core.say.headline import AnswerHead
from core.sit.verdicts import GO, STAY

TOLD = {
    "air": "cleaner air",
    "way_in": "a cleaner way in",
    "way_out": "a cleaner way out",
    "rest": "longer rested",
}


def above_second(head: AnswerHead, answer: SitAnswer) -> AnswerHead:
    """The head of a pick with the line at the end of its summary. Args: it; the answer."""
    told = above_text(answer)
    return dataclasses.replace(head, summary=f"{head.summary} {told}".rstrip()) if told else head


def above_text(answer: SitAnswer) -> str:
    """Why the first stand of an answer stands above the second.

    Args: the answer. Returns: one sentence; empty without a second, in stay out, and where
    the second is of a worse group and the first is no go.
    """
    if len(answer.order) < 2:
        return ""
    first, second = answer.at(0), answer.at(1)
    if first.group == STAY:
        return ""
    if second.group != first.group:
        return "No other stand is go." if first.group == GO else ""
    return f"Above {second.stand.name}: {_why(answer, first, second)}."


def _why(answer: SitAnswer, first: StandSit, second: StandSit) -> str:
    sits, at = answer.sit.sits, answer.sit.at
    one, other = (answer.judged[k] for k in answer.order[:2])
    if after_shots(sits, other)[at] and not after_shots(sits, one)[at]:
        return "a shot here, only watching there"
    if standing_of(answer.chances, first) != standing_of(answer.chances, second):
        return "it is likelier to hold"
    best = max(first.score, second.score)
    if min(first.score, second.score) >= best * (1.0 - BAND) - 1e-12:
        return _level(first, second)
    shares = [
        {k: float(v[at]) for k, v in factors(sits, s, rested(sits, s.stand).share).items()}
        for s in (one, other)
    ]
    times = {k: (shares[0][k] + 1e-9) / (shares[1][k] + 1e-9) for k in shares[0]}
    most = max(times, key=lambda k: times[k])
    return TOLD.get(most) or _wanted(first, second)


def _level(first: StandSit, second: StandSit) -> str:
    """Two within the band of 5 %: what decides between them."""
    if len(first.corridors) != len(second.corridors):
        return "as good, with more trails in range"
    if not np.isclose(first.rest, second.rest):
        return "as good, and longer rested"
    return "as good; its name comes first"


def _wanted(first: StandSit, second: StandSit) -> str:
    if first.wanted and first.wanted != second.wanted:
        other = second.wanted or "nothing"
        return f"you marked it {first.wanted}, and {other} there"
    return "a trail or food in range"
