"""What a property file may hold: one table a kind of feature, and those of its rules.

Ranges keep out slips of the pen, and numbers that no person could mean; defaults are the
design's, most of them common practice with no source and settings of the user.
"""

import zoneinfo
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from core.ground import fields as f
from core.ground import layout
from core.ground.fields import Fault, Field
from core.ground.yearly.work_rules import WorkRules, work_rules

POINT, LINE, POLYGON = "Point", "LineString", "Polygon"
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SEAT_HEIGHT_FT = {"ground-blind": 0.0, "box": 10.0}
GUEST_SEATS = ("ladder", "box", "ground-blind")
SET_UP_MIN = {"climber": 25.0, "saddle": 25.0}


@dataclass(frozen=True)
class Kind:
    """A kind of feature: shapes it may have, its properties, and its model."""

    shapes: tuple[str, ...]
    fields: tuple[Field, ...]
    build: Callable[..., Any]


def _ranges_yd(value: Any) -> layout.ByWeapon:
    if not isinstance(value, dict):
        raise Fault(f"is {f.shown(value)}, not an object", 'Write it like {"bow": 30}.')
    yards = f.number(1, 1000)
    names = [name.casefold() for name in value]
    for name in value:
        if names.count(name.casefold()) > 1:
            raise Fault(f"has {f.shown(name)} twice", "Give each weapon one range.")
    return tuple((name, f.named(yards, far, name)) for name, far in value.items())


def _person(**values) -> layout.Person:
    return layout.Person(**{**values, "ranges_yd": values["ranges_yd"] or ()})


def _swirls(**values) -> layout.Swirls | None:
    # an empty object says nothing, and must not mean every wind
    return layout.Swirls(**values) if any(v is not None for v in values.values()) else None


def _by_part(value: Any):
    if not isinstance(value, dict):
        raise Fault(f"is {f.shown(value)}, not an object", "Write part names and words in { }.")
    pair = f.record(_WANTED, lambda morning, evening: (morning, evening))
    return tuple((name, f.named(pair, words, name)) for name, words in value.items())


def _closed(**values) -> layout.Closed:
    closed = layout.Closed(**values)
    if closed.to_time <= closed.from_time:
        raise Fault(
            f"run from {closed.from_time} to {closed.to_time}, so they end before they begin",
            "Give the earlier time first; hours over midnight need two entries.",
        )
    return closed


def _air(**values) -> layout.AirRules:
    air = layout.AirRules(**values)
    if air.clean_beyond_yd < air.wrong_within_yd:
        raise Fault(
            f"has clean_beyond_yd {air.clean_beyond_yd:g} under wrong_within_yd "
            f"{air.wrong_within_yd:g}",
            "Make clean_beyond_yd the larger of the two.",
        )
    return air


def _stand(**values) -> layout.Stand:
    slope = [name for name in ("downhill_deg", "grade_pct") if values[name] is not None]
    if len(slope) == 1:
        given, other = slope[0], "grade_pct" if slope[0] == "downhill_deg" else "downhill_deg"
        raise Fault(
            f"gives {given} {values[given]:g} without {other}",
            f"Add {other}, or take {given} out: a slope needs both.",
        )
    return layout.Stand(**values)


def time_zone(value: Any) -> str:
    """A time zone of the tz database, by its name. Raises: Fault."""
    name = f.text(value)
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        raise Fault(
            f"is {f.shown(name)}, a time zone nobody knows",
            "Write a name like America/New_York or America/Chicago.",
        ) from None
    return name


