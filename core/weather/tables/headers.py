"""What each column of a weather table is, told by the words of its header."""

import re
from dataclasses import dataclass

from core.units import M_PER_FT
from core.weather.answers import unit_word
from core.weather.clocks.zones import LETTERS, told_zone
from core.weather.reading.words import tokens
from core.weather.tables.angle_units import OPEN, told_unit
from core.weather.tables.header_words import (
    ACROSS,
    CLOCK_WORDS,
    DATE_WORDS,
    DIRECTION,
    GUST,
    NO_UNIT,
    NOT_OF_AN_HOUR,
    NOT_OF_WIND,
    NOT_WANTED,
    OTHER_STEMS,
    OTHER_TIMES,
    PARTS,
    PLAIN,
    RAIN,
    RAIN_UNITS,
    SPEED,
    STAMP_WORDS,
    TEMPERATURE,
    TEMPERATURE_UNITS,
    WHOLE_NAMES,
    WIND,
)
from core.weather.tables.senses import TOWARD, told_sense

_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
# 10 m, and not the metres of 10 m/s
_HEIGHT = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?)\s*(m|ft)(?![a-z])(?!\s*/|\s*per\b|\s*s\b)")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: where it stands, its name, its role, and what its name adds."""

    index: int
    name: str
    role: str = ""
    unit: str | None = None  # of a speed, a temperature or rain
    height_m: float | None = None


def read_header(cells: list[str]) -> list[Column]:
    """The columns of a header line. Args: its cells. Unknown ones have no role."""
    return [read_column(i, cell) for i, cell in enumerate(cells)]


def read_column(index: int, name: str, role: str | None = None) -> Column:
    """What one column is. Args: its place; its name as written; its role where it is known
    from elsewhere."""
    brackets = [b.strip() for b in _BRACKETS.findall(name)]
    words = tokens(_BRACKETS.sub(" ", name))
    role = _role(name, words, brackets) if role is None else role
    unit = height = None
    if role in ("speed", "gust", "u", "v", "wind"):
        unit = _speed_unit(words, brackets)
        role = "speed" if role == "wind" and unit else role
    if role in ("speed", "gust", "u", "v", "wind", "direction"):
        height = _height_m(name)
    if role == "temperature":
        unit = _temperature_unit(words, brackets)
    if role == "rain":
        unit = _rain_unit(words, brackets)
    return Column(index, name.strip(), role, unit, height)


def _role(name: str, words: list[str], brackets: list[str]) -> str:
    said, whole = set(words), "".join(words)
    if not words or (said & NOT_WANTED and "valid" not in said):
        return ""
    if whole in WHOLE_NAMES:
        return WHOLE_NAMES[whole]
    component = re.sub(r"\d+m?|mps|ms|component|wind|of|the|10", "", whole)
    if component in ACROSS and said - {"wind"}:
        return ACROSS[component]
    if said & WIND and said & set(ACROSS):
        return ACROSS[next(w for w in words if w in ACROSS)]
    if said & NOT_OF_WIND and said & (WIND | SPEED | DIRECTION):
        return ""
    role = _wind_role(name, words)
    if role is None:  # the rain of an hour is no time
        time = "" if said & RAIN else _time_role(name, words)
        return time or _sky_role(words, brackets)
    return role


def _wind_role(name: str, words: list[str]) -> str | None:
    """The role of a column of wind; None for another."""
    said = set(words)
    gust = any(w.startswith(GUST) for w in words) or ("peak" in said and "wind" in said)
    pointing = bool(said & DIRECTION or _stemmed(words, "wd"))
    toward = bool(said & {"wind", "air", "blowing", "blows"}) and told_sense(name) == TOWARD
    if gust:
        return "" if pointing or toward or "time" in said else "gust"
    if pointing or toward or ({"wind", "from"} <= said):
        return "direction"
    if said & WIND and not said & SPEED and told_unit(name) not in ("", OPEN):
        return "direction"
    extreme = bool({"max", "maximum", "min", "highest"} & said)
    if said & SPEED or _stemmed(words, "ws"):
        return "" if extreme else "speed"
    if said & WIND:
        return "" if extreme else "wind"
    return None


def _stemmed(words: list[str], stem: str) -> bool:
    """Whether a word is a stem with a height, such as WS10M."""
    return any(re.fullmatch(stem + r"\d+m?", w) for w in words)


