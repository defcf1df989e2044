"""Names of a ground in what somebody wrote: whole, begun, or spelled nearly right."""

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass

from core.ground.layout import Property

PERSON = "person"
NEAR = 0.8  # how alike two spellings are, by difflib, to mean the same; common practice
AS_NEAR = 0.04  # two names this close to one spelling both fit
SHORTEST = 3  # letters of a word that stands for a whole name
# words that alone begin no name: they are of many names, or tell of a deer or a sign
OF_MANY = frozenset(
    ("trail", "stand", "the", "field", "plot", "edge", "east", "west", "north", "south", "way")
)
OF_A_DEER = frozenset(
    ("old", "new", "fresh", "dry", "young", "big", "small", "little", "long", "wide", "tall")
)
COMMON_WORDS = OF_MANY | OF_A_DEER


@dataclass(frozen=True, slots=True)
class Named:
    """Something of the ground that has a name."""

    id: str
    kind: str  # as in the property file; corridor, lane, stand ... or person
    name: str


@dataclass(frozen=True, slots=True)
class Match:
    """Words of a text, and what they may name: one thing, or several to be asked about."""

    start: int
    end: int
    fits: tuple[Named, ...]


def names_of(ground: Property) -> tuple[Named, ...]:
    """Everything of a ground that has a name, people too."""
    found = [Named(s.id, "stand", s.name) for s in ground.stands]
    found += [Named(way.id, "lane", way.name) for way in ground.lanes]
    found += [Named(trail.id, "corridor", trail.name) for trail in ground.corridors]
    found += [Named(area.id, area.kind, area.name) for area in ground.areas]
    found += [Named(mark.id, mark.kind, mark.name) for mark in ground.marks]
    found += [Named(p.name, PERSON, p.name) for p in ground.people]
    return tuple(n for n in found if n.name.strip())


def find_names(text: str, names: Iterable[Named]) -> list[Match]:
    """What a text names, in order, no two overlapping; the best spelling first.

    Args: the text; the names it may hold.
    """
    words = [(m.group().casefold(), m.start(), m.end()) for m in re.finditer(r"[\w'’]+", text)]
    tried = []
    for named in names:
        parts = re.findall(r"[\w'’]+", named.name.casefold())
        for n in {len(parts), *_begun(parts)}:
            whole = " ".join(parts[:n])
            for i in range(len(words) - n + 1):
                near = _alike(" ".join(w for w, _, _ in words[i : i + n]), whole)
                if near >= NEAR:
                    # a whole name before one that is only begun
                    tried.append(
                        (near, n, n == len(parts), words[i][1], words[i + n - 1][2], named)
                    )
    return _chosen(tried)


def without_names(text: str, matches: Iterable[Match]) -> str:
    """A text with blanks where it names something. Args: the text; what it names."""
    for match in matches:
        text = text[: match.start] + " " * (match.end - match.start) + text[match.end :]
    return text


def _begun(parts: list[str]) -> list[int]:
    """How many first words may stand for the whole name."""
    return [
        n
        for n in range(1, len(parts))
        if any(len(p) >= SHORTEST and p not in COMMON_WORDS for p in parts[:n])
    ]


def _alike(written: str, name: str) -> float:
    if written == name:
        return 1.0
    if len(name) < 4 or abs(len(written) - len(name)) > 3:
        return 0.0  # a short word with another letter is another word
    return difflib.SequenceMatcher(None, written, name, autojunk=False).ratio()


def _chosen(tried: list[tuple]) -> list[Match]:
    """The best of what fits at each place: longer, whole and nearer spellings first."""
    order = sorted(tried, key=lambda t: (-t[1], -t[2], -t[0], t[3]))
    taken: list[Match] = []
    for near, n, whole, start, end, _ in order:
        if any(start < m.end and end > m.start for m in taken):
            continue
        same = [t for t in order if (t[1], t[2], t[3], t[4]) == (n, whole, start, end)]
        fits = [t[5] for t in same if t[0] >= near - AS_NEAR and (near < 1.0 or t[0] == 1.0)]
        taken.append(Match(start, end, tuple(dict.fromkeys(fits))))
    return sorted(taken, key=lambda m: m.start)