_WANTED = (
    Field("morning", f.choice(layout.WANTED)),
    Field("evening", f.choice(layout.WANTED)),
)
_TURN = (
    Field("from_deg", f.directions, needed=True),
    Field("turn_deg", f.number(-180, 180), needed=True),
    Field("felt", f.whole(0, 100_000)),
    Field("of", f.whole(0, 100_000)),
    Field("since", f.date),
)
_STAND = (
    Field("seat", f.choice(layout.SEATS), "hang-on"),
    Field("height_ft", f.number(0, 100), lambda got: SEAT_HEIGHT_FT.get(got["seat"], 16.0)),
    Field("cover", f.choice(layout.COVERS), "timber"),
    Field("range_yd", f.number(1, 1000), 30.0),
    Field("lies", f.choice(layout.LIES), "flat"),
    Field("downhill_deg", f.number(0, 360)),
    Field("grade_pct", f.number(0, 200)),
    Field(
        "swirls",
        f.record(
            (Field("from_deg", f.directions), Field("under_mph", f.number(0.1, 100))),
            _swirls,
        ),
    ),
    Field("turns", f.listed(f.record(_TURN, layout.FeltTurn), "turns"), ()),
    Field(
        "wanted",
        f.record((*_WANTED, Field("by_part", _by_part, ())), layout.Wanted),
        layout.Wanted(),
    ),
    Field("edge_ok", f.yes_no, False),
    Field("guest_ok", f.yes_no, lambda got: got["seat"] in GUEST_SEATS),
    Field("set_up_min", f.number(0, 240), lambda got: SET_UP_MIN.get(got["seat"], 0.0)),
    Field("max_gust_mph", f.number(1, 150)),
    Field("closed", f.yes_no, False),
    Field("ranges_yd", _ranges_yd, ()),
)
_LANE = (
    Field("stands", f.listed(f.text, "stand ids"), ()),
    Field("way", f.choice(layout.WAYS), "both"),
    Field("cover", f.choice(layout.COVERS), "edge"),
    Field("footing", f.choice(layout.FOOTINGS)),
    Field("minutes", f.number(0.1, 600)),
    Field("by", f.choice(layout.GOING_BY), "foot"),
)
_CORRIDOR = (
    Field("width_ft", f.number(0.1, 200), 3.0),
    Field("use", f.choice(layout.USES), "both"),
    Field("cut_on", f.date),
    Field("sprayed_on", f.date),
    Field("checked_on", f.date),
)
_FOOD = (
    Field("held", f.choice(layout.HELD), "night"),
    Field("months", f.months, layout.ALL_MONTHS),
)
_BEDDING = (
    Field("held", f.choice(layout.HELD), "day"),
    Field("months", f.months, layout.ALL_MONTHS),
    Field("with_wind_deg", f.directions, layout.ALL_ROUND),
    Field("who", f.text),
)
_MARK = Kind((POINT, LINE, POLYGON), (), layout.Mark)
MARKS = ("boundary", "no-shoot", "draw", "truck", "water", "sign", "camera", "other")
KINDS = {
    "stand": Kind((POINT,), _STAND, _stand),
    "lane": Kind((LINE,), _LANE, layout.Lane),
    "corridor": Kind((LINE,), _CORRIDOR, layout.Corridor),
    "bedding": Kind((POLYGON,), _BEDDING, layout.Area),
    "food": Kind((POLYGON,), _FOOD, layout.Area),
    **dict.fromkeys(MARKS, _MARK),
}

