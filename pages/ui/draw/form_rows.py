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
class FormRow:
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
MONTHS_ROW = FormRow(("months",), "Months", MONTHS, help="Deer are there in these months.")
NOTES = FormRow(("notes",), "Notes", LONG, more=True)
STAND = (
    FormRow(("seat",), "Kind of seat", CHOICE, _same(layout.SEATS)),
    FormRow(("height_ft",), "Height, feet", NUMBER, help="Of the platform. Over 16 ft is said."),
    FormRow(
        ("range_yd",),
        "Range, yards",
        NUMBER,
        help="How far you shoot from here. 30 is common practice, no source.",
    ),
    FormRow(("cover",), "Cover round it", CHOICE, COVERS, "How much the wind is slowed there."),
    FormRow(("wanted", "morning"), "Mornings", CHOICE, WANTED, "How much you want to sit here."),
    FormRow(("wanted", "evening"), "Evenings", CHOICE, WANTED, "How much you want to sit here."),
    FormRow(
        ("lies",),
        "How it lies",
        CHOICE,
        _same(layout.LIES),
        more=True,
        help="In a bottom, still night air pools and no direction holds.",
    ),
    FormRow(
        ("max_gust_mph",),
        "Most gust, mph",
        NUMBER,
        more=True,
        help="Above it the answer is stay out. Empty: no limit.",
    ),
    FormRow(("set_up_min",), "Minutes to set up", NUMBER, more=True),
    FormRow(
        ("swirls", "from_deg"),
        "Swirls with wind from",
        WINDS,
        more=True,
        help="Directions clockwise, like 250-320. What you have seen here.",
    ),
    FormRow(("swirls", "under_mph"), "Swirls under, mph", NUMBER, more=True),
    FormRow(("edge_ok",), "A just-off wind is all right here", TICK, more=True),
    FormRow(("guest_ok",), "Fit for a guest", TICK, more=True),
    FormRow(("closed",), "Closed: not to be sat", TICK, more=True),
    NOTES,
)
LANE = (
    FormRow(("stands",), "Leads to", STANDS),
    FormRow(
        ("way",),
        "Used as",
        CHOICE,
        (("both", "way in and out"), ("in", "way in"), ("out", "way out")),
    ),
    FormRow(
        ("minutes",),
        "Your own time, minutes",
        NUMBER,
        help="For the whole way in the dark. Empty: its length at your walking pace.",
    ),
    FormRow(("cover",), "Cover along it", CHOICE, COVERS, more=True),
    FormRow(("footing",), "Underfoot", CHOICE, (UNSET, *_same(layout.FOOTINGS)), more=True),
    FormRow(
        ("by",),
        "You go",
        CHOICE,
        (("foot", "on foot"), ("dropped-off", "dropped off"), ("boat", "by boat")),
        more=True,
    ),
    NOTES,
)
CORRIDOR = (
    FormRow(
        ("use",),
        "Deer use it",
        CHOICE,
        (("both", "day and night"), ("day", "by day"), ("night", "only at night")),
    ),
    FormRow(("width_ft",), "Width, feet", NUMBER, help="2 to 3 is common practice, no source."),
    FormRow(("cut_on",), "Cut on", DAY, help="Year-month-day, like 2026-02-14.", more=True),
    FormRow(("sprayed_on",), "Sprayed on", DAY, help="Year-month-day.", more=True),
    FormRow(("checked_on",), "Checked on", DAY, help="Year-month-day.", more=True),
    NOTES,
)
BEDDING = (
    FormRow(("held",), "Deer lie there", CHOICE, HELD),
    FormRow(("who",), "Who", TEXT, help="Bucks, does, both: as you know it."),
    MONTHS_ROW,
    FormRow(
        ("with_wind_deg",),
        "Only with wind from",
        WINDS,
        more=True,
        help="Directions clockwise, like 270-60. 0-360 is any wind.",
    ),
    NOTES,
)
FOOD = (FormRow(("held",), "Deer feed there", CHOICE, HELD), MONTHS_ROW, NOTES)
ROWS = {"stand": STAND, "lane": LANE, "corridor": CORRIDOR, "bedding": BEDDING, "food": FOOD}
MARK = (FormRow(("notes",), "Notes", LONG),)


def part_rows(part: str) -> tuple[FormRow, FormRow]:
    """How much a stand is wanted in one part of the season."""
    return tuple(
        FormRow(("wanted", "by_part", part, sit), f"{part}: {sit}s", CHOICE, WANTED, more=True)
        for sit in ("morning", "evening")
    )
