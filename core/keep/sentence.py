"""A line of notes understood: what a hunter typed in the tree, as entries of the log.

    plum edge am. felt W 4. 7:40 2 does east trail. 8:15 buck 60 yd winded. left 9:30

A line is cut into pieces at full stops and semicolons. Each piece is understood as one kind
of thing, or asked about; nothing is guessed in silence.
"""

import datetime
import re
from dataclasses import replace
from typing import Any

from core.errors import BadWind
from core.ground.layout import Property
from core.ground.written_dates import find_day, next_date
from core.keep.clauses import air_of, deer_of, sign_of, work_of
from core.keep.clock_words import CLOCK, HALF_NAMES, HALF_WORDS, minute_words
from core.keep.entries import AIR, HARVEST, NOTE, SEEN, SIGN, VISIT, WORK, Entry
from core.keep.line import TypedLine, entries_of, minute_at, take_date
from core.keep.names import PERSON, Match, find_names, names_of, without_names
from core.keep.outings import REPORT_BY, harvest_of, visit_of
from core.keep.understood import Piece, Question, Understood

_CUT = re.compile(r"[;\n]+|\.(?=\s|$)")
_HALF = re.compile(r"\b(all[ -]day|am|pm|morning|evening|dawn|dusk|afternoon)\b")
_LEFT = re.compile(r"\b(left|leave|down|out|quit|done)\b")
_CAME = re.compile(r"\b(in|up|seated|settled|sat|from|since|on stand)\b")
_NOTHING = re.compile(r"\b(no deer|nothing|none seen|saw none|no sightings?)\b")
_BY = re.compile(r"\bby (?:the )?[a-z]")
_BY_ENDS = re.compile(r"\bby (?:the )?$", re.IGNORECASE)
_NOTE = re.compile(r"^\s*(?:note|remember)\b[:,]?\s*(.+)$", re.IGNORECASE)


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
        entries += entries_of(line)
        pieces += line.pieces
        asked += line.asked
    return Understood(tuple(entries), tuple(pieces), tuple(asked))


def understand_more(text: str, sit: Entry, ground: Property, now: str) -> tuple[Entry, Understood]:
    """Pieces about a sit that is in the log: neither day nor stand stands in them.

    Args: the text; the sit; the ground; the ISO time.
    Returns: the sit with what they tell of it, and the rest, which belongs to it.
    """
    date = datetime.date.fromisoformat(sit.date)
    own = {name: sit.get(name) for name in ("stand", "sit")}
    line = TypedLine(ground, date, now, date, sit.get("sit"), dict(own))
    _read_pieces(text, line)
    told, *rest = entries_of(line)
    values = {**sit.values, **told.values}
    if any(e.kind == SEEN for e in rest):
        values.pop("nothing_seen", None)
    changed = replace(sit, values=values)
    belonging = tuple(replace(e, of=sit.id) if e.of else e for e in rest)
    return changed, Understood(belonging, tuple(line.pieces), tuple(line.asked))


def _read_line(written: str, ground: Property, today: datetime.date, now: str) -> TypedLine:
    line = TypedLine(ground, today, now)
    written = take_date(written, line)
    _read_pieces(written, line)
    if line.date is None:
        line.date = today
    return line


def _read_pieces(written: str, line: TypedLine) -> None:
    for piece in (p.strip(" ,:") for p in _CUT.split(written)):
        if piece:
            _read_piece(piece, line)


def _read_piece(piece: str, line: TypedLine) -> None:
    note = _NOTE.match(piece)
    if note:
        line.drafts.append((NOTE, {"text": note[1]}))
        line.means(piece, "a note")
        return
    matches = find_names(piece, names_of(line.ground))
    for read in _READERS:
        if read(piece, matches, line):
            return
    line.ask(piece, "What is this?", ("a note", "leave it out"))


def _read_sit(piece: str, matches: list[Match], line: TypedLine) -> bool:
    """A stand with the half of the day opens a sit."""
    stands = [m for m in matches if any(n.kind == "stand" for n in m.fits)]
    low = piece.casefold()
    rest = without_names(low, matches)
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
    times = [minute_at(m, line) for m in CLOCK.finditer(low)]
    for name, minute in zip(("from", "to"), times, strict=False):
        line.sit[name] = minute
    who = f", {line.sit['who']}" if people else ""
    line.means(piece, f"{fits[0].name}, {HALF_NAMES.get(line.half or '', 'which half?')}{who}")
    return True


