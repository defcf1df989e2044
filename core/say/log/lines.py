"""Entries of the log in words: one line each, and what they teach."""

from core.angles import point_name
from core.ground.layout import Property
from core.keep.entries import AIR, HARVEST, NOTE, SEEN, SIGN, SIT, VISIT, WORK, Entry
from core.keep.score import Score
from core.say.words import VERDICTS_SAID
from core.sit.verdicts import VERDICT_WORDS

FELT_SAID = {
    "as-told": "air as told",
    "otherwise": "air otherwise than told",
    "round": "air round and round",
}
EXAMPLE = "{stand} {half}. felt W 4. {seen} 2 does. {then} buck 60 yd winded. left {left}"
MORNING_CLOCKS = {"seen": "7:40", "then": "8:15", "left": "9:30"}
EVENING_CLOCKS = {"seen": "4:40", "then": "5:05", "left": "6:00"}


def entry_line(entry: Entry, ground: Property) -> str:
    """An entry in a few words, without its date. Args: it; the ground it is of."""
    said = _SAID[entry.kind](entry, ground)
    if entry.kind in (AIR, SEEN) and not entry.of and entry.get("stand"):  # no sit tells where
        said = f"{ground.name_of(entry.get('stand'))}: {said}"
    text = entry.get("text")
    return f"{said}: {text}" if text and entry.kind != NOTE else said


def clock_of(instant: str | None) -> str:
    """The clock time of an ISO instant as it was kept; empty for none."""
    if not instant:
        return ""
    hour, minute = int(instant[11:13]), instant[14:16]
    return f"{hour % 12 or 12}:{minute} {'am' if hour < 12 else 'pm'}"


def example_line(stand_name: str, sit: str) -> str:
    """A line of notes as one could write it in this stand. Args: its name; the sit."""
    half = {"morning": "am", "evening": "pm"}.get(sit, "all day")
    clocks = EVENING_CLOCKS if sit == "evening" else MORNING_CLOCKS
    return EXAMPLE.format(stand=stand_name.lower(), half=half, **clocks)


def score_line(score: Score, ground: Property) -> str:
    """The program's own score at a stand. Args: one with cases enough; the ground."""
    where = f"at {ground.name_of(score.stand)}" if score.stand else "over all stands"
    said = dict(zip(VERDICT_WORDS, VERDICTS_SAID, strict=True))
    called = said.get(score.verdict, score.verdict)
    return f"Called {called} {score.sits} times {where}: winded {score.winded}."


def score_range(score: Score) -> str:
    """How much such a count proves. Args: a score with cases enough."""
    return f"A true share of {score.low:.0%} to {score.high:.0%} would look like that."


def _sit(entry: Entry, ground: Property) -> str:
    verb = "means to sit" if entry.get("planned") else "sat"
    who = f"{entry.get('who')} {verb}" if entry.get("who") else verb
    first, last = clock_of(entry.get("from")), clock_of(entry.get("to"))
    times = f"{first} to {last}" if first and last else f"from {first}" if first else ""
    times = times or (f"until {last}" if last else "")
    told = entry.get("told") or {}
    said = [f"{who} {ground.name_of(entry.get('stand'))}, {entry.get('sit')}"]
    said += [times] if times else []
    said += [f"called {told['verdict']}"] if told.get("verdict") else []
    said += ["no deer seen"] if entry.get("nothing_seen") else []
    return ", ".join(said)


def _seen(entry: Entry, ground: Property) -> str:
    count, deer = entry.get("count", 1), entry.get("deer", "unknown")
    word = "deer" if deer == "unknown" else deer + ("s" if count != 1 else "")
    said = [f"{clock_of(entry.get('at'))} {count} {word}".strip()]
    places = [entry.get(name) for name in ("trail", "plot")]
    said += [f"on {ground.name_of(place)}" for place in places if place]
    said += [f"{entry.get('yards'):.0f} yd"] if entry.get("yards") is not None else []
    said += [word for word in ("winded", "shot", "recovered") if entry.get(word)]
    return ", ".join(said)


def _air(entry: Entry, _ground: Property) -> str:
    said = [FELT_SAID[entry.get("felt")]] if entry.get("felt") else []
    if entry.get("from_deg") is not None and entry.get("felt") != "as-told":
        said.append(f"felt from {point_name(entry.get('from_deg'))}")
    return f"{clock_of(entry.get('at'))} {', '.join(said) or 'air'}".strip()


def _at(entry: Entry, ground: Property) -> str:
    place = entry.get("feature") or entry.get("stand")
    return f" at {ground.name_of(place)}" if place else ""


def _visit(entry: Entry, ground: Property) -> str:
    first, last = clock_of(entry.get("from")), clock_of(entry.get("to"))
    times = f", {first} to {last}" if first and last else f", {first or last}" * bool(first or last)
    way = f", by {ground.name_of(entry.get('lane'))}" if entry.get("lane") else ""
    return f"visit: {entry.get('what', 'other')}{_at(entry, ground)}{times}{way}"


def _harvest(entry: Entry, ground: Property) -> str:
    said = [f"harvest: {entry.get('sex', 'deer')}{_at(entry, ground)}"]
    said += [f"{entry.get('pounds'):g} lb"] if entry.get("pounds") else []
    said += [f"{entry.get('age_years'):g} years"] if entry.get("age_years") is not None else []
    said += [f"tag {entry.get('tag')}"] if entry.get("tag") else []
    if entry.get("reported"):
        return ", ".join([*said, "reported"])
    by = entry.get("report_by")
    said += [f"report by {by}"] if by else ["not reported"] if "reported" in entry.values else []
    return ", ".join(said)


_AGES = {True: "fresh ", False: "old ", None: ""}
_SAID = {
    SIT: _sit,
    SEEN: _seen,
    AIR: _air,
    VISIT: _visit,
    SIGN: lambda e, g: f"sign: {_AGES[e.get('fresh')]}{e.get('what')}{_at(e, g)}",
    WORK: lambda e, g: f"work: {e.get('what')}{_at(e, g)}",
    HARVEST: _harvest,
    NOTE: lambda e, _: e.get("text", "a note"),
}
