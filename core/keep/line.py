"""A line of notes on its way: its day, its sit, and what it has told so far."""

import datetime
import re
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

from core.ground.layout import Property
from core.ground.written_dates import find_day, nearest_date, relative_date
from core.keep.clock_words import minute_of_day, timed
from core.keep.entries import AIR, HARVEST, SEEN, SIT, Entry, entry_of
from core.keep.outings import REPORT_BY
from core.keep.understood import Piece, Question

OF_A_SIT = (SEEN, AIR, HARVEST)  # what takes its stand from the sit of its line


@dataclass
class TypedLine:
    """A line on its way: what it has told so far."""

    ground: Property
    today: datetime.date
    now: str
    date: datetime.date | None = None
    half: str | None = None
    sit: dict[str, Any] = field(default_factory=dict)
    drafts: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    asked: list[Question] = field(default_factory=list)
    last_minute: int = -1
    day_open: bool = False

    def ask(self, text: str, asks: str, choices: tuple[str, ...] = ()) -> None:
        self.asked.append(Question(text.strip(), asks, choices))

    def means(self, text: str, means: str) -> None:
        self.pieces.append(Piece(text.strip(), means))


def take_date(written: str, line: TypedLine) -> str:
    """The line without the day that it begins with or names."""
    found = find_day(REPORT_BY.sub(lambda m: " " * len(m[0]), written))
    if found and not found.open:
        line.date = nearest_date(found.choices[0], line.today)
        line.means(written[found.start : found.end], f"{line.date:%a %d %b %Y}")
        return written[: found.start] + " " + written[found.end :]
    if found:
        line.day_open = True
        days = tuple(f"{nearest_date(c, line.today):%d %b}" for c in found.choices)
        line.ask(written[found.start : found.end], "Which day is it?", days)
        return written[: found.start] + " " + written[found.end :]
    first = re.match(r"\s*([A-Za-z]+)\b[:,]?", written)
    date = relative_date(first[1], line.today) if first else None
    if first and date:
        line.date = date
        line.means(first[1], f"{date:%a %d %b %Y}")
        return written[first.end() :]
    return written


def minute_at(clock: re.Match, line: TypedLine) -> int | None:
    """Minute of the day of a written time; None, and asked, for one that does not exist."""
    minute = minute_of_day(clock, line.half, line.last_minute)
    if minute is None:
        line.ask(clock[0], "Which time is it?")
    else:
        line.last_minute = minute
    return minute


def entries_of(line: TypedLine) -> list[Entry]:
    """The entries of a line that are clear: none where its day is not."""
    if line.day_open:
        return []
    date = line.date or line.today
    zone = ZoneInfo(line.ground.timezone)
    entries = []
    sit = None
    if line.sit.get("stand") and line.sit.get("sit"):
        sit = entry_of(SIT, date.isoformat(), timed(line.sit, date, zone), now=line.now)
        entries.append(sit)
    for kind, values in line.drafts:
        of = sit.id if sit and kind in (SEEN, AIR) else None
        told = timed(values, date, zone)
        if sit and kind in OF_A_SIT:
            told.setdefault("stand", sit.get("stand"))
        entries.append(entry_of(kind, date.isoformat(), told, of=of, now=line.now))
    return entries
