"""The owner's rules of the year: windows, intervals, standing rules, own chores, gear."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.kinds import records, summer, winter
from core.chores.typed import day_typed, window_typed
from core.chores.windows import LEAF_OUT, SAW_RESTS_FROM, here
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.layout import Property
from core.ground.store import Opened
from core.ground.yearly.members import with_work
from pages.ui import data, keeping
from pages.ui.work.own import found_jobs, not_done_here, own_chores, printed_dates
from pages.ui.work.plots import plots, thickets

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
    ("lee_within_yd", "Along the downwind side of a bed: within so many yards", 0, 1000),
)


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
    plots(ground, opened)
    thickets(ground, opened)
    own_chores(ground, opened, today)
    printed_dates(ground, opened, today)
    found_jobs(ground, opened)
    not_done_here(ground, opened)


def _windows(ground: Property, opened: Opened) -> None:
    work = ground.work
    with st.form("work_rules"):
        st.subheader("Windows and intervals")
        st.text_input("Winter work from", f"{winter(ground)(2001)[0]:%m-%d}", key="rule_winter_0")
        st.text_input("Winter work to", f"{winter(ground)(2001)[1]:%m-%d}", key="rule_winter_1")
        st.text_input("Summer look from", f"{summer(ground)(2001)[0]:%m-%d}", key="rule_summer_0")
        st.text_input("Summer look to", f"{summer(ground)(2001)[1]:%m-%d}", key="rule_summer_1")
        first, last = records(ground)(2001)
        st.text_input("Jaws and records from", f"{first:%m-%d}", key="rule_records_0")
        st.text_input("Jaws and records to", f"{last:%m-%d}", key="rule_records_1")
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
        for name in ("winter", "summer", "records"):
            members[name] = window_typed(told(f"{name}_0"), told(f"{name}_1"), f"{name} window")
        for name in ("leaf_out", "saw_rests_from"):
            members[name] = day_typed(told(name), name.replace("_", " "))
        return with_work(document, **members)

    keeping.keep_now(opened, change, "Your rules are kept.")
