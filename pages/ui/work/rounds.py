"""The round: jobs chosen for a day, the walk past them, and its sheet to print."""

import datetime

import streamlit as st

from core.chores.due import DONE, chores
from core.chores.rounds import due_jobs, first_that_fit, round_of, truck_spots
from core.ground.layout import Property
from core.say.work.chores import title
from core.say.work.rounds import ORDER, care_of, leg_text, stop_said, summed_up, to_bring
from core.show.yearly.round_sheet import round_sheet
from pages.ui import frame, state
from pages.ui.log import kept

SHORTEST = "the one of the shortest walk"


def the_round(ground: Property, today: datetime.date) -> None:
    """Asks for the jobs, and tells the walk. Args: the ground; the local date."""
    day = st.date_input("For", value=today, min_value=today, key="round_day")
    found = {c.key: c for c in chores(ground, kept.entries_of(ground), day) if c.state != DONE}
    keys = st.multiselect(
        "Jobs",
        list(found),
        default=[c.key for c in first_that_fit(due_jobs(list(found.values()), day))],
        format_func=lambda key: title(found[key], ground),
        key=f"round_jobs_{day}",
    )
    start = st.selectbox(
        "The truck stands at",
        ["", *truck_spots(ground)],
        format_func=lambda id_: ground.name_of(id_) if id_ else SHORTEST,
        key="round_start",
    )
    if not keys:
        st.caption("Choose a job: what is due stands here by itself.")
        return
    jobs = [c for key, c in found.items() if key in keys]
    walk = state.kept_while(
        "work_round", (ground, jobs, start), lambda: round_of(ground, jobs, start or None)
    )
    st.markdown(frame.plain(summed_up(walk, ground)))
    st.download_button(
        "The round on one sheet",
        lambda: round_sheet(walk, ground, day, state.now_s()).encode(),
        f"round-{day.isoformat()}.html",
        "text/html",
        key="round_sheet",
        on_click="ignore",
    )
    _told(walk, ground, day)


def _told(walk, ground: Property, day: datetime.date) -> None:
    if things := to_bring(walk):
        st.markdown(f"**Bring:** {frame.plain(', '.join(things))}.")
    st.caption(f"**Take care.** {frame.plain(' '.join(care_of(walk, ground)))}")
    for number, stop in enumerate(walk.stops, 1):
        said = stop_said(stop, ground, day)
        jobs = "".join(
            f"  \n– **{frame.plain(job)}** {frame.plain(about)}" for job, about in said.jobs
        )
        st.markdown(f"**{number}. {frame.plain(said.name)}** {frame.plain(said.walk)}{jobs}")
    st.markdown(
        f"**Back at {frame.plain(ground.name_of(walk.start))}.** "
        f"{frame.plain(leg_text(walk.back, ground))}"
    )
    if walk.nowhere:
        named = ", ".join(title(job, ground) for job in walk.nowhere)
        st.markdown(f"**At no place of its own:** {frame.plain(named)}.")
    st.caption(ORDER)
