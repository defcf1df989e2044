"""What was understood of notes, piece by piece, and what has to be asked."""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass

from core.ground.layout import Property
from core.keep.clock_words import HALF_NAMES
from core.keep.entries import SIT, Entry


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a line and what it was understood as, in words."""

    text: str
    means: str


@dataclass(frozen=True, slots=True)
class Question:
    """A piece that is not clear: what is asked, and what may be meant."""

    text: str
    asks: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Understood:
    """What some lines say: entries, each piece beside its meaning, and what is open."""

    entries: tuple[Entry, ...] = ()
    pieces: tuple[Piece, ...] = ()
    asked: tuple[Question, ...] = ()


def with_kept_twice(said: Understood, kept: Iterable[Entry], ground: Property) -> Understood:
    """The same, with a question for each sit that is in the log already.

    Args: what was understood; what the log holds of those days or more; the ground.
    Returns: as given, where every sit is new. Two who sit at one stand are two sits.
    """
    there = [_sit_of(e) for e in kept if e.kind == SIT]
    names = {stand.id: stand.name for stand in ground.stands}
    twice = [
        Question(
            f"{names.get(stand, stand)}, {HALF_NAMES.get(half, half)} of {date}",
            "This sit is in the log already. Add to it there; kept from here, it is there twice.",
        )
        for date, stand, half, who in map(_sit_of, (e for e in said.entries if e.kind == SIT))
        if any(t[:3] == (date, stand, half) and who in ("", t[3]) for t in there)
    ]
    return dataclasses.replace(said, asked=(*said.asked, *twice)) if twice else said


def _sit_of(entry: Entry) -> tuple[str, str, str, str]:
    """The day, the stand, the half of the day and the hunter of a sit."""
    stand, half, who = (str(entry.get(name) or "") for name in ("stand", "sit", "who"))
    return entry.date, stand, half, who
