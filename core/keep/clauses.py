"""Pieces of a line of notes: a felt wind, deer, work done, sign found. One piece at a time."""

import re
from typing import Any

from core.keep.entries import AS_TOLD, ROUND
from core.units import MPS_PER_MPH
from core.weather.entry import beaufort_force, parse_wind
from core.weather.hours import DIRECTED

NUMBERS = {
    **{"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6},
    **{"seven": 7, "eight": 8, "nine": 9, "ten": 10, "dozen": 12},
}
DEER_WORDS = {
    **dict.fromkeys(("doe", "does"), "doe"),
    **dict.fromkeys(("buck", "bucks", "spike", "spikes", "forkhorn"), "buck"),
    **dict.fromkeys(("fawn", "fawns", "yearling", "yearlings", "button"), "fawn"),
    "deer": "unknown",
}
WORK_WORDS = {
    **dict.fromkeys(("cut", "cleared", "sawed"), "cut"),
    **dict.fromkeys(("trimmed", "trim"), "trim"),
    **dict.fromkeys(("sprayed", "resprayed", "spray"), "spray"),
    **dict.fromkeys(("checked", "inspected"), "check"),
    **dict.fromkeys(("limed", "seeded", "mowed", "hinged", "hung", "fertilized"), ""),
}
SIGN_WORDS = {
    **dict.fromkeys(("rub", "rubs", "rubbed"), "rub"),
    **dict.fromkeys(("scrape", "scrapes"), "scrape"),
    **dict.fromkeys(("droppings", "pellets"), "droppings"),
    **dict.fromkeys(("track", "tracks", "prints"), "track"),
}
_DEER = re.compile(
    rf"\b(?:(?P<n>\d{{1,3}}|{'|'.join(NUMBERS)})\s+)?(?:\w+\s+)?(?P<deer>{'|'.join(DEER_WORDS)})\b"
)
_YARDS = re.compile(r"\b(\d{1,4})\s*(?:yds?|yards?|y)\b")
_WINDED = re.compile(r"\b(winded|blew|snorted|smelled (?:me|us)|caught my wind)\b")
_SHOT = re.compile(r"\b(shot|arrowed|hit)\b")
_RECOVERED = re.compile(
    r"\b(recovered|found it|found (?:him|her))\b(?:\D*(\d{1,4})\s*(?:yds?|yards?))?"
)
_FROM_TO = re.compile(r"\bfrom (?:the )?([a-z]+)(?: to (?:the )?([a-z]+))?\b")
_AIR_HEAD = re.compile(r"^\s*(?:felt|wind|air)\b[:,]?\s*(?:was|is|felt)?\s*(.*)$", re.IGNORECASE)
_ROUND = re.compile(r"\b(round and round|swirl\w*|all over|every way|all directions)\b")
_ROUND_ALONE = re.compile(r"\s*(?:felt |all )?(?:round|round and round|swirl\w*)\s*")
_TOLD_ALONE = re.compile(r"\s*(?:felt )?as (?:told|forecast|said|called)\s*")
_WINDED_ALONE = re.compile(r"\s*(?:(?:deer|got|was|they) )?winded(?: me| us)?\s*")
_TOLD = re.compile(r"\b(as told|as forecast|as said|as called|like the forecast)\b")
_MINUTES = re.compile(r"\b(\d{1,4})\s*(?:min|minutes)\b")


def air_of(piece: str) -> tuple[dict[str, Any], str] | None:
    """A felt wind: values of an air entry and their meaning; None for another piece.

    Args: such as `felt W 4`. Raises: BadWind where it is a wind that is not understood.
    """
    found = _AIR_HEAD.match(piece)
    low = piece.casefold()
    if _TOLD_ALONE.fullmatch(low):
        return {"felt": AS_TOLD}, "air as told"
    if _ROUND_ALONE.fullmatch(low) or (
        _ROUND.search(low) and (found or "wind" in low or "air" in low)
    ):
        return {"felt": ROUND}, "air went round and round"
    if not found:
        return None
    if _TOLD.search(low):
        return {"felt": AS_TOLD}, "air as told"
    text = re.sub(r"(?<![\d:])\d{1,2}:\d{2}\s*(?:[ap]m)?", " ", found[1]).strip(" ,")
    wind = parse_wind(text)
    speed_mph = float(wind.speed_mps[0]) / MPS_PER_MPH
    values: dict[str, Any] = {"beaufort": beaufort_force(speed_mph)}
    means = f"felt {text}"
    if wind.state[0] == DIRECTED:
        values |= {"from_deg": float(wind.wind_from_deg[0])}
        means = f"felt from {wind.wind_from_deg[0]:.0f}°, Beaufort {values['beaufort']}"
    return values, means


def deer_of(piece: str) -> list[tuple[dict[str, Any], str]]:
    """Deer in a piece, a kind at a time: values of a sighting and their meaning.

    Args: such as `2 does 1 fawn 60 yd winded`, in small letters. Returns: none without deer.
    """
    found = list(_DEER.finditer(piece))
    if not found:  # the same words as the taps after a sit
        return (
            [({"deer": "unknown", "winded": True}, "winded")]
            if _WINDED_ALONE.fullmatch(piece)
            else []
        )
    shared: dict[str, Any] = {}
    said = []
    yards = _YARDS.search(_RECOVERED.sub(" ", piece))
    if yards:
        shared["yards"] = float(yards[1])
        said.append(f"{yards[1]} yd")
    for name, pattern in (("winded", _WINDED), ("shot", _SHOT)):
        if pattern.search(piece):
            shared[name] = True
            said.append(name)
    recovered = _RECOVERED.search(piece)
    if recovered:
        shared["recovered"] = True
        said.append("recovered")
        if recovered[2]:
            shared["recovered_yards"] = float(recovered[2])
    way = _FROM_TO.search(piece)
    if way:
        shared["came_from"] = way[1]
        if way[2]:
            shared["went_to"] = way[2]
    deer = []
    for match in found:
        count = _count(match["n"])
        kind = DEER_WORDS[match["deer"]]
        word = "deer" if kind == "unknown" else kind + ("s" if count != 1 else "")
        told = f"{count} {word}" + (f" ({', '.join(said)})" if said else "")
        deer.append(({"count": count, "deer": kind, **shared}, told))
    return deer


def work_of(piece: str) -> tuple[dict[str, Any], str] | None:
    """Work done: values of an entry and their meaning; None for another piece."""
    for word in re.findall(r"[a-z]+", piece.casefold())[:3]:
        if word in WORK_WORDS:
            what = WORK_WORDS[word] or word
            minutes = _MINUTES.search(piece.casefold())
            values: dict[str, Any] = {"what": what}
            if minutes:
                values["minutes"] = float(minutes[1])
            return values, f"work: {what}"
    return None


def sign_of(piece: str) -> tuple[dict[str, Any], str] | None:
    """Sign found: values of an entry and their meaning; None for another piece."""
    words = re.findall(r"[a-z]+", piece.casefold())
    kind = next((SIGN_WORDS[w] for w in words if w in SIGN_WORDS), None)
    if kind is None:
        return None
    values: dict[str, Any] = {"what": kind}
    if {"fresh", "new"} & set(words):
        values["fresh"] = True
    elif {"old", "dry"} & set(words):
        values["fresh"] = False
    age = {True: "fresh ", False: "old "}[values["fresh"]] if "fresh" in values else ""
    return values, f"sign: {age}{kind}"


def _count(word: str | None) -> int:
    if word is None:
        return 1
    return int(word) if word.isdigit() else NUMBERS[word]
