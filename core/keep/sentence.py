"""A line of notes understood: what a hunter typed in the tree, as entries of the log.

    plum edge am. felt W 4. 7:40 2 does east trail. 8:15 buck 60 yd winded. left 9:30

A line is cut into pieces at full stops and semicolons. Each piece is understood as one kind
of thing, or asked about; nothing is guessed in silence.
"""

import datetime
import re
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

from core.errors import BadWind
from core.ground.layout import Property
from core.ground.written_dates import find_day, nearest_date, relative_date
from core.keep.clauses import air_of, deer_of, sign_of, work_of
from core.keep.clock_words import CLOCK, minute_of_day, minute_words, timed
from core.keep.entries import AIR, NOTE, SEEN, SIGN, SIT, WORK, Entry, entry_of
from core.keep.names import PERSON, Match, find_names, names_of
from core.keep.understood import Piece, Question, Understood

HALF_WORDS = {
    "am": "morning",
    "morning": "morning",
    "dawn": "morning",
    "pm": "evening",
    "evening": "evening",
    "dusk": "evening",
    "afternoon": "evening",
    "all day": "all-day",
    "all-day": "all-day",
}
HALF_NAMES = {"morning": "morning", "evening": "evening", "all-day": "all day"}
_CUT = re.compile(r"[;\n]+|\.(?=\s|$)")
_HALF = re.compile(r"\b(all[ -]day|am|pm|morning|evening|dawn|dusk|afternoon)\b")
_LEFT = re.compile(r"\b(left|leave|down|out|quit|done)\b")
_CAME = re.compile(r"\b(in|up|seated|settled|sat|from|since|on stand)\b")
_NOTHING = re.compile(r"\b(no deer|nothing|none seen|saw none|no sightings?)\b")
_NOTE = re.compile(r"^\s*(?:note|remember)\b[:,]?\s*(.+)$", re.IGNORECASE)


@dataclass
class _Line:
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


def understand(text: str, ground: Property, today: datetime.date, now: str = "") -> Understood:
    """Lines of notes as entries.

    Args: one line, or several, each a sit or a day of its own; the ground; today, where the
    ground is; the ISO time at which they are written.
    Returns: what was understood, piece by piece, and what has to be asked. A line's entries
    are there as far as they are clear.
    """
    entries: list[Entry] = []
    pieces: list[Piece] = []
    asked: list[Question] = []
    for written in text.splitlines():
        if not written.strip():
            continue
        line = _read_line(written, ground, today, now)
        entries += _entries(line)
        pieces += line.pieces
        asked += line.asked
    return Understood(tuple(entries), tuple(pieces), tuple(asked))


def _read_line(written: str, ground: Property, today: datetime.date, now: str) -> _Line:
    line = _Line(ground, today, now)
    written = _take_date(written, line)
    for piece in (p.strip(" ,:") for p in _CUT.split(written)):
        if piece:
            _read_piece(piece, line)
    if line.date is None:
        line.date = today
    return line


def _take_date(written: str, line: _Line) -> str:
    """The line without the day that it begins with or names."""
    found = find_day(written)
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


def _read_piece(piece: str, line: _Line) -> None:
    note = _NOTE.match(piece)
    if note:
        line.drafts.append((NOTE, {"text": note[1]}))
        line.means(piece, "a note")
        return
    matches = find_names(piece, names_of(line.ground))
    for read in (_read_sit, _read_air, _read_work, _read_sign, _read_times, _read_deer):
        if read(piece, matches, line):
            return
    line.ask(piece, "What is this?", ("a note", "leave it out"))


def _read_sit(piece: str, matches: list[Match], line: _Line) -> bool:
    """A stand with the half of the day opens a sit."""
    stands = [m for m in matches if any(n.kind == "stand" for n in m.fits)]
    low = piece.casefold()
    rest = low
    for match in reversed(matches):
        rest = rest[: match.start] + " " * (match.end - match.start) + rest[match.end :]
    half = _HALF.search(CLOCK.sub(lambda m: " " * len(m[0]), rest))
    if half and not stands and matches and not line.sit:
        return _ask_stand(piece, matches[0].fits[0].name, line)
    if not stands or line.sit or not (half or not deer_of(rest)):
        return False
    fits = tuple(n for n in stands[0].fits if n.kind == "stand")
    if len(fits) > 1:
        line.ask(piece, "Which stand?", tuple(n.name for n in fits))
        return True
    line.sit = {"stand": fits[0].id}
    people = [m for m in matches if any(n.kind == PERSON for n in m.fits)]
    if people:
        line.sit["who"] = people[0].fits[0].name
    if half:
        line.half = HALF_WORDS[half[1].replace("-", " ") if "all" in half[1] else half[1]]
        line.sit["sit"] = line.half
    else:
        line.ask(piece, "Morning, evening or all day?", ("am", "pm", "all day"))
    times = [_minute(m, line) for m in CLOCK.finditer(low)]
    for name, minute in zip(("from", "to"), times, strict=False):
        line.sit[name] = minute
    who = f", {line.sit['who']}" if people else ""
    line.means(piece, f"{fits[0].name}, {HALF_NAMES.get(line.half or '', 'which half?')}{who}")
    return True


