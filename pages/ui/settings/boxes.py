"""What is asked of a season, a weapon, a hunter, a part: its boxes."""

from collections.abc import Callable

import streamlit as st

from core.ground.drawing.settings import PARTS, PEOPLE, SEASONS, WEAPONS, closed_told, listed
from core.ground.store import Opened
from pages.ui import frame
from pages.ui.day_order import ask_order

USUAL_YD = {"bow": 30, "crossbow": 40, "muzzleloader": 100, "gun": 100}  # common practice


def _season(opened: Opened, item: dict, key: str) -> None:
    st.text_input("Weapon", item.get("weapon", "bow"), key=f"{key}_weapon")
    st.text_input("First day, like 13 Sep", item.get("first", ""), key=f"{key}_first")
    st.text_input("Last day, like 4 Jan", item.get("last", ""), key=f"{key}_last")
    ask_order(f"{key}_order")
    _minutes("Legal light begins, minutes before sunrise", item, "before_sunrise_min", key)
    _minutes("Legal light ends, minutes after sunset", item, "after_sunset_min", key)
    st.text_area(
        "Closed hours, one a line, like Sun 09:30-12:30",
        closed_told(item.get("closed") or []),
        key=f"{key}_closed",
    )
    st.checkbox("The rule asks for orange", bool(item.get("orange")), key=f"{key}_orange")
    st.text_area("The rule, and where you read it", item.get("rule", ""), key=f"{key}_rule")
    read = item.get("checked_on")
    st.checkbox(f"Read today{f' (last: {read})' if read else ''}", key=f"{key}_read")
    st.caption(f"{opened.property.timezone}. 30 minutes is a common rule, not yours: look it up.")


def _minutes(label: str, item: dict, name: str, key: str) -> None:
    st.number_input(label, -120, 120, int(item.get(name, 30)), key=f"{key}_{name}")


def _weapon(opened: Opened, item: dict, key: str) -> None:  # noqa: ARG001 (as its fellows)
    st.text_input("Weapon", item.get("name", ""), key=f"{key}_name")
    _yards("Range, yards; 0 for none of its own", item.get("range_yd"), f"{key}_range_yd")
    st.checkbox("Give every stand this range with it", key=f"{key}_everywhere")
    usual = ", ".join(f"{name} {yards}" for name, yards in USUAL_YD.items())
    st.caption(
        f"The smallest of hunter's, weapon's and stand's range counts. Often used: {usual}; "
        "common practice, no source. Your own practice decides."
    )


def _yards(label: str, value: float | None, key: str) -> None:
    st.number_input(label, 0, 1000, int(value or 0), key=key)


def _person(opened: Opened, item: dict, key: str) -> None:
    st.text_input("Name", item.get("name", ""), key=f"{key}_name")
    st.text_input("Phone", item.get("phone", ""), key=f"{key}_phone")
    st.checkbox("A beginner: seated first", bool(item.get("beginner")), key=f"{key}_beginner")
    st.number_input(
        "Climbs to, feet; 0 for any height",
        0,
        100,
        int(item.get("climbs_ft") or 0),
        key=f"{key}_climbs_ft",
    )
    own = item.get("range_yd")
    own = 30.0 if own is None and item and item.get("ranges_yd") is None else own
    _yards("Range with any weapon, yards; 0 for no limit", own, f"{key}_range_yd")
    by_weapon = {k.casefold(): v for k, v in (item.get("ranges_yd") or {}).items()}
    for weapon in listed(opened.document, WEAPONS):
        name = weapon["name"]
        _yards(
            frame.plain(f"Range with {name}, yards; 0 as with any"),
            by_weapon.get(name.casefold()),
            f"{key}_with_{name}",
        )


def _part(opened: Opened, item: dict, key: str) -> None:  # noqa: ARG001 (as its fellows)
    st.text_input("Name", item.get("name", ""), key=f"{key}_name")
    st.text_input("First day, like 20 Oct", item.get("first", ""), key=f"{key}_first")
    st.text_input("Last day, like 25 Nov", item.get("last", ""), key=f"{key}_last")
    ask_order(f"{key}_order")
    st.number_input(
        "Days until a stand has rested",
        0.5,
        60.0,
        float(item.get("rest_days", 3.0)),
        0.5,
        key=f"{key}_rest_days",
    )
    st.checkbox("Deer walk all day", bool(item.get("all_day")), key=f"{key}_all_day")
    st.caption("3 days is common practice, no source.")


BOXES: dict[str, Callable[[Opened, dict, str], None]] = {
    SEASONS: _season,
    WEAPONS: _weapon,
    PEOPLE: _person,
    PARTS: _part,
}
