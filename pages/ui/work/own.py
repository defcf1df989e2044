"""The owner's own chores and printed dates, and what is not done on this ground."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.typed import (
    EACH_YEAR,
    ONCE,
    TIMES,
    left_out,
    name_left_out,
    with_gear,
    with_own,
    without,
)
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.store import Opened
from pages.ui import data, frame, keeping

ANYWHERE = "no place of its own"


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


def own_chores(ground: Property, opened: Opened, today: datetime.date) -> None:
    """The owner's own chores, and one more. Args: the ground; its file; the local date."""
    st.subheader("Your own chores")
    for own in ground.work.own:
        _listed(ground, opened, "own", own.name, own.feature)
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


def printed_dates(ground: Property, opened: Opened, today: datetime.date) -> None:
    """Dates printed on gear, and one more. Args: as `own_chores`."""
    st.subheader("Printed dates")
    st.caption("Harnesses, relief straps, stand straps: the date that is printed on them.")
    for gear in ground.work.gear:
        said = f"{gear.name}, by {gear.replace_by}"
        _listed(ground, opened, "gear", gear.name, gear.feature, said)
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


def _listed(
    ground: Property, opened: Opened, member: str, name: str, feature: str | None, said: str = ""
) -> None:
    """A line with a button that takes it out."""
    with st.container(horizontal=True, vertical_alignment="center"):
        place = f" ({ground.name_of(feature)})" if feature else ""
        st.markdown(frame.plain(f"{said or name}{place}"))
        st.button(
            "Take out",
            key=f"out_{member}_{name}_{feature}",
            on_click=lambda: keeping.keep_now(
                opened,
                lambda document: without(document, member, name, feature or ""),
                f"{name} is taken out.",
            ),
        )


def found_jobs(ground: Property, opened: Opened) -> None:
    """What Season winds found and put on the list of work. Args: as `own_chores`."""
    if not ground.work.jobs:
        return
    st.subheader("Jobs from Season winds")
    st.caption("A job leaves the list when the map shows it done, or here.")
    for job in ground.work.jobs:
        _listed(ground, opened, "jobs", job.name, None)


def not_done_here(ground: Property, opened: Opened) -> None:
    """What is left out on this ground. Args: the ground; its file."""
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
