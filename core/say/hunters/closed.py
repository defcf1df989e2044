"""Closed hours of the weapon's season, said where they end or begin a sit."""

from core.say.words import at_time
from core.sit.dates import closed_s
from core.sit.prepare import Sit


def closed_text(sit: Sit) -> str:
    """Closed hours that cut the sit off, and what that asks; empty where none does.

    Args: the sit. A sit that closed hours leave without a minute is told elsewhere.
    """
    clock, season = sit.clock, sit.clock.season
    if season is None or clock.outside or clock.start_s is None:
        return ""
    said = []
    for begin_s, end_s in closed_s(season.closed, sit.timezone, clock.date):
        hours = f"closed hours, {at_time(sit, begin_s)} to {at_time(sit, end_s)}"
        if begin_s == clock.end_s:
            said.append(f"{hours}: the hunt ends when they begin.")
        elif end_s == clock.start_s:
            said.append(f"{hours}: nobody hunts before they end.")
    return " ".join(f"{season.weapon.capitalize()} has {line}" for line in said)
