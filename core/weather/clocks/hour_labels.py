"""Whether the time of a row is the start, the middle or the end of its hour."""

import re
from collections.abc import Iterable

import numpy as np

from core.errors import BadWeather, Choice, NeedsAnswer
from core.weather.hours import ROW_S, Floats
from core.weather.reading.words import tokens

START, MIDDLE, END = "start", "middle", "end"
_END = re.compile(
    r"\b(?:end|ends|ending|ended|endtime|until|through|thru|till|he|finish\w*|stop|expires?"
    r"|expiry|bis)\b"
    r"|\b(?:preceding|previous|past|last|prior) (?:hour|\d+ ?min\w*)\b|\bhour before\b|\bup to\b"
    r"|\b(?:valid|time|hour|period|date) to\b|^to(?: (?:time|date|utc|gmt|local))*$"
)
_START = re.compile(
    r"\b(?:start|starts|starting|starttime|begin|begins|beginning|hb|von)\b"
    r"|\b(?:following|next) hour\b|\b(?:valid|time|hour|period|date) from\b"
    r"|^from(?: (?:time|date|utc|gmt|local))*$"
)
_MIDDLE = re.compile(r"\b(?:middle|midpoint|mid|cent(?:er|re)d?)\b")
_ABOVE_END = re.compile(
    r"\b(?:hours?|intervals?|periods?) (?:ending|ended)\b"
    r"|\b(?:end|ending) of (?:the |each |every |its |an? |that )?(?:hour|interval|period|averag)"
    r"|\b(?:preceding|previous|past) (?:hour|interval|60 min)|\bhour before\b"
    r"|\b(?:label\w*|hour|interval|period) (?:is |at )?(?:the )?end\b"
)
_ABOVE_START = re.compile(
    r"\b(?:label\w*|hour|interval|period) (?:is |at )?(?:the )?(?:start|beginning)\b|"
    r"\b(?:hours?|intervals?|periods?) (?:beginning|starting)\b|\bfollowing (?:hour|interval)\b"
    r"|\b(?:beginning|start) of (?:the |each |every |its |an? |that )?(?:hour|interval|period)"
)


def told_label(name: str, where: str) -> str:
    """Which part of its hour a time column names. Args: its name as written; the file.

    Returns: start, middle, end, or empty. Raises: BadWeather for a span of both.
    """
    words = " ".join(tokens(name))
    said = [
        part
        for part, words_of in ((START, _START), (MIDDLE, _MIDDLE), (END, _END))
        if words_of.search(words)
    ]
    if len(said) > 1:
        raise BadWeather(
            f"the column '{name}' says both the {said[0]} and the {said[1]} of the hour",
            where,
            "Give the start of each hour alone.",
        )
    return said[0] if said else ""


def label_above(lines: Iterable[str]) -> str:
    """Which part of the hour the lines above a table say that its times are; empty for
    none, or for lines that differ. Args: the lines."""
    said = set()
    for line in lines:
        words = " ".join(tokens(line))
        said |= {END} if _ABOVE_END.search(words) else set()
        said |= {START} if _ABOVE_START.search(words) else set()
    return said.pop() if len(said) == 1 else ""


def ask_label(cell: str, at_24: bool, where: str) -> NeedsAnswer:
    """The question which part of the hour the times name.

    Args: a time as written; whether it is at 24:00, in hours of 1 to 24; the file.
    """
    said = ("from 23:00 to midnight", "from midnight on") if at_24 else ("before it", "after it")
    why = "its hours run from 1 to 24" if at_24 else "its times are said to be start and end"
    choices = (
        Choice(END, f"the end of the hour: '{cell}' is the hour {said[0]}"),
        Choice(START, f"the start of the hour: '{cell}' is the hour {said[1]}"),
    )
    return NeedsAnswer(why, where, "hour_label", choices)


def moved_back(at_s: Floats, label: str) -> tuple[Floats, tuple[str, ...]]:
    """Instants of the starts of the hours, and a remark where they were moved.

    Args: instants as labelled, shape (row,), NaN unknown; start, middle, end or empty.
    Rows that lie closer than an hour are moved by their own length.
    """
    if label not in (MIDDLE, END):
        return at_s, ()
    steps = np.diff(np.unique(at_s[~np.isnan(at_s)]))
    usual = float(np.median(steps)) if len(steps) else float(ROW_S)
    back = min(usual, float(ROW_S)) / (2 if label == MIDDLE else 1)
    return at_s - back, (f"times name the {label} of the hour: moved back by {back / 60:g} min",)
