"""What the form asks about each kind of thing, in plain words.

One row a member of the file; its checks and defaults are the file's own.
"""

from dataclasses import dataclass

from core.ground import layout

CHOICE, NUMBER, TEXT, LONG, TICK, DAY, MONTHS, WINDS, STANDS = (
    "choice",
    "number",
    "text",
    "long",
    "tick",
    "day",
    "months",
    "winds",
    "stands",
)
MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True)
class Row:
    """One question: where its answer goes, how it is asked, and the words of a choice."""

    path: tuple[str, ...]
    label: str
    how: str
    words: tuple[tuple[str, str], ...] = ()  # what the file says, what the screen says
    help: str | None = None
    more: bool = False  # asked under "More"


def _same(words: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((word, word.replace("-", " ")) for word in words)


UNSET = ("", "not said")
WANTED = (UNSET, *_same(layout.WANTED))
HELD = (("day", "by day"), ("night", "at night"), ("always", "always"), ("never", "never"))
COVERS = (("open", "open ground"), ("edge", "edge of timber"), ("timber", "in timber"))
MONTHS_ROW = Row(("months",), "Months", MONTHS, help="Deer are there in these months.")
NOTES = Row(("notes",), "Notes", LONG, more=True)
STAND = (
    Row(("seat",), "Kind of seat", CHOICE, _same(layout.SEATS)),
    Row(("height_ft",), "Height, feet", NUMBER, help="Of the platform. Over 16 ft is said."),
    Row(
        ("range_yd",),
        "Range, yards",
        NUMBER,
        help="How far you shoot from here. 30 is common practice, no source.",
    ),
    Row(("cover",), "Cover round it", CHOICE, COVERS, "How much the wind is slowed there."),
    Row(("wanted", "morning"), "Mornings", CHOICE, WANTED, "How much you want to sit here."),
    Row(("wanted", "evening"), "Evenings", CHOICE, WANTED, "How much you want to sit here."),
    Row(
        ("lies",),
        "How it lies",
        CHOICE,
        _same(layout.LIES),
        more=True,
        help="In a bottom, still night air pools and no direction holds.",
    ),
    Row(
        ("max_gust_mph",),
        "Most gust, mph",
        NUMBER,
        more=True,
        help="Above it the answer is stay out. Empty: no limit.",
    ),
    Row(("set_up_min",), "Minutes to set up", NUMBER, more=True),
    Row(
        ("swirls", "from_deg"),
        "Swirls with wind from",
        WINDS,
        more=True,
        help="Directions clockwise, like 250-320. What you have seen here.",
    ),
    Row(("swirls", "under_mph"), "Swirls under, mph", NUMBER, more=True),
    Row(("edge_ok",), "A just-off wind is all right here", TICK, more=True),
    Row(("guest_ok",), "Fit for a guest", TICK, more=True),
    Row(("closed",), "Closed: not to be sat", TICK, more=True),
    NOTES,
)
LANE = (
    Row(("stands",), "Leads to", STANDS),
    Row(
        ("way",),
        "Used as",
        CHOICE,
        (("both", "way in and out"), ("in", "way in"), ("out", "way out")),
    ),
    Row(
        ("minutes",),
        "Your own time, minutes",
        NUMBER,
        help="For the whole way in the dark. Empty: its length at your walking pace.",
    ),
    Row(("cover",), "Cover along it", CHOICE, COVERS, more=True),
    Row(("footing",), "Underfoot", CHOICE, (UNSET, *_same(layout.FOOTINGS)), more=True),
    Row(
        ("by",),
        "You go",
        CHOICE,
        (("foot", "on foot"), ("dropped-off", "dropped off"), ("boat", "by boat")),
        more=True,
    ),
    NOTES,
)
CORRIDOR = (
    Row(
        ("use",),
        "Deer use it",
        CHOICE,
        (("both", "day and night"), ("day", "by day"), ("night", "only at night")),
    ),
    Row(("width_ft",), "Width, feet", NUMBER, help="2 to 3 is common practice, no source."),
    Row(("cut_on",), "Cut on", DAY, help="Year-month-day, like 2026-02-14.", more=True),
    Row(("sprayed_on",), "Sprayed on", DAY, help="Year-month-day.", more=True),
    Row(("checked_on",), "Checked on", DAY, help="Year-month-day.", more=True),
    NOTES,
)
BEDDING = (
    Row(("held",), "Deer lie there", CHOICE, HELD),
    Row(("who",), "Who", TEXT, help="Bucks, does, both: as you know it."),
    MONTHS_ROW,
    Row(
        ("with_wind_deg",),
        "Only with wind from",
        WINDS,
        more=True,
        help="Directions clockwise, like 270-60. 0-360 is any wind.",
    ),
    NOTES,
)
FOOD = (Row(("held",), "Deer feed there", CHOICE, HELD), MONTHS_ROW, NOTES)
ROWS = {"stand": STAND, "lane": LANE, "corridor": CORRIDOR, "bedding": BEDDING, "food": FOOD}
MARK = (Row(("notes",), "Notes", LONG),)


def part_rows(part: str) -> tuple[Row, Row]:
    """How much a stand is wanted in one part of the season."""
    return tuple(
        Row(("wanted", "by_part", part, sit), f"{part}: {sit}s", CHOICE, WANTED, more=True)
        for sit in ("morning", "evening")
    )
