"""A season told, in words: counts beside every share."""

from core.ground.layout import Property
from core.keep.entries import Entry
from core.log.season_told import SeasonTold, ToldRow

HARVEST_HEAD = ("date", "deer", "lb", "age", "tag", "stand", "reported")


def row_text(row: ToldRow, name: str) -> str:
    """Some sits in a line. Args: them; what they are called."""
    hours = f", {row.hours:.0f} h" if row.timed else ""
    some = f" in {row.timed} of them" if 0 < row.timed < row.sits else ""
    said = f"{name}: {row.sits} {'sit' if row.sits == 1 else 'sits'}{hours}{some}"
    if not row.known:
        return f"{said}; what was seen was not written."
    share = row.with_deer / row.known
    return f"{said}; deer on {row.with_deer} of {row.known} ({share:.0%}), {row.deer} in all."


def hours_text(told: SeasonTold) -> str:
    """When deer were seen, by the hour of the clock. Args: the season. Empty without any."""
    total = sum(n for _, n in told.hours)
    each = [
        f"{hour % 12 or 12} {'am' if hour < 12 else 'pm'} {n} ({n / total:.0%})"
        for hour, n in told.hours
    ]
    return f"Seen at: {', '.join(each)}, of {total} with a time." if each else ""


def harvest_row(entry: Entry, ground: Property) -> dict[str, str]:
    """A deer in a table. Args: its entry; the property."""
    pounds, age = entry.get("pounds"), entry.get("age_years")
    by = entry.get("report_by")
    open_ = f"by {by}" if by else "not yet"
    told = (
        entry.date,
        entry.get("sex", "deer"),
        "" if pounds is None else f"{pounds:g}",
        "" if age is None else f"{age:g}",
        entry.get("tag", ""),
        ground.name_of(entry.get("stand")) if entry.get("stand") else "",
        "yes" if entry.get("reported") else open_,
    )
    return dict(zip(HARVEST_HEAD, told, strict=True))
