"""The owner's rules of the year: windows, intervals, standing rules, own chores, gear."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.kinds import summer, winter
from core.chores.typed import (
    EACH_YEAR,
    ONCE,
    TIMES,
    day_typed,
    left_out,
    name_left_out,
    window_typed,
    with_gear,
    with_own,
    without,
)
from core.chores.windows import LEAF_OUT, SAW_RESTS_FROM, here
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import Opened
from core.ground.yearly.members import with_work
from pages.ui import data, frame, keeping

NUMBERS = (
    ("cut_every_years", "Cut each trail every so many years", 1, 20),
    ("spray_every_years", "Respray each trail every so many years", 1, 20),
    ("spray_after_days", "Respray from so many days after leaf-out", 0, 200),
    ("spray_by_days", "Respray within so many days after leaf-out", 1, 250),
    ("trim_weeks_before", "Ways in and shooting lanes done so many weeks before the opener", 0, 26),
    ("trim_days", "Begin them so many days before that", 1, 180),
    ("camera_days", "See to cameras every so many days", 1, 3660),
    ("gear_days", "Say so many days before a printed date", 1, 366),
    ("coming_days", "Coming: what opens within so many days", 1, 366),
    ("beside_bed_yd", "Beside a bed: so many yards", 0, 2000),
)
ANYWHERE = "no place of its own"


def rules_view(ground: Property, path: Path, today: datetime.date) -> None:
    """All of them. Args: the ground; its file; the local date."""
    opened = data.opened(path)
    keeping.show_note()
    st.caption("All of these are common practice, no source. Change them as your ground wants it.")
    if not keeping.ready(opened, None):
        return
    if unsaved_drafts(path):
        st.caption("The map has changes that are not saved yet. Save them there first.")
        return
    _windows(ground, opened)
    _own(ground, opened, today)
    _gear(ground, opened, today)
    _left_out(ground, opened)


def _windows(ground: Property, opened: Opened) -> None:
    work = ground.work
    with st.form("work_rules"):
        st.subheader("Windows and intervals")
        st.text_input("Winter work from", f"{winter(ground)(2001)[0]:%m-%d}", key="rule_winter_0")
        st.text_input("Winter work to", f"{winter(ground)(2001)[1]:%m-%d}", key="rule_winter_1")
        st.text_input("Summer look from", f"{summer(ground)(2001)[0]:%m-%d}", key="rule_summer_0")
        st.text_input("Summer look to", f"{summer(ground)(2001)[1]:%m-%d}", key="rule_summer_1")
        leafed = work.leaf_out or here(ground, LEAF_OUT)
        st.text_input("Regrowth has its leaves on", leafed, key="rule_leaf_out")
        for name, label, low, high in NUMBERS:
            st.number_input(label, low, high, int(getattr(work, name)), key=f"rule_{name}")
        st.subheader("Standing rules")
        st.checkbox(
            "No saw in or beside a bed until the season ends", work.saw_rests, key="rule_saw_rests"
        )
        rests = work.saw_rests_from or here(ground, SAW_RESTS_FROM)
        st.text_input("That begins on", rests, key="rule_saw_rests_from")
        st.checkbox(
            "Noisy work with rain coming and a wind that blows to nothing held",
            work.noise_with_rain,
            key="rule_noise_with_rain",
        )
        st.form_submit_button("Keep these rules", on_click=_keep_rules, args=(opened,))


def _keep_rules(opened: Opened) -> None:
    def told(name: str):
        return st.session_state[f"rule_{name}"]

    def change(document: dict) -> dict:
        members = {name: told(name) for name, *_ in NUMBERS}
        members |= {name: told(name) for name in ("saw_rests", "noise_with_rain")}
        for name in ("winter", "summer"):
            members[name] = window_typed(told(f"{name}_0"), told(f"{name}_1"), f"{name} window")
        for name in ("leaf_out", "saw_rests_from"):
            members[name] = day_typed(told(name), name.replace("_", " "))
        return with_work(document, **members)

    keeping.keep_now(opened, change, "Your rules are kept.")


def _places(ground: Property, *, stands: bool = False) -> list[str]:
    groups = [ground.stands]
    if not stands:
        groups += [ground.lanes, ground.corridors, ground.areas, ground.marks]
    return ["", *(f.id for group in groups for f in group)]


def _place(ground: Property, key: str, *, stands: bool = False) -> str:
    return st.selectbox(
        "Where",
        _places(ground, stands=stands),
        format_func=lambda id_: ground.name_of(id_) if id_ else ANYWHERE,
        key=key,
    )


def _own(ground: Property, opened: Opened, today: datetime.date) -> None:
    st.subheader("Your own chores")
    for own in ground.work.own:
        args = (opened, "own", own.name, own.feature or "")
        _listed(own.name, own.feature, ground, f"own_{own.name}_{own.feature}", args)
    name = st.text_input("What is to be done", key="own_name")
    feature = _place(ground, "own_place")
    time = st.segmented_control("When", TIMES, default=ONCE, required=True, key="own_time")
    if time == ONCE:
        values: tuple = (st.date_input("On", today, key="own_on"),)
    elif time == EACH_YEAR:
        values = (
            st.text_input("From", placeholder="1 Mar", key="own_from"),
            st.text_input("To", placeholder="15 Mar", key="own_to"),
        )
    else:
        values = (st.number_input("Days", 1, 3660, 30, key="own_days"),)
    st.button(
        "Add it",
        key="own_add",
        on_click=lambda: keeping.keep_now(
            opened,
            lambda document: with_own(document, name, feature, time, values),
            f"{name} is on the list.",
        ),
    )


def _gear(ground: Property, opened: Opened, today: datetime.date) -> None:
    st.subheader("Printed dates")
    st.caption("Harnesses, relief straps, stand straps: the date that is printed on them.")
    for gear in ground.work.gear:
        args = (opened, "gear", gear.name, gear.feature or "")
        said = f"{gear.name}, by {gear.replace_by}"
        _listed(said, gear.feature, ground, f"gear_{gear.name}_{gear.feature}", args)
    name = st.text_input("What it is", placeholder="Nell's harness", key="gear_name")
    feature = _place(ground, "gear_place", stands=True)
    by = st.date_input("Replace by", today, key="gear_by")
    st.button(
        "Keep this date",
        key="gear_add",
        on_click=lambda: keeping.keep_now(
            opened, lambda document: with_gear(document, name, feature, by), f"{name} is kept."
        ),
    )


def _listed(said: str, feature: str | None, ground: Property, key: str, args: tuple) -> None:
    opened, member, name, where = args
    with st.container(horizontal=True, vertical_alignment="center"):
        place = f" ({ground.name_of(feature)})" if feature else ""
        st.markdown(frame.plain(f"{said}{place}"))
        st.button(
            "Take out",
            key=f"out_{key}",
            on_click=lambda: keeping.keep_now(
                opened,
                lambda document: without(document, member, name, where),
                f"{name} is taken out.",
            ),
        )


def _left_out(ground: Property, opened: Opened) -> None:
    if not ground.work.left_out:
        return
    st.subheader("Not done on this ground")
    for chore_key in ground.work.left_out:
        with st.container(horizontal=True, vertical_alignment="center"):
            st.markdown(frame.plain(name_left_out(chore_key, ground)))
            st.button(
                "List it again",
                key=f"again_{chore_key}",
                on_click=_listed_again,
                args=(opened, chore_key, False),
            )


def _listed_again(opened: Opened, chore_key: str, out: bool) -> None:
    done = "It is left out from now on." if out else "It is listed again."
    keeping.keep_now(opened, lambda document: left_out(document, chore_key, out=out), done)


def leave_out_button(chore_key: str, path: Path) -> None:
    """Leaves a chore out on this ground, where that can be kept. Args: its key; the file."""
    opened = data.opened(path)
    if only_looking() or opened.read_only or unsaved_drafts(path):
        return
    st.button(
        "Not here",
        key=f"leave_{chore_key}",
        on_click=_listed_again,
        args=(opened, chore_key, True),
    )
