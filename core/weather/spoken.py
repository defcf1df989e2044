"""A wind as people say it, put into the one form that `core.weather.entry` reads.

"8 NW", "nw8", "out of the west at ten" and "light and variable" say no more than "NW 8",
"W 10" and "variable light" do; which words mean what is written here alone.
"""

import re

from core.angles import POINTS_16

NUMBERS = {
    **{"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7},
    **{"eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13},
    **{"fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18},
    **{"nineteen": 19, "twenty": 20, "thirty": 30},
}
UNITS = {
    r"miles? (?:an|per) hour": "mph",
    r"meters? (?:a|per) second|metres? (?:a|per) second": "m/s",
    r"kilomet(?:er|re)s? (?:an|per) hour": "km/h",
}
VARIABLE = ("variable", "vrb", "shifting", "swirling", "all over")
LIGHT = "light"
# words that a wind is wrapped in, and that say nothing of it
IDLE = (
    *("wind", "winds", "breeze", "from", "out", "of", "the", "coming", "blowing", "about"),
    *("around", "is", "it", "its", "a", "an", "and", "by"),
)
_LETTERS = {"north": "n", "south": "s", "east": "e", "west": "w"}
_WORD_POINT = re.compile(r"\b(?:(?:north|south|east|west)(?:erly|ern)?[\s-]*){1,3}")
_GUST = re.compile(r"\b(?:gust(?:s|ing)?|g)\s*(?:up\s+)?(?:to|of)?\s*(?=\d)")
_POINT = rf"(?:{'|'.join(sorted((p.casefold() for p in POINTS_16), key=len, reverse=True))})"
_JOINED = re.compile(rf"\b({_POINT})(?=\d)|(?<=\d)(?={_POINT}\b)")


def plain_wind(text: str) -> str:
    """A wind as it was said, direction first: "out of the west at ten" is "w at 10".

    Args: any text. Returns: small letters; words it does not know are left as they are, for
    the reader to refuse. Two directions are left too: which is meant is not guessed.
    """
    words = text.strip().strip(".!").casefold().replace("°", " ")
    words = _GUST.sub("gust ", words)
    for pattern, unit in UNITS.items():
        words = re.sub(rf"\b{pattern}\b", unit, words)
    words = _WORD_POINT.sub(_as_letters, words)
    words = _JOINED.sub(lambda found: f"{found[1] or ''} ", words)
    words = re.sub(rf"\b({'|'.join(NUMBERS)})\b", lambda found: str(NUMBERS[found[0]]), words)
    for word in VARIABLE:
        words = re.sub(rf"\b{word}\b", "variable", words)
    said = [word for word in words.replace(",", " ").split() if word not in IDLE]
    return " ".join(_direction_first(said))


def _as_letters(found: re.Match) -> str:
    letters = "".join(_LETTERS[word] for word in re.findall("north|south|east|west", found[0]))
    return f"{letters} "


def _direction_first(said: list[str]) -> list[str]:
    """The words with the one direction in front, and without an "at" that it leaves there."""
    where = [i for i, word in enumerate(said) if re.fullmatch(f"{_POINT}|variable", word)]
    if len(where) != 1 or not where[0]:
        return said
    rest = said[: where[0]] + said[where[0] + 1 :]
    return [said[where[0]], *rest]
