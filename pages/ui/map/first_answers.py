"""The first property as it is written from the answers of the first run."""

import datetime
from typing import Any

from core.ground.drawing.first_property import (
    OwnerAnswers,
    Start,
    first_document,
    parts_from_text,
    people_from_text,
)
from core.ground.drawing.settings import day_written
from core.ground.latlon import places_from_text
from core.ground.store import demo_path, new_path, open_property, save_property
from core.keep.log import copy_journal
from core.say.daylight import sunrise_line
from pages.ui import state

EMPTY, COPY = "empty ground", "copy of the demo"


ASKED = (
    "name",
    "from",
    "place",
    "zone",
    "weapon",
    "first",
    "last",
    "before",
    "after",
    "rule",
    "read",
    "range",
    "worry",
    "down",
    "yards",
    "minutes",
    "gear",
    "parts",
    "gust",
    "people",
)


def start_property(typed: dict[str, Any], month_first: bool | None) -> str:
    """Writes the property. Args: what was typed; which way 9/10 is written, if it was said."""
    today = datetime.datetime.fromtimestamp(state.now_s(), datetime.UTC).date()
    answers = OwnerAnswers(
        weapon=typed["weapon"],
        season_first=day_written(typed["first"], "the first day of the season", month_first),
        season_last=day_written(typed["last"], "the last day of the season", month_first),
        before_sunrise_min=typed["before"],
        after_sunset_min=typed["after"],
        rule=typed["rule"],
        checked_on=today.isoformat() if typed["read"] else None,
        range_yd=typed["range"],
        worry_yd=typed["worry"],
        climb_down=typed["down"],
        walk_yd=typed["yards"],
        walk_min=typed["minutes"],
        gear_up_min=typed["gear"],
        parts=parts_from_text(typed["parts"], month_first),
        max_gust_mph=typed["gust"] or None,
        people=people_from_text(typed["people"], typed["range"]),
    )
    demo, name, place = open_property(demo_path()), typed["name"], typed["place"]
    spot = tuple(places_from_text(place, "Point")["coordinates"]) if place.strip() else None
    document = first_document(
        Start(name, spot, typed["zone"], answers), demo.document if typed["from"] == COPY else None
    )
    path = new_path(name)
    save_property(demo, document, path, now_s=int(state.now_s()))
    state.use_ground(path)
    ground = open_property(path).property
    if typed["from"] == COPY:
        copy_journal(demo.property.uid, ground.uid)
    hunters = "; ".join(f"{p.name} to {p.range_yd:.0f} yd" for p in ground.people)
    return (
        f"Started {name.strip()}. Draw on the map below, or bring in a file. "
        "Other seasons, weapons, people and every distance and time: under Settings, below the "
        "map. "
        f"{f'Who hunts here: {hunters}. ' if hunters else ''}"
        f"{sunrise_line(ground.center, ground.timezone, today)}"
    )
