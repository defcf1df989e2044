"""What was typed of a season, a weapon, a hunter, a part, as the file has it."""

import datetime
from typing import Any
from zoneinfo import ZoneInfo

from core.ground.drawing.settings import PARTS, SEASONS, WEAPONS, closed_written, day_written
from pages.ui import data, state
from pages.ui.day_order import month_first


def members_typed(what: str, typed: dict[str, Any]) -> dict[str, Any]:
    """What was typed as the file has it. Raises: BadProperty for a day that is none."""
    if what == SEASONS:
        return {
            **{k: typed[k] for k in ("before_sunrise_min", "after_sunset_min", "orange", "rule")},
            "weapon": typed["weapon"].strip(),
            "first": _day(typed, "first"),
            "last": _day(typed, "last"),
            "closed": closed_written(typed["closed"]),
            **({"checked_on": _today()} if typed["read"] else {}),
        }
    name = {"name": typed["name"].strip()}
    if what == PARTS:
        days = {k: _day(typed, k) for k in ("first", "last")}
        return {**name, **days, "rest_days": typed["rest_days"], "all_day": typed["all_day"]}
    own = {"range_yd": float(typed["range_yd"]) or None}
    if what == WEAPONS:
        return {**name, **own}
    ranges = {
        k.removeprefix("with_"): float(v) for k, v in typed.items() if k.startswith("with_") and v
    }
    return {
        **name,
        **own,
        "phone": typed["phone"].strip(),
        "beginner": typed["beginner"],
        "climbs_ft": float(typed["climbs_ft"]) or None,
        "ranges_yd": ranges,
    }


def _day(typed: dict[str, Any], name: str) -> str:
    """A day as typed; which of two it is, is asked once."""
    return day_written(typed[name], f"the {name} day", month_first(typed.get("order")))


def _today() -> str:
    zone = ZoneInfo(data.opened(state.ground_path()).property.timezone)
    return datetime.datetime.fromtimestamp(state.now_s(), zone).date().isoformat()
