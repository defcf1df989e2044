"""What was understood of notes, piece by piece, and what has to be asked."""

from dataclasses import dataclass

from core.keep.entries import Entry


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