_OFFSET = f.number(-120, 120)
_SEASON = (
    Field("weapon", f.filled, needed=True),
    Field("first", f.month_day, needed=True),
    Field("last", f.month_day, needed=True),
    Field("before_sunrise_min", _OFFSET, 30.0),
    Field("after_sunset_min", _OFFSET, 30.0),
    Field(
        "closed",
        f.listed(
            f.record(
                (
                    Field(
                        "days", f.listed(f.choice(DAYS), "days like Sun", some=True), needed=True
                    ),
                    Field("from", f.clock, needed=True, attribute="from_time"),
                    Field("to", f.clock, needed=True, attribute="to_time"),
                ),
                _closed,
            ),
            "closed hours",
        ),
        (),
    ),
    Field("orange", f.yes_no, False),
    Field("rule", f.text, ""),
    Field("checked_on", f.date),
)
_PART = (
    Field("name", f.filled, needed=True),
    Field("first", f.month_day, needed=True),
    Field("last", f.month_day, needed=True),
    Field("rest_days", f.number(0.1, 365), 3.0),
    Field("all_day", f.yes_no, False),
)
_SIT = (
    Field("morning_end", f.clock, "10:30"),
    Field("evening_h", f.number(0.25, 12), 3.5),
    Field("settle_min", f.number(0, 240), 30.0),
    Field("gear_up_min", f.number(0, 240), 10.0),
    Field("walk_mph", f.number(0.2, 6), 1.5),
    # common practice, no source
    Field("out_stay_within_yd", f.number(0, 3520), 100.0),
    Field("spot_off_bed_yd", f.number(0, 3520), 60.0),
    Field("spot_off_seat_yd", f.number(0, 3520), 60.0),
    Field("apart_yd", f.number(0, 2000), 150.0),
    Field("pass_yd", f.number(0, 500), 50.0),
)
_AIR = (
    Field("wrong_within_yd", f.number(10, 3520), 250.0),
    Field("clean_beyond_yd", f.number(10, 3520), 500.0),
    Field("cant_call_below_mps", f.number(0, 10), 1.3),
    Field("slope_wind_mps", f.number(0, 10), 0.7),
    Field("slope_fades_at_mps", f.number(0.1, 50), 5.4),
    Field("lee_deg", f.number(5, 60), 15.0),
    # common practice, no source
    Field("trail_within_yd", f.number(0, 3520), 75.0),
    Field("trail_shot_times", f.number(0, 100), 3.5),
    Field("turn_min", f.whole(0, 120), 20),
    Field("turn_told_deg", f.number(0, 180), 20.0),
    Field("forecast_miss_times", f.number(0.5, 3), 1.0),
)
# of the criticism; common practice, no source
_LIMITS = (
    Field("close_shot_yd", f.number(0, 1000), 10.0),
    Field("widest_ft", f.number(0.1, 200), 3.0),
    Field("narrowest_ft", f.number(0, 200), 2.0),
    Field("no_exit_over_yd", f.number(1, 3520), 300.0),
    Field("trail_within_yd", f.number(0, 3520), 50.0),
    Field("bed_acres", f.number(0.1, 10_000), 10.0),
    Field("truck_off_bed_yd", f.number(0, 3520), 250.0),
    Field("walk_dark_yd", f.number(0, 3520), 60.0),
    Field("walk_day_yd", f.number(0, 3520), 100.0),
)
_PERSON = (
    Field("name", f.filled, needed=True),
    Field("ranges_yd", _ranges_yd),
    # a person of a file that knows no ranges by weapon shoots 30 yd with any, as ever
    Field("range_yd", f.number(1, 1000), lambda got: 30.0 if got["ranges_yd"] is None else None),
    Field("phone", f.text, ""),
    Field("beginner", f.yes_no, False),
    Field("climbs_ft", f.number(0, 100)),
)
_WEAPON = (
    Field("name", f.filled, needed=True),
    Field("range_yd", f.number(1, 1000)),
)
PROPERTY = (
    Field("uid", f.filled, ""),
    Field("revision", f.whole(0, 1_000_000_000), 1),
    Field("saved_utc", f.text),
    Field("name", f.filled, needed=True),
    Field("timezone", time_zone, needed=True),
    Field("elevation_m", f.number(-450, 9000), 0.0),
    Field("seasons", f.listed(f.record(_SEASON, layout.Season), "seasons"), ()),
    Field("parts", f.listed(f.record(_PART, layout.Part), "parts of the season"), ()),
    Field("sit", f.record(_SIT, layout.SitRules), layout.SitRules()),
    Field("air", f.record(_AIR, _air), layout.AirRules()),
    Field("limits", f.record(_LIMITS, layout.CriticismLimits), layout.CriticismLimits()),
    Field("people", f.listed(f.record(_PERSON, _person), "people"), ()),
    Field("work", work_rules, WorkRules()),
    Field("weapons", f.listed(f.record(_WEAPON, layout.Weapon), "weapons"), ()),
    Field("accepted", f.listed(f.text, "what was accepted"), ()),
)
