"""Seasons, weapons, people and parts: one is chosen, changed or taken out, or a new one made."""

import datetime
from collections.abc import Callable
from typing import Any
from zoneinfo import ZoneInfo

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.settings import (
    PARTS,
    PEOPLE,
    SEASONS,
    WEAPONS,
    closed_told,
    closed_written,
    day_written,
    listed,
)
from core.ground.store import Opened
from pages.ui import data, frame, state
from pages.ui.day_order import ask_order, month_first
from pages.ui.settings.trying import turn, wait_for

NEW = "a new one"
FAULT = "setting_fault"
ONE = {SEASONS: "season", WEAPONS: "weapon", PEOPLE: "hunter", PARTS: "part"}
USUAL_YD = {"bow": 30, "crossbow": 40, "muzzleloader": 100, "gun": 100}  # common practice


def list_view(opened: Opened, what: str) -> None:
    """One of the lists. Args: the ground as drawn; which list."""
    items = listed(opened.document, what)
    names = [*map(_name_of(what), items), NEW]
    at = st.selectbox(
        f"Which {ONE[what]}",
        range(len(names)),
        format_func=lambda i: frame.plain(names[i]),
        key=f"setting_which_{what}_{turn()}",
    )
    item = items[at] if at < len(items) else {}
    place = at if at < len(items) else None
    with st.form(f"setting_{what}_{at}_{turn()}", border=False):
        _FIELDS[what](opened, item, f"{what}_{at}_{turn()}")
        if fault := st.session_state.pop(FAULT, ""):
            st.error(frame.plain(fault))
        st.form_submit_button(
            "Try it", on_click=_asked, args=(what, place, f"{what}_{at}_{turn()}"), type="primary"
        )
    if place is not None:
        told = f"Take out {ONE[what]} {names[at]}"
        st.button(
            "Take it out",
            key=f"setting_out_{what}",
            on_click=wait_for,
            args=(told, "item"),
            kwargs={"what": what, "at": place, "members": None},
        )


def _name_of(what: str) -> Callable[[dict], str]:
    if what == SEASONS:
        return lambda s: f"{s['weapon']}, {s['first']} to {s['last']}"
    return lambda item: str(item["name"])


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


_FIELDS: dict[str, Callable[[Opened, dict, str], None]] = {
    SEASONS: _season,
    WEAPONS: _weapon,
    PEOPLE: _person,
    PARTS: _part,
}


def _asked(what: str, at: int | None, key: str) -> None:
    """Makes what was typed a change that waits, or leaves word why not."""
    typed = {
        k.removeprefix(f"{key}_"): v
        for k, v in st.session_state.items()
        if isinstance(k, str) and k.startswith(f"{key}_")
    }
    try:
        members = _members(what, typed)
    except StandWindError as fault:
        st.session_state[FAULT] = fault.text()
        return
    name = members.get("name") or members.get("weapon") or ""
    word = "A new" if at is None else "Change the"
    if typed.get("everywhere") and members.get("range_yd"):
        told = f"{word} weapon: {name}, {members['range_yd']:g} yd at every stand"
        wait_for(told, "range", what=what, at=at, members=members)
        return
    wait_for(f"{word} {ONE[what]}: {name}", "item", what=what, at=at, members=members)


def _members(what: str, typed: dict[str, Any]) -> dict[str, Any]:
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
