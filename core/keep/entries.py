"""What the log holds: one table a kind of entry, and the entry itself.

An entry is filled in as far as its owner cared to; half filled is fine. What is there is
checked, so that sums never meet a wrong value. Ids of stands, trails and places are those
of the property, and stay when a feature is renamed or taken out.
"""

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from core.errors import StandWindError
from core.ground import fields as f
from core.ground.fields import Fault, Field

SIT, SEEN, AIR, VISIT, SIGN, WORK, HARVEST, NOTE = (
    "sit",
    "seen",
    "air",
    "visit",
    "sign",
    "work",
    "harvest",
    "note",
)
HALVES = ("morning", "evening", "all-day")
AS_TOLD, OTHERWISE, ROUND = "as-told", "otherwise", "round"
FELT = (AS_TOLD, OTHERWISE, ROUND)
DEER = ("doe", "buck", "fawn", "unknown")
SEXES = ("buck", "doe", "fawn", "unknown")
SIGNS = ("rub", "scrape", "bed", "track", "droppings", "trail")
VISITS = ("trimming", "camera", "plot", "other")
LONGEST_TEXT = 4000


class BadEntry(StandWindError):
    """An entry of the log that can't be kept as it is."""


def short_text(value: Any) -> str:
    """Text of a length that a person writes. Raises: Fault."""
    if len(f.text(value)) > LONGEST_TEXT:
        raise Fault(f"has {len(value)} letters", f"Write at most {LONGEST_TEXT}.")
    return value


def instant(value: Any) -> str:
    """An ISO time with its offset, as it is kept. Raises: Fault."""
    fault = Fault(f"is {f.shown(value)}, not a time", "Write it like 2026-11-10T07:40-05:00.")
    try:
        at = datetime.datetime.fromisoformat(f.text(value).replace("Z", "+00:00"))
    except ValueError:
        raise fault from None
    if at.tzinfo is None:
        raise Fault(f"is {f.shown(value)}, without its offset", "Add one, like -05:00.")
    return at.isoformat(timespec="seconds")


def place(value: Any) -> tuple[float, float]:
    """A place: longitude and latitude in degrees. Raises: Fault."""
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise Fault(f"is {f.shown(value)}, not a place", "Write [longitude, latitude].")
    return f.number(-180, 180)(value[0]), f.number(-90, 90)(value[1])


def _plain(value: Any) -> dict:
    """An object of plain values, kept as it is. Raises: Fault."""
    if not isinstance(value, dict):
        raise Fault(f"is {f.shown(value)}, not an object", "Write its members in { }.")
    return value


_COUNT = f.whole(0, 500)
_YARDS = f.number(0, 2000)
_FROM_TO = (Field("from", instant), Field("to", instant))
FIELDS: dict[str, tuple[Field, ...]] = {
    SIT: (
        Field("who", short_text),
        Field("stand", f.filled, needed=True),
        Field("sit", f.choice(HALVES), needed=True),
        *_FROM_TO,
        Field("way_in", f.text),
        Field("way_out", f.text),
        Field("told", _plain),  # what the program had said, as it said it
        Field("wind", short_text),  # on which wind, in words
        Field("version", f.text),  # of the program
        Field("weather", f.text),  # key of the kept table
        Field("planned", f.yes_no),  # said before the sit, and nothing yet after it
        Field("nothing_seen", f.yes_no),
    ),
    SEEN: (
        Field("at", instant),
        Field("count", _COUNT),
        Field("deer", f.choice(DEER)),
        Field("trail", f.text),
        Field("plot", f.text),
        Field("came_from", short_text),
        Field("went_to", short_text),
        Field("yards", _YARDS),
        Field("winded", f.yes_no),
        Field("shot", f.yes_no),
        Field("recovered", f.yes_no),
        Field("recovered_yards", _YARDS),
    ),
    AIR: (
        Field("at", instant),
        Field("from_deg", f.number(0, 360)),
        Field("beaufort", f.whole(0, 12)),
        Field("felt", f.choice(FELT)),
        Field("told_from_deg", f.number(0, 360)),
        Field("told_mps", f.number(0, 113)),
    ),
    VISIT: (
        Field("what", f.choice(VISITS)),
        *_FROM_TO,
        Field("lane", f.text),
        Field("feature", f.text),
        Field("place", place),
        Field("weather", f.text),
    ),
    SIGN: (
        Field("what", f.choice(SIGNS), needed=True),
        Field("feature", f.text),
        Field("place", place),
        Field("fresh", f.yes_no),
    ),
    WORK: (
        Field("what", f.filled, needed=True),
        Field("feature", f.text),
        Field("minutes", f.number(0, 6000)),
        Field("daytime", f.yes_no),
    ),
    HARVEST: (
        Field("sex", f.choice(SEXES)),
        Field("pounds", f.number(0, 600)),
        Field("age_years", f.number(0, 25)),
        Field("tag", short_text),
        Field("reported", f.yes_no),
        Field("report_by", f.date),
        Field("stand", f.text),
    ),
    NOTE: (),
}
COMMON = (Field("stand", f.text), Field("text", short_text))
KINDS = tuple(FIELDS)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the log.

    `values` are the members of its kind that were filled in. `of` is the sit that a
    sighting or a felt air belongs to. `written` and `changed` are ISO times with offset;
    `removed` is None for what is shown.
    """

    id: str
    kind: str
    date: str  # local date, YYYY-MM-DD
    values: Mapping[str, Any] = field(default_factory=dict)
    of: str | None = None
    written: str = ""
    changed: str = ""
    removed: str | None = None

    def get(self, name: str, default: Any = None) -> Any:
        """A value that was filled in. Args: its name; what to give where it was not."""
        return self.values.get(name, default)


def new_id() -> str:
    """An id that no other entry has, on this machine or another."""
    return uuid.uuid4().hex


def entry_of(
    kind: str,
    date: str,
    values: Mapping[str, Any],
    *,
    of: str | None = None,
    id_: str | None = None,
    now: str = "",
) -> Entry:
    """A checked entry.

    Args: its kind; local date YYYY-MM-DD; what was filled in, by the names of FIELDS, None
    for nothing; the sit it belongs to; its id, a new one by default; the ISO time it is
    written at. Raises: BadEntry, with the value in it.
    """
    if kind not in FIELDS:
        raise BadEntry(
            f"'{kind}' is no kind of entry", "the log", f"Use one of: {', '.join(KINDS)}."
        )
    table = FIELDS[kind] + tuple(c for c in COMMON if c.name not in {x.name for x in FIELDS[kind]})
    unknown = set(values) - {x.name for x in table}
    if unknown:
        names = ", ".join(f.printable(str(name)) for name in sorted(map(str, unknown)))
        raise BadEntry(f"has {names}, which a {kind} does not have", "the log", "Leave it out.")
    try:
        f.named(f.date, date, "date")
        read = f.read_record(dict(values), table)
    except Fault as fault:
        raise BadEntry(f"{kind}: {fault.text()}", "the log", fault.fix) from None
    told = {name: value for name, value in read.items() if value is not None}
    return Entry(id_ or new_id(), kind, date, told, of, now, now)
