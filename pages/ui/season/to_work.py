"""Season winds: what was found, put on the list of work."""

from collections.abc import Sequence

import streamlit as st

from core.chores.jobs import with_job
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.looking import only_looking
from core.ground.yearly.work_rules import PlannedJob
from pages.ui import data, keeping, state


def put_on_list(jobs: Sequence[PlannedJob], key: str) -> None:
    """Some of the jobs found go on the Work screen. Args: the jobs; a key of their own."""
    opened = data.opened(state.ground_path())
    keeping.show_note()
    if only_looking() or opened.read_only or not jobs:
        return
    if unsaved_drafts(opened.path):
        st.caption("The map has changes that are not saved yet: jobs can be put on a list then.")
        return
    there = {job.name for job in opened.property.work.jobs}
    free = {job.name: job for job in jobs if job.name not in there}
    if not free:
        st.caption("All of these are on the list of work.")
        return
    chosen = st.multiselect("Put on the list of work", list(free), key=f"{key}_chosen")
    st.button(
        "Put on the list",
        key=f"{key}_put",
        disabled=not chosen,
        on_click=lambda: keeping.keep_now(
            opened,
            lambda document: _with_all(document, [free[name] for name in chosen]),
            "On the list of work. They leave it when the map shows them done.",
        ),
    )
    if not chosen:
        st.caption("Choose a job above first.")


def _with_all(document: dict, jobs: list[PlannedJob]) -> dict:
    for job in jobs:
        document = with_job(document, job)
    return document
