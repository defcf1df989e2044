"""The plan of a sit as an entry of the log: what was told, on which wind, before it began."""

from core.answer.one_sit import StandSit
from core.keep.entries import SIT, Entry, entry_of
from core.sit.prepare import Sit


def planned_sit(sit: Sit, own: StandSit, told: dict, weather: str | None, now: str) -> Entry:
    """A sit that somebody means to sit.

    Args: the sit; the stand in it; what is told of the stand, as `--json` tells it; key of
    the kept weather table; the ISO time. Returns: an entry that is marked as planned. How
    each place lies is left out of what was told: it follows from the map and the weather.
    """
    source = sit.weather.source or sit.weather.kind
    told = {name: value for name, value in told.items() if name != "zones"} | {"source": source}
    way_in, way_out = told.get("way_in") or {}, told.get("way_out") or {}
    values = {
        "who": sit.hunter.name if sit.hunter else None,
        "stand": own.stand.id,
        "sit": sit.clock.sit,
        "from": way_in.get("seated_by"),
        "to": told.get("leave_by"),
        "way_in": way_in.get("lane"),
        "way_out": way_out.get("lane"),
        "told": told,
        "wind": sit.weather.source[:200] or None,
        "weather": weather,
        "planned": True,
    }
    given = {name: value for name, value in values.items() if value is not None}
    return entry_of(SIT, sit.clock.date.isoformat(), given, now=now)
