"""Whether a direction is told as where the wind comes from or as where it goes.

Only words that say so count: a `to` may as well belong to a range (0 to 360), to the
north that degrees are counted from, or to a rounding. What stays in doubt is asked.
"""

import re
from collections.abc import Iterable

from core.weather.reading.words import tokens

FROM, TOWARD, OPEN, UNTOLD = "from", "toward", "open", ""
# words about numbers, references and rounding, in which `to` and `from` point nowhere
_POINTLESS = re.compile(
    r"(?:from )?\d+(?: deg| degrees)? (?:to|thru|through|until) \d+"
    r"|\b(?:relative|referr?ed|referenced|reduced|corrected|compared|adjusted|according|respect"
    r"|equal|due|up|down|set|converted|averaged|rounded|truncated) to\b"
    r"|\bto (?:the )?(?:nearest|closest|next)\b"
    r"|\bto (?:the )?(?:true |magnetic |grid |geographic )?north\b"
    r"|\bto (?:\d+|one|ten|whole|full) ?(?:deg|degrees?|points?)\b"
    r"|\bfrom (?:the )?(?:true |magnetic |grid |geographic )?(?:north|n)\b"
)
_GOES = re.compile(
    r"\btowards?\b|\bdownwind\b|\bleeward\b|\boceanographic\b|\b(?:in)?to (?:which|where)\b"
    r"|\b(?:nach|vers|hacia)\b"
    r"|\b(?:winds?|air|blow\w*|go(?:es|ing)|mov(?:es|ing)|flow\w*|drift\w*|head(?:ed|ing)"
    r"|carried|travel\w*) (?:in)?to\b"
)
_COMES = re.compile(r"\bfrom\b|\bupwind\b|\bmeteorological\b|\b(?:von|desde)\b")
_DOUBT = re.compile(
    r"\b(?:in)?to\b|\b(?:flow|drift|travel|arrow|blown|set|course|heading)\b|\bin which\b"
)
_BLOWS = re.compile(r"\b(?:blow\w*|going|goes)\b")  # which way, it does not say
_SENTENCE = re.compile(
    r"\b(?:directions?|dir|bearings?|degrees)\b.*"
    r"\b(?:(?P<to>to|towards?|into)|from) (?:which|where)\b"
    r"|\bdirections? (?:is|are|means?)(?: given)? (?P<toward>towards?)\b"
)
_ABOUT_DIRECTION = re.compile(r"\b(?:directions?|bearings?|wdir|drct)\b")


def told_sense(name: str) -> str:
    """What a column's name says of its directions. Args: the name as written.

    Returns: `from`, `toward`, `open` where its words leave it in doubt, or empty where
    none is about it, which is read as from.
    """
    words = _plain_words(name)
    goes, comes = bool(_GOES.search(words)), bool(_COMES.search(words))
    if goes and comes:
        return OPEN
    if goes:
        return TOWARD
    if _DOUBT.search(words) or (_BLOWS.search(words) and not comes):
        return OPEN
    return FROM if comes else UNTOLD


def _plain_words(text: str) -> str:
    """The words that may say where the wind goes, those in brackets apart from others."""
    parts = [" ".join(tokens(part)) for part in re.split(r"[()\[\]{}]", text)]
    return _POINTLESS.sub(" ", " . ".join(parts))


def sense_above(lines: Iterable[str]) -> str:
    """What the lines above a table say of its directions, as `told_sense` does.

    Args: the lines. A line about directions with a `toward` that says nothing clear is
    a doubt; a headline that only mentions the wind is none.
    """
    said = set()
    for line in lines:
        words = _plain_words(line)
        found = _SENTENCE.search(words)
        if found:
            said.add(TOWARD if found["to"] or found["toward"] else FROM)
        elif _ABOUT_DIRECTION.search(words) and re.search(r"\btowards?\b", words):
            said.add(OPEN)
    return said.pop() if len(said) == 1 else OPEN if said else UNTOLD


def joint_sense(name: str, above: str) -> str:
    """The sense that a column's name and the lines above it tell together.

    Args: those of `told_sense` and `sense_above`. Two that differ are a doubt.
    """
    told = {name, above} - {UNTOLD}
    return told.pop() if len(told) == 1 else OPEN if told else FROM
