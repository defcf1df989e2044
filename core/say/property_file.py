"""What was read from a property file, in lines for a person to check."""

from collections import Counter

from core.ground.fields import printable
from core.ground.kinds import KINDS
from core.ground.layout import Property, Season
from core.ground.store import Opened

PLURALS = {
    "bedding": "bedding areas",
    "food": "food areas",
    "boundary": "boundaries",
    "no-shoot": "no-shoot areas",
    "water": "waters",
    "other": "other things",
}
SINGLES = {
    "bedding": "bedding area",
    "food": "food area",
    "no-shoot": "no-shoot area",
    "other": "other thing",
}


def property_lines(opened: Opened) -> list[str]:
    """What a property file holds, what was mended, and whether legal light is confirmed."""
    prop = opened.property
    lon, lat = prop.center
    lines = [
        f"{printable(prop.name, 200)}: revision {prop.revision}, {prop.timezone}, "
        f"center {lat:.4f}, {lon:.4f} (latitude, longitude)",
        f"features: {_counts(prop)}",
        *[_season_line(season) for season in prop.seasons],
    ]
    if not prop.seasons:
        lines.append("no season: every sit is outside season")
    if opened.read_only:
        lines.append("read-only")
    return lines + [f"note: {note}" for note in opened.mended]


def _counts(prop: Property) -> str:
    kinds = [area.kind for area in prop.areas] + [mark.kind for mark in prop.marks]
    counts = Counter(
        {"stand": len(prop.stands), "lane": len(prop.lanes), "corridor": len(prop.corridors)}
    )
    counts.update(kinds)
    told = [_count(counts[kind], kind) for kind in KINDS if counts[kind]]
    return ", ".join(told) or "none"


def _count(number: int, kind: str) -> str:
    word = SINGLES.get(kind, kind) if number == 1 else PLURALS.get(kind, f"{kind}s")
    return f"{number} {word}"


def _season_line(season: Season) -> str:
    light = (
        f"{season.before_sunrise_min:g} min before sunrise to "
        f"{season.after_sunset_min:g} after sunset"
    )
    confirmed = (
        f"confirmed {season.checked_on}"
        if season.checked_on
        else "not confirmed: check your state's rule"
    )
    return (
        f"{printable(season.weapon)}, {season.first} to {season.last}: "
        f"legal light {light}, {confirmed}"
    )