def _time_role(name: str, words: list[str]) -> str:
    said, whole = set(words), "".join(words)
    if "valid" not in said and (said & OTHER_TIMES or any(w.startswith(OTHER_STEMS) for w in said)):
        return ""  # when a model ran or a file was made
    if len(words) == 1 and whole in PARTS:
        return PARTS[whole]
    if said & STAMP_WORDS or whole in STAMP_WORDS or (said & DATE_WORDS and said & CLOCK_WORDS):
        return "stamp"
    if said & DATE_WORDS:
        return "date"
    parts = [PARTS[w] for w in words if w in PARTS]
    if len(parts) == 1 and told_zone(name) and parts[0] != "minute":
        return parts[0]
    return "clock" if said & CLOCK_WORDS else ""


def _sky_role(words: list[str], brackets: list[str]) -> str:
    """What is shown only: temperature, cloud, rain and its chance, where units are told."""
    said = set(words)
    percent = any(b in ("%", "percent") for b in brackets) or bool(said & {"pct", "percent"})
    if said & TEMPERATURE and not said & {"dew", "dewpoint", "wet", "soil", "max", "min", "water"}:
        return "temperature"
    if said & {"cloud", "clouds", "cloudcover", "sky", "skycover"} and percent:
        return "" if said & {"low", "mid", "high", "base"} else "cloud"
    rain = said & RAIN
    if rain and ("pop" in said or said & {"chance", "probability", "prob"}):
        return "chance" if percent else ""
    return "rain" if rain and not said & NOT_OF_AN_HOUR and _rain_unit(words, brackets) else ""


def _rain_unit(words: list[str], brackets: list[str]) -> str | None:
    """The depth in which a column of rain counts; None for none, and for a rate of days."""
    inside = [re.sub(r"[\s.]", "", b.casefold()) for b in brackets]
    inside = [re.sub(r"(?:/|per)(?:h|hr|hour)$", "", b) for b in inside]
    while words[-1] in ("h", "hr", "hour", "per", "hourly", "1h"):
        words = words[:-1]
    sure = [*inside, words[-1]]  # a bare in elsewhere is none: rain in the last hour
    found = [w for w in (*sure, *words) if w in RAIN_UNITS and (w != "in" or w in sure)]
    return RAIN_UNITS[found[0]] if found else None


def _speed_unit(words: list[str], brackets: list[str]) -> str | None:
    for bracket in brackets:
        if unit_word(bracket):
            return unit_word(bracket)
    if any("sknt" in w for w in words):
        return "kt"
    for n in (3, 2, 1):
        tail = words[-n:]
        if len(tail) == n and len(words) >= n and unit_word("".join(tail)):
            return unit_word("".join(tail))
    inner = [u for w in words if len(w) > 1 and (u := unit_word(w))]
    return inner[0] if len(set(inner)) == 1 else None


def strange_unit(column: Column) -> str:
    """Words in a speed column's brackets that name no known unit; empty for none."""
    inside = tokens(" ".join(_BRACKETS.findall(column.name)))
    odd = [w for w in inside if not w.isdigit() and w not in NO_UNIT and not _HEIGHT.search(w)]
    odd += [w for w in tokens(column.name) if w in ("bft", "beaufort", "fps")]
    return "" if column.unit or not odd else odd[0]


def _temperature_unit(words: list[str], brackets: list[str]) -> str | None:
    if "tmpf" in words or "tmpc" in words:
        return "F" if "tmpf" in words else "C"
    for word in [re.sub(r"[°º\s.]", "", b).casefold() for b in brackets] + words[-1:]:
        if word in TEMPERATURE_UNITS:
            return TEMPERATURE_UNITS[word]
    return None


def _height_m(name: str) -> float | None:
    """Height above ground that a name tells; None for none. [m]"""
    found = _HEIGHT.search(name.replace("_", " ").casefold())
    return float(found[1]) * (M_PER_FT if found[2] == "ft" else 1.0) if found else None


def odd_words(name: str) -> list[str]:
    """Words of a name of a wind or a time that the program does not know. Args: the name.

    They may change what the column holds, so that what it was taken for has to be told.
    """
    place = told_zone(name)
    words = tokens(name.replace(place, " ") if "/" in place else name)
    known = PLAIN | WIND | SPEED | DIRECTION | DATE_WORDS | CLOCK_WORDS | STAMP_WORDS | set(PARTS)
    known |= set(WHOLE_NAMES)
    return [
        w
        for w in words
        if not (w in known or w.startswith(GUST) or unit_word(w) or w.upper() in LETTERS)
        and not re.fullmatch(r"(?:[wuv][sd]?)?\d+(?:m|ft|min|h|hr)?", w)
    ]
