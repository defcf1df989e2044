"""The owner's own days for work on plots, and the thickets that are cut back in sections."""

import streamlit as st

from core.chores.typed import with_plots, with_thicket, without
from core.ground.layout import Property
from core.ground.store import Opened
from core.ground.yearly.work_rules import PLOT_JOBS
from core.say.work.chores import KINDS_SAID
from pages.ui import frame, keeping


def plots(ground: Property, opened: Opened) -> None:
    """Days for each work on plots. Args: the ground; its file."""
    if not any(area.kind == "food" for area in ground.areas):
        return
    known = dict(ground.work.plots)
    with st.form("work_plots"):
        st.subheader("Plots")
        st.caption("Your own dates, for every plot. What has none is not on the list.")
        for job in PLOT_JOBS:
            days = known.get(job, ("", ""))
            with st.container(horizontal=True):
                for at, word in enumerate(("from", "to")):
                    label = f"{KINDS_SAID[job]} {word}"
                    st.text_input(label, days[at], placeholder="1 Mar", key=f"plot_{job}_{at}")
        st.form_submit_button("Keep these days", on_click=_keep_plots, args=(opened,))


def _keep_plots(opened: Opened) -> None:
    def change(document: dict) -> dict:
        return with_plots(
            document,
            {
                job: (st.session_state[f"plot_{job}_0"], st.session_state[f"plot_{job}_1"])
                for job in PLOT_JOBS
            },
        )

    keeping.keep_now(opened, change, "The days of your plots are kept.")


def thickets(ground: Property, opened: Opened) -> None:
    """Beds that are cut back in sections, and one more. Args: the ground; its file."""
    beds = [area.id for area in ground.areas if area.kind == "bedding"]
    if not beds:
        return
    st.subheader("Thickets in sections")
    st.caption("An over-mature thicket is cut back one section a winter: some cover always stands.")
    for thicket in ground.work.thickets:
        with st.container(horizontal=True, vertical_alignment="center"):
            name = ground.name_of(thicket.feature)
            st.markdown(frame.plain(f"{name}, {thicket.sections} sections"))
            st.button(
                "Take out",
                key=f"out_thicket_{thicket.feature}",
                on_click=lambda id_=thicket.feature, name=name: keeping.keep_now(
                    opened,
                    lambda document: without(document, "thickets", "", id_),
                    f"{name} is taken out.",
                ),
            )
    bed = st.selectbox("Which bed", beds, format_func=ground.name_of, key="thicket_bed")
    sections = st.number_input("Sections", 2, 20, 3, key="thicket_sections")
    st.button(
        "Cut it back in sections",
        key="thicket_add",
        on_click=lambda: keeping.keep_now(
            opened,
            lambda document: with_thicket(document, bed, int(sections)),
            f"{ground.name_of(bed)} is on the list.",
        ),
    )