def _ask_stand(piece: str, name: str, line: TypedLine) -> bool:
    """A bed or trail with a half of the day: a stand of that name may be meant."""
    first = name.casefold().split()[0]
    stands = [s.name for s in line.ground.stands if s.name.casefold().split()[:1] == [first]]
    if stands:
        line.ask(piece, "Which stand?", tuple(stands))
    return bool(stands)


def _read_air(piece: str, _matches: list[Match], line: TypedLine) -> bool:
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
        values["at"] = minute_at(clock, line)
    line.drafts.append((AIR, values))
    line.means(piece, means)
    return True


def _read_visit(piece: str, matches: list[Match], line: TypedLine) -> bool:
    """A visit: from when to when, by which way, where."""
    found = visit_of(piece)
    if found is None:
        return False
    values, means = found
    times = [minute_at(m, line) for m in CLOCK.finditer(piece.casefold())]
    values |= dict(zip(("from", "to"), times, strict=False))
    for match in matches:
        lanes = [n for n in match.fits if n.kind == "lane"]
        places = [n for n in match.fits if n.kind not in ("lane", PERSON)]
        is_way = bool(lanes) and (not places or bool(_BY_ENDS.search(piece[: match.start])))
        fits = lanes if is_way else places
        if len(fits) > 1:
            line.ask(piece, "Which one?", tuple(n.name for n in fits))
            return True
        if fits:
            values.setdefault("lane" if is_way else "feature", fits[0].id)
            means += f", {'by' if is_way else 'at'} {fits[0].name}"
    if _BY.search(piece.casefold()) and "lane" not in values:
        line.ask(piece, "By which way?", tuple(way.name for way in line.ground.lanes))
    means += "".join(f", {minute_words(m)}" for m in times if m is not None)
    line.drafts.append((VISIT, values))
    line.means(piece, means)
    return True


def _read_harvest(piece: str, matches: list[Match], line: TypedLine) -> bool:
    """A deer that was tagged, and until when it has to be reported."""
    found = harvest_of(piece)
    if found is None:
        return False
    values, means = found
    stands = [n for m in matches for n in m.fits if n.kind == "stand"]
    if len(stands) == 1:
        values["stand"] = stands[0].id
        means += f", at {stands[0].name}"
    by = REPORT_BY.search(piece)
    day = find_day(by[1]) if by else None
    if by and (day is None or day.open):
        line.ask(by[0], "Report by which day? Write it like 12 Nov.")
    elif day is not None:
        values["report_by"] = next_date(day.choices[0], line.date or line.today).isoformat()
        means += f", report by {values['report_by']}"
    line.drafts.append((HARVEST, values))
    line.means(piece, means)
    return True


def _read_work(piece: str, matches: list[Match], line: TypedLine) -> bool:
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


def _read_sign(piece: str, matches: list[Match], line: TypedLine) -> bool:
    found = sign_of(without_names(piece, matches))  # a dry fork makes no rub old
    if found is None:
        return False
    values, means = found
    if len(places := [n for m in matches for n in m.fits if n.kind != PERSON]) > 1:
        line.ask(piece, "Where?", tuple(n.name for n in places))
        return True
    if places:
        values["feature"] = places[0].id
        means += f" at {places[0].name}"
    line.drafts.append((SIGN, values))
    line.means(piece, means)
    return True


def _read_times(piece: str, _matches: list[Match], line: TypedLine) -> bool:
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
    minute = minute_at(clock, line)
    if minute is not None:
        line.sit["to" if leaving else "from"] = minute
        line.means(piece, f"{'left' if leaving else 'in the stand'} {minute_words(minute)}")
    return True


def _read_deer(piece: str, matches: list[Match], line: TypedLine) -> bool:
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
    at = {"at": minute_at(clock, line)} if clock else {}
    said = []
    for values, means in deer:
        line.drafts.append((SEEN, {**values, **where, **at}))
        said.append(means)
    head = f"{minute_words(line.last_minute)} " if at.get("at") is not None else ""
    line.means(piece, f"{head}{', '.join(said)}{' on ' + ', '.join(names) if names else ''}")
    return True


_READERS = (
    _read_visit,
    _read_harvest,
    _read_sit,
    _read_air,
    _read_work,
    _read_sign,
    _read_times,
    _read_deer,
)
