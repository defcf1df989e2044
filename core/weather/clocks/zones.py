"""The time zone that a name, a line or a cell tells: an offset, a place, or a few letters.

Letters such as CST are the clocks of several places: they count only together with the
place of the ground, at dates on which its clock shows them.
"""

import datetime
import re
from collections.abc import Iterable

import numpy as np

from core.errors import BadRequest
from core.weather.answers import zone_of
from core.weather.hours import Floats, Ints
from core.weather.reading.words import tokens

OPEN = "open"
LOCAL = "local"  # the clock of a place that is not named
DAY_S = 86_400
UNIVERSAL = {"utc", "gmt", "ut", "z", "zulu"}
# what people write behind a time; none of them is the clock of one place alone
LETTERS = frozenset(
    (
        "EST",
        "EDT",
        "CST",
        "CDT",
        "MST",
        "MDT",
        "PST",
        "PDT",
        "AKST",
        "AKDT",
        "HST",
        "HDT",
        "AST",
        "ADT",
        "NST",
        "NDT",
        "BST",
        "IST",
        "CET",
        "CEST",
        "WEST",
        "EET",
        "EEST",
        "MSK",
        "SAST",
        "PKT",
        "HKT",
        "JST",
        "KST",
        "WIB",
        "AWST",
        "ACST",
        "ACDT",
        "AEST",
        "AEDT",
        "NZST",
        "NZDT",
        "CHST",
        "ET",
        "CT",
        "MT",
        "PT",
        "LT",
        "LST",
    )
)
_SIGNED = re.compile(
    r"(?P<by>utc|gmt|(?<![a-z])ut)?\s*(?<!\d)(?P<sign>[+-])\s*(?P<h>\d{1,2})"
    r"(?::?(?P<m>\d{2})|\.(?P<share>25|50?|75))?(?: ?h(?:rs?|ours?)?)?(?![\d:.a-z])"
)
_UNIVERSAL = re.compile(r"(?:utc|gmt)|(?<![a-z])(?:ut|z|zulu)(?![a-z])")
_UNSURE = re.compile(r"\b(?:not|local|offset|difference|converted|minus|plus|lst|lt)\b|\d")
_NAMED = re.compile(r"(?<![A-Za-z])[A-Z][A-Za-z]+/[A-Za-z_+-]+(?:/[A-Za-z_]+)?")
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_ABOVE = re.compile(
    r"^(?:(?:all|the|station|site|local|standard|data|observation|observed|valid|row|record"
    r"|table)\s+)*(?P<what>time[ _]?zone|tz|zone|(?:date[ _]?)?times?(?:[ _]?stamps?)?|hours?"
    r"|clock|(?:utc|gmt)[ _]?offset|offset from utc)(?![\w])"
    r"(?:\s+(?:of|for)\s+(?:the\s+)?(?:station|site|data|table|times?|rows?|observations?))?"
    r"(?:\s+(?:is|are|given|shown|reported|expressed|recorded|in|as|at|local|\(hours?\))(?!\w))*"
    r"\s*(?:->|[:=,;|])*\s*[(\"']*(?P<zone>[A-Za-z]+/[A-Za-z_]+(?:/[A-Za-z_]+)?"
    r"|(?:utc|gmt)?\s*[+-]\s*\d{1,2}(?::?\d{2})?|[A-Za-z]{1,5})"
    r"(?=[)\"']*\s*(?:$|[.;,|)]|and\b|time\b))",
    re.IGNORECASE,
)


_LOCAL = re.compile(
    r"\blocal(?: (?:standard|daylight|clock|solar|mean|civil))? (?:time|clock)\b"
    r"|\b(?:times?|hours?|clocks?|(?:time ?)?stamps?|dates?|data|rows)\b[^.;]*\b(?:local|lst|lt)\b"
    r"|\b(?:standard|daylight|summer|winter|wall) time\b|\bortszeit\b"
    r"|\bnot (?:in |given in )?(?:utc|gmt)\b"
)
# a line on when a file was made tells nothing of its rows
_MADE = re.compile(
    r"\b(?:creat|generat|issu|download|retriev|print|prepar|updat|publish|releas|fetch|request"
    r"|export|made|sent|run|report (?:on|at|time|made))\w*"
)
_ZONE_LINE = re.compile(
    r"^(?:(?:the|station|site|local|data)\s+)*(?:time ?zone|tz|(?:utc|gmt) ?offset)\b[^:=,]{0,20}"
    r"[:=,]\s*\S"
)
_SPELLED = re.compile(
    r"(?<!australian )\b(eastern|central|mountain|pacific|alaska|hawaii)"
    r"(?: (standard|daylight|prevailing))? time\b",
    re.IGNORECASE,
)
_SPELLED_LETTERS = {"alaska": "AK", "prevailing": ""}


def told_zone(name: str) -> str:
    """The zone that a time column's name tells. Args: its name as written.

    Returns: what `zone_of` or `is_letters` takes; empty for none; `open` where its words
    leave it in doubt, as `UTC offset 5` does.
    """
    name = _with_letters(name)
    brackets = [b.strip() for b in _BRACKETS.findall(name)]
    places = [p for p in (*_NAMED.findall(name), *brackets) if _is_place(p)]
    text = re.sub(r"\bminus\b", "-", re.sub(r"\bplus\b", "+", name.replace("_", " ").casefold()))
    offsets = [o for found in _SIGNED.finditer(text) if (o := _offset_word(found, brackets))]
    letters = [w.upper() for w in tokens(name) if w.upper() in LETTERS]
    if places or offsets:
        told = {*places, *offsets}
        return told.pop() if len(told) == 1 else OPEN
    universal = _UNIVERSAL.search(text)
    if universal:
        around = text[: universal.start()] + " " + text[universal.end() :]
        return OPEN if letters or _UNSURE.search(around) else "UTC"
    return letters[0] if len(set(letters)) == 1 else OPEN if letters else ""


