"""What each column of a weather table is, told by the words of its header."""

import re
import unicodedata
from dataclasses import dataclass

from core.errors import BadRequest
from core.units import M_PER_FT
from core.weather.answers import ZONE_WORDS_H, unit_word, zone_of
from core.weather.tables.header_words import (
    CLOCK_WORDS,
    DATE_WORDS,
    DIRECTION,
    GUST,
    NO_UNIT,
    NOT_WANTED,
    PARTS,
    SPEED,
    STAMP_WORDS,
    TEMPERATURE,
    TEMPERATURE_UNITS,
    TOWARDS,
    WHOLE_NAMES,
)

_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_HEIGHT = re.compile(r"(?:^|[a-z])(\d+(?:\.\d+)?)(m|ft)$")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: where it stands, its name, its role, and what its name adds."""

    index: int
    name: str
    role: str = ""
    unit: str | None = None
    zone: str | None = None
    towards: bool = False
    height_m: float | None = None
    ends_hour: bool = False


def read_header(cells: list[str]) -> list[Column]:
    """The columns of a header line. Args: its cells. Unknown ones have no role."""
    return [read_column(i, cell) for i, cell in enumerate(cells)]


def read_column(index: int, name: str, role: str | None = None) -> Column:
    """What one column is. Args: its place; its name as written; its role where it is known
    from elsewhere."""
    brackets = [b.strip() for b in _BRACKETS.findall(name)]
    words = tokens(_BRACKETS.sub(" ", name))
    inside = tokens(" ".join(brackets))
    role = _role(words, brackets) if role is None else role
    unit = zone = height = None
    if role in ("speed", "gust", "u", "v", "wind"):
        unit = _speed_unit(words, brackets)
        role = "speed" if role == "wind" and unit else role
    if role in ("speed", "gust", "u", "v", "wind", "direction"):
        height = _height_m([*words, *inside])
    if role == "direction":
        unit = _angle_unit({*words, *inside, *brackets})
    if role == "temperature":
        unit = _temperature_unit(words, brackets)
    if role in ("stamp", "date", "clock", "hour"):
        zone = _zone(words, brackets)
    return Column(
        index,
        name.strip(),
        role,
        unit,
        zone,
        bool(TOWARDS & {*words, *inside}),
        height,
        bool({"ending", "end", "endtime"} & set(words)),
    )


def tokens(text: str) -> list[str]:
    """Words of a name, small and without accents. Args: such as windSpeed_mph."""
    plain = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("\ufeff", ""))
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    plain = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", plain)
    return [w for w in re.split(r"[^a-z0-9]+", plain.casefold()) if w]


def _role(words: list[str], brackets: list[str]) -> str:
    said, whole = set(words), "".join(words)
    if not words or (said & NOT_WANTED and "valid" not in said):
        return ""
    if whole in WHOLE_NAMES:
        return WHOLE_NAMES[whole]
    component = re.sub(r"\d+m?|mps|ms|component|wind|of|the|10", "", whole)
    if component in ("u", "v", "eastward", "northward") and said - {"wind"}:
        return "u" if component[0] in "ue" else "v"
    gust = any(w.startswith(GUST) for w in words) or ("peak" in said and "wind" in said)
    pointing = bool(said & DIRECTION or _stemmed(words, "wd"))
    toward = bool(said & TOWARDS) and bool(said & {"wind", "air", "blowing", "blows"})
    if gust:
        return "" if pointing or toward or "time" in said else "gust"
    if pointing or toward or ({"wind", "from"} <= said):
        return "direction"
    if said & SPEED or _stemmed(words, "ws"):
        return "" if {"max", "maximum", "min", "highest"} & said else "speed"
    if said & {"wind", "winds", "wnd"}:
        return "" if {"max", "maximum", "min", "highest"} & said else "wind"
    return _time_role(words) or _sky_role(words, brackets)


def _stemmed(words: list[str], stem: str) -> bool:
    """Whether a word is a stem with a height, such as WS10M."""
    return any(re.fullmatch(stem + r"\d+m?", w) for w in words)


def _time_role(words: list[str]) -> str:
    said, whole = set(words), "".join(words)
    plain = [w for w in words if w.upper() not in ZONE_WORDS_H and w not in ("local", "lst", "lt")]
    if len(plain) == 1 and plain[0] in PARTS and len(words) == 1:
        return PARTS[plain[0]]
    if said & STAMP_WORDS or whole in STAMP_WORDS or (said & DATE_WORDS and said & CLOCK_WORDS):
        return "stamp"
    if said & DATE_WORDS:
        return "date"
    return "clock" if said & CLOCK_WORDS else ""


def _sky_role(words: list[str], brackets: list[str]) -> str:
    """What is shown only: temperature, cloud, rain and its chance, where units are told."""
    said = set(words)
    percent = any(b in ("%", "percent") for b in brackets) or bool(said & {"pct", "percent"})
    if said & TEMPERATURE and not said & {"dew", "dewpoint", "wet", "soil", "max", "min", "water"}:
        return "temperature"
    if said & {"cloud", "clouds", "cloudcover", "sky", "skycover"} and percent:
        return "" if said & {"low", "mid", "high", "base"} else "cloud"
    rain = said & {"rain", "precip", "precipitation", "pop"}
    if rain and ("pop" in said or said & {"chance", "probability", "prob"}):
        return "chance" if percent else ""
    return "rain" if rain and "mm" in [*words, *brackets] else ""


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


def _angle_unit(said: set[str]) -> str | None:
    if said & {"rad", "radian", "radians"}:
        return "rad"
    return "deg" if said & {"deg", "degree", "degrees", "°", "º", "grad", "degt"} else None


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


def _height_m(words: list[str]) -> float | None:
    """Height above ground that a name tells; None for none. [m]"""
    for i, word in enumerate(words):
        pair = word + words[i + 1] if i + 1 < len(words) and word.isdigit() else word
        found = _HEIGHT.search(pair)
        if found:
            return float(found[1]) * (M_PER_FT if found[2] == "ft" else 1.0)
    return None


def _zone(words: list[str], brackets: list[str]) -> str | None:
    """The zone that a time column's name tells; None where it does not."""
    for text in [*brackets, *(w for w in words if w.upper() in ZONE_WORDS_H)]:
        try:
            zone_of(text)
        except BadRequest:
            continue
        return text
    if {"epoch", "unix", "unixtime"} & set(words):
        return "UTC"
    glued = next((w for w in words if w.endswith("utc") or w.endswith("gmt")), None)
    return "UTC" if glued else None