def _ask_stand(piece: str, name: str, line: _Line) -> bool:
    """A bed or trail with a half of the day: a stand of that name may be meant."""
    first = name.casefold().split()[0]
    stands = [s.name for s in line.ground.stands if s.name.casefold().split()[:1] == [first]]
    if stands:
        line.ask(piece, "Which stand?", tuple(stands))
    return bool(stands)


def _read_air(piece: str, _matches: list[Match], line: _Line) -> bool:
    """What the wind was felt to be."""
    try:
        felt = air_of(piece)
    except BadWind as fault:
        line.ask(piece, f"Which wind? {fault.fix}")
        return True
    if felt is None:
        return False
    values, means = felt
    clock = CLOCK.search(piece.casefold())
    if clock:
        values["at"] = _minute(clock, line)
    line.drafts.append((AIR, values))
    line.means(piece, means)
    return True


def _read_work(piece: str, matches: list[Match], line: _Line) -> bool:
    done = work_of(piece)
    if done is None:
        return False
    values, means = done
    if len(matches) and len(matches[0].fits) > 1:
        line.ask(piece, "At which?", tuple(n.name for n in matches[0].fits))
        return True
    if matches:
        values["feature"] = matches[0].fits[0].id
        means += f" at {matches[0].fits[0].name}"
    line.drafts.append((WORK, values))
    line.means(piece, means)
    return True


def _read_sign(piece: str, matches: list[Match], line: _Line) -> bool:
    found = sign_of(piece)
    if found is None:
        return False
    values, means = found
    if matches and len(matches[0].fits) == 1:
        values["feature"] = matches[0].fits[0].id
        means += f" at {matches[0].fits[0].name}"
    line.drafts.append((SIGN, values))
    line.means(piece, means)
    return True


def _read_times(piece: str, _matches: list[Match], line: _Line) -> bool:
    """When the hunter came and left."""
    low = piece.casefold()
    clock = CLOCK.search(low)
    if _NOTHING.search(low):
        line.sit["nothing_seen"] = True
        line.means(piece, "no deer seen")
        return True
    if not clock or deer_of(low):
        return False
    told = _LEFT.search(low) or _CAME.search(low)
    if not told:
        return False
    leaving = bool(_LEFT.search(low))
    minute = _minute(clock, line)
    if minute is not None:
        line.sit["to" if leaving else "from"] = minute
        line.means(piece, f"{'left' if leaving else 'in the stand'} {minute_words(minute)}")
    return True


def _read_deer(piece: str, matches: list[Match], line: _Line) -> bool:
    """Deer: when, how many, which, how far, where."""
    low = piece.casefold()
    clock = CLOCK.search(low)
    bare = low[: clock.start()] + " " + low[clock.end() :] if clock else low
    deer = deer_of(bare)
    if not deer:
        return False
    where: dict[str, Any] = {}
    names = []
    for match in matches:
        fits = [n for n in match.fits if n.kind in ("corridor", "lane", "food", "bedding")]
        if len(fits) > 1:
            line.ask(piece, "Where?", tuple(n.name for n in fits))
            return True
        if fits:
            where["trail" if fits[0].kind in ("corridor", "lane") else "plot"] = fits[0].id
            names.append(fits[0].name)
    at = {"at": _minute(clock, line)} if clock else {}
    said = []
    for values, means in deer:
        line.drafts.append((SEEN, {**values, **where, **at}))
        said.append(means)
    head = f"{minute_words(line.last_minute)} " if at.get("at") is not None else ""
    line.means(piece, f"{head}{', '.join(said)}{' on ' + ', '.join(names) if names else ''}")
    return True


def _minute(clock: re.Match, line: _Line) -> int | None:
    """Minute of the day of a written time; None, and asked, for one that does not exist."""
    minute = minute_of_day(clock, line.half, line.last_minute)
    if minute is None:
        line.ask(clock[0], "Which time is it?")
    else:
        line.last_minute = minute
    return minute


def _entries(line: _Line) -> list[Entry]:
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
        if sit and kind in (SEEN, AIR):
            told.setdefault("stand", sit.get("stand"))
        entries.append(entry_of(kind, date.isoformat(), told, of=of, now=line.now))
    return entries