def _with_letters(text: str) -> str:
    """`Central Standard Time` as CST, `Eastern Time` as ET."""

    def letters(found: re.Match) -> str:
        parts = (word.casefold() for word in found.groups() if word)
        return "".join(_SPELLED_LETTERS.get(p, p[0].upper()) for p in parts) + "T"

    return _SPELLED.sub(letters, text)


def speaks_of_local(text: str) -> bool:
    """Whether a line, or a name, says that its times are those of some place's clock, or not
    UTC, without naming it. Args: the text."""
    plain = text.replace("_", " ").casefold()
    return bool(_LOCAL.search(plain)) and not _MADE.search(plain)


def _is_place(text: str) -> bool:
    if len(text) < 3 or text.upper() in LETTERS or text.casefold() in UNIVERSAL:
        return False
    if not re.fullmatch(r"[A-Za-z][\w/+-]+", text) or not text[0].isupper():
        return False
    try:
        return not isinstance(zone_of(text), datetime.timezone)
    except BadRequest:
        return False


def _offset_word(found: re.Match, brackets: list[str]) -> str:
    """Such as UTC-05:00; empty for digits that may be something else."""
    plain = re.sub(r"\s", "", found[0])
    alone = any(re.sub(r"\s", "", b.casefold()) == plain for b in brackets)
    if not (found["by"] or alone or ":" in plain):
        return ""
    share = {"25": 15, "5": 30, "50": 30, "75": 45}.get(found["share"] or "", 0)
    minutes = int(found["m"] or share)
    return f"UTC{found['sign']}{int(found['h']):02d}:{minutes:02d}"


def zone_above(lines: Iterable[str]) -> str:
    """The zone that the lines above a table say its times are in.

    Args: the lines. Only a line that is about the times of the rows counts, not the time
    of a download or of a report. Returns: as `told_zone`, or `local` where lines speak of a
    place's clock without naming the place; empty where none speaks of it, open where they
    differ or name no zone that is known.
    """
    said = set()
    for line in lines:
        plain = _with_letters(re.sub(r"^[#/%!;*\"'\s]+", "", line).strip())
        found = _ABOVE.match(plain)
        if found:
            by = "UTC" if "offset" in found["what"].casefold() and found["zone"][0] in "+-" else ""
            told = told_zone(f"({by}{found['zone']})")
        elif is_letters(word := plain.strip("().,;: ")):
            told = word.upper()
        else:
            told = OPEN if _ZONE_LINE.match(plain.replace("_", " ").casefold()) else ""
        told = told or (LOCAL if speaks_of_local(plain) else "")
        said |= {told} if told else set()
    return one_zone(said)


def one_zone(said: set[str]) -> str:
    """The one zone of several that are told; empty for none, open where they differ. A clock
    that is only called local may be that of any zone but UTC. Args: words of `told_zone`."""
    if LOCAL in said and len(said) > 1:
        said = (said - {LOCAL}) if "UTC" not in said else {OPEN}
    return said.pop() if len(said) == 1 else OPEN if said else ""


def zone_cell(text: str) -> str:
    """The zone of a row that has it in a column of its own. Args: the cell.

    Returns: as `told_zone`; `open` for a number that may be hours, minutes or seconds.
    """
    word = text.strip()
    if re.fullmatch(r"[+-]?0+(?:\.0+)?(?::00)?", word):
        return "UTC"
    if re.fullmatch(r"[+-]\d{1,2}(?:\.(?:0+|25|50?|75))?", word):
        return told_zone(f"(UTC{re.sub(r'[.]0+$', '', word)})")
    if re.fullmatch(r"[+-]\d{1,2}:?\d{2}", word) and len(word.replace(":", "")) == 5:
        return told_zone(f"(UTC{word})")
    if not word or re.fullmatch(r"[+-]?\d+", word):
        return OPEN
    return told_zone(f"({word})") or OPEN


def is_letters(word: str) -> bool:
    """Whether a zone is told by letters alone. Args: a word of `told_zone`."""
    return word.upper() in LETTERS


def offsets_of_letters_s(clock_s: Ints, word: str, place: datetime.tzinfo) -> Floats:
    """Offsets from UTC of clock times that a place's clock shows under some letters.

    Args: clock times as if they were UTC, shape (row,); the letters; the place's zone.
    Missing: NaN where the clock of the place does not show them at that time. [s]
    """
    days, at = np.unique(clock_s // DAY_S, return_inverse=True)
    edges = [
        (_shown(int(d) * DAY_S, place), _shown(int(d + 1) * DAY_S - 1, place, 1)) for d in days
    ]
    offsets = np.array([_named_s(first, word) for first, _ in edges])[at]
    moved = np.array([first != last for first, last in edges], bool)[at]
    for row in np.flatnonzero(moved):
        either = [_shown(int(clock_s[row]), place, fold) for fold in (0, 1)]
        named = [s for s in (_named_s(one, word) for one in either) if not np.isnan(s)]
        offsets[row] = named[0] if named else np.nan
    return offsets


def _shown(clock_s: int, place: datetime.tzinfo, fold: int = 0) -> tuple[str, float]:
    at = datetime.datetime.fromtimestamp(clock_s, datetime.UTC).replace(tzinfo=place, fold=fold)
    offset = at.utcoffset()
    return (at.tzname() or "").upper(), offset.total_seconds() if offset is not None else 0.0


def _named_s(shown: tuple[str, float], word: str) -> float:
    return shown[1] if shown[0] == word.upper() else float("nan")
