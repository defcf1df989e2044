"""What the user says where a weather file leaves it open."""

import datetime
import re
import zoneinfo
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from core.errors import BadRequest, NeedsAnswer
from core.units import MPS_PER_KMH, MPS_PER_KNOT, MPS_PER_MPH
from core.weather.hours import Hours

# offsets of the zone words of RFC 5322, section 4.3, in hours
ZONE_WORDS_H = {
    "UTC": 0,
    "GMT": 0,
    "UT": 0,
    "Z": 0,
    "ZULU": 0,
    "EST": -5,
    "EDT": -4,
    "CST": -6,
    "CDT": -5,
    "MST": -7,
    "MDT": -6,
    "PST": -8,
    "PDT": -7,
}
SPEED_UNITS_MPS = {"mph": MPS_PER_MPH, "kt": MPS_PER_KNOT, "m/s": 1.0, "km/h": MPS_PER_KMH}
UNIT_WORDS = {
    **dict.fromkeys(
        (
            "mph",
            "mp/h",
            "mi/h",
            "mih",
            "mih1",
            "miles/h",
            "miles/hour",
            "milesperhour",
            "mileshour",
        ),
        "mph",
    ),
    **dict.fromkeys(("kt", "kts", "kn", "knt", "knot", "knots", "nmi/h", "nm/h", "knoten"), "kt"),
    **dict.fromkeys(
        (
            "m/s",
            "ms",
            "mps",
            "ms1",
            "m/sec",
            "m/second",
            "meter/second",
            "meters/second",
            "metre/second",
            "metres/second",
            "meterspersecond",
            "meterpersecond",
            "metrespersecond",
            "metrepersecond",
        ),
        "m/s",
    ),
    **dict.fromkeys(
        (
            "km/h",
            "kmh",
            "kmph",
            "kph",
            "kmh1",
            "km/hr",
            "kmhr",
            "km/hour",
            "kmperhour",
            "kilometersperhour",
            "kilometresperhour",
            "kilometers/hour",
            "kilometres/hour",
        ),
        "km/h",
    ),
}
# what a column can be said to be; the cloud is in percent
COLUMN_WORDS = ("time", "clock", "from", "speed", "gust", "cloud")
# answers that are one of a few words, by the field of Answers
WORDS = {
    "direction_sense": ("from", "toward"),
    "direction_unit": (
        "deg",
        "tens",
        "rad",
        "turns",
        "sixteenths",
        "sixteenths-1",
        "eighths",
        "eighths-1",
    ),
    "hour_label": ("start", "end"),
    "far_hours": ("drop", "keep"),
    "elsewhere": ("use", "leave"),
}
# fields of Answers that files ask for
ASKED = ("zone", "speed_unit", "dayfirst", "yearfirst", *WORDS, "columns")
TABLE_FORMAT = "table"  # of unknown making: the only one whose columns can be named
_OFFSET = re.compile(r"(?:UTC|GMT)?\s*([+-])\s*(\d{1,2})(?::?(\d{2}))?", re.IGNORECASE)
# what stands for a minus sign in a text that was set for print
MINUS_SIGNS = ("\u2212", "\u2010", "\u2011", "\u2013", "\ufe63", "\uff0d")
FARTHEST_H = 14


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers to what a file leaves open; None is not answered.

    `zone` is a name of the time zone list, UTC or an offset such as -05:00;
    `speed_unit` one of mph, kt, m/s, km/h; `dayfirst` whether 03/04 is 3 April;
    `yearfirst` whether 26/11/10 is in 2026. `likely_zone`, that of the ground, is offered
    first when the zone is asked, and says which clock letters such as CST are.
    `direction_sense`, `direction_unit`, `hour_label` and `far_hours` are words of WORDS: where
    directions point, what they count in, which end of its hour a time names, and whether
    hours decades from all others count; and `elsewhere` whether wind of a place far off counts
    for this ground. `columns` are pairs of what a column is (a word of
    COLUMN_WORDS) and its name, or its number from 1.
    """

    zone: str | None = None
    speed_unit: str | None = None
    dayfirst: bool | None = None
    likely_zone: str | None = None
    columns: tuple[tuple[str, str], ...] = ()
    yearfirst: bool | None = None
    direction_sense: str | None = None
    direction_unit: str | None = None
    hour_label: str | None = None
    far_hours: str | None = None
    elsewhere: str | None = None


def plain_minus(text: str) -> str:
    """The text with each minus sign of print as the one of keyboards. Args: the text."""
    for minus in MINUS_SIGNS:
        text = text.replace(minus, "-")
    return text


def zone_of(text: str, where: str = "--zone") -> datetime.tzinfo:
    """A time zone from a name, a word such as EST, or an offset.

    Args: the text; where it stands, for the message.
    Raises: BadRequest where it is none. Source: [rfc5322].
    """
    word = plain_minus(text.strip())
    if word.upper() in ZONE_WORDS_H:
        return datetime.timezone(datetime.timedelta(hours=ZONE_WORDS_H[word.upper()]))
    found = _OFFSET.fullmatch(word)
    if found and int(found[2]) <= FARTHEST_H and int(found[3] or 0) < 60:
        size = datetime.timedelta(hours=int(found[2]), minutes=int(found[3] or 0))
        return datetime.timezone(-size if found[1] == "-" else size)
    try:
        return zoneinfo.ZoneInfo(word)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        raise BadRequest(
            f"'{text}' is no time zone", where, "Write it like America/New_York, UTC or UTC-05:00."
        ) from None


def unit_word(text: str) -> str | None:
    """The unit of wind that a word names: mph, kt, m/s or km/h; None for another.

    Args: the word in any usual spelling, such as `mp/h`, `KTS` or `m s**-1`.
    """
    word = re.sub(r"[\s._*^()\[\]{}-]", "", text.casefold().replace("⁻", "").replace("¹", "1"))
    return UNIT_WORDS.get(word)


def answered_unit(text: str, where: str = "--speed-unit") -> str:
    """The unit of wind of an answer. Args: the answer. Raises: BadRequest."""
    unit = unit_word(text)
    if unit is None:
        raise BadRequest(f"'{text}' is no unit of wind", where, "Use mph, kt, m/s or km/h.")
    return unit


def answered_word(field: str, text: str, where: str = "") -> str:
    """An answer that is one of a few words. Args: the field of Answers; the answer; where it
    stands, its option by default. Raises: BadRequest."""
    word = text.strip().casefold()
    if word not in WORDS[field]:
        raise BadRequest(
            f"'{text}' is no answer",
            where or f"--{field.replace('_', '-')}",
            f"Use one of {', '.join(WORDS[field])}.",
        )
    return word


def answered_columns(words: Iterable[str], where: str = "--column") -> tuple[tuple[str, str], ...]:
    """The columns of answers such as `time=Stamp`.

    Args: the answers; where they stand, for the message.
    Raises: BadRequest for one of another form, or one thing said twice.
    """
    pairs: list[tuple[str, str]] = []
    for word in words:
        what, _, name = word.partition("=")
        what, name = what.strip().casefold(), name.strip()
        if what not in COLUMN_WORDS or not name:
            raise BadRequest(
                f"'{word}' names no column",
                where,
                f"Write it like time=Stamp, with one of {', '.join(COLUMN_WORDS)}.",
            )
        if what in dict(pairs):
            raise BadRequest(f"two columns are named for {what}", where, "Name one of them.")
        pairs.append((what, name))
    return tuple(pairs)


def read_with(read: Callable[[Answers], Hours], given: Answers) -> tuple[Hours, list[str]]:
    """Reads with those of the answers that are asked for.

    A named column stands over a known one, so columns are given at once and count as
    asked for in every table.

    Args: the reader; all answers. Returns: the hours, and the fields of answers (`ASKED`)
    that nothing asked for. Raises: as the reader; NeedsAnswer where no answer is given, or
    the one given is asked for again.
    """
    idle = {name: getattr(given, name) for name in ASKED if getattr(given, name) not in (None, ())}
    using = Answers(likely_zone=given.likely_zone, columns=given.columns)
    while True:
        try:
            hours = read(using)
        except NeedsAnswer as question:
            if question.asks == "columns" or question.asks not in idle:
                raise
            using = replace(using, **{question.asks: idle.pop(question.asks)})
        else:
            if hours.format == TABLE_FORMAT:
                idle.pop("columns", None)
            return hours, list(idle)
