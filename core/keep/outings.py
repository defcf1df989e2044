"""Pieces of a line of notes that are no part of a sit: a visit to the ground, a deer tagged."""

import re
from typing import Any

_VISIT = re.compile(r"^\s*(?:visit(?:ed)?\b|(?:checked |pulled |swapped )?(?:the )?camera?s?\b)")
_VISITS = {
    "trimming": re.compile(r"\btrim\w*\b"),
    "camera": re.compile(r"\bcam(?:era)?s?\b|\bcards?\b"),
    "plot": re.compile(r"\bplots?\b"),
}
_HARVEST = re.compile(r"^\s*(?:harvest(?:ed)?|tagged|killed)\b")
_SEXES = {"doe": r"does?", "buck": r"bucks?|spikes?|forkhorn", "fawn": r"fawns?|button"}
_POUNDS = re.compile(r"\b(\d{1,3}(?:\.\d)?)\s*(?:lbs?|pounds?)\b")
_AGE = re.compile(r"\b(?:age[d]?\s+(\d{1,2}(?:\.\d)?)|(\d{1,2}(?:\.\d)?)\s*(?:years?|yrs?))\b")
_TAG = re.compile(r"\btag(?: number| no\.?)?[: ]\s*(?=\S*\d)([\w-]{1,40})", re.IGNORECASE)
_REPORTED = re.compile(r"\b(not (?:yet )?)?reported\b")
REPORT_BY = re.compile(r"\breport(?:ed)? by\s+([^,;]+)", re.IGNORECASE)


def visit_of(piece: str) -> tuple[dict[str, Any], str] | None:
    """A visit: values of an entry and their meaning; None for another piece.

    Args: such as `visit camera oats 1:10 to 1:30 by mill lane`.
    """
    low = piece.casefold()
    if not _VISIT.match(low):
        return None
    what = next((name for name, words in _VISITS.items() if words.search(low)), "other")
    return {"what": what}, f"visit: {what}"


def harvest_of(piece: str) -> tuple[dict[str, Any], str] | None:
    """A deer that was tagged: values of an entry and their meaning; None for another piece.

    Args: such as `harvest doe 98 lb age 2.5 tag A-17 reported`. The day of `report by` is
    left to the caller.
    """
    low = piece.casefold()
    if not _HARVEST.match(low):
        return None
    values: dict[str, Any] = {}
    said = []
    for sex, words in _SEXES.items():
        if re.search(rf"\b(?:{words})\b", low):
            values["sex"] = sex
            said.append(sex)
            break
    pounds, age, tag = _POUNDS.search(low), _AGE.search(low), _TAG.search(piece)
    if pounds:
        values["pounds"] = float(pounds[1])
        said.append(f"{pounds[1]} lb")
    if age:
        values["age_years"] = float(age[1] or age[2])
        said.append(f"{age[1] or age[2]} years")
    if tag:
        values["tag"] = tag[1]
        said.append(f"tag {tag[1]}")
    reported = _REPORTED.search(REPORT_BY.sub(" ", low))
    if reported:
        values["reported"] = not reported[1]
        said.append("not reported" if reported[1] else "reported")
    return values, f"harvest: {', '.join(said) or 'a deer'}"
