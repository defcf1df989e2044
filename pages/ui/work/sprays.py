"""Spraying: the label's limits typed with the day it was read, and hours that keep to them."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.spraying import spray_windows
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.ground.yearly.members import with_work
from core.ground.yearly.work_rules import Label
from core.say.work.sprays import CAUTIONS, CUT_STUMP, spray_lines
from pages.ui import data, frame, keeping, state
from pages.ui.work.visits import weather_for

LIMITS = (
    ("wind_from_mph", "Wind from, mph", 0.0, 40.0),
    ("wind_to_mph", "Wind to, mph", 0.0, 40.0),
    ("gust_mph", "Gusts to, mph", 0.0, 60.0),
    ("rain_free_h", "Dry hours after", 0.0, 72.0),
    ("from_f", "From, °F", -20.0, 130.0),
    ("to_f", "To, °F", -20.0, 130.0),
    ("keep_off_yd", "Keep off water, food, boundary: yards", 0.0, 2000.0),
)


def sprays(ground: Property, path: Path, today: datetime.date) -> None:
    """Limits, trail, hours. Args: the ground; its file; the local date."""
    keeping.show_note()
    st.caption(f"**Take care.** {frame.plain(' '.join(CAUTIONS))}")
    if not ground.corridors:
        st.write("There is no trail to spray. Draw one on the map.")
        return
    trail = st.selectbox(
        "Trail",
        [c.id for c in ground.corridors],
        format_func=ground.name_of,
        key="spray_trail",
        persist_state="session",
    )
    label = _label(ground, path, today)
    weather = weather_for(ground)
    if weather is not None:
        found = spray_windows(data.scene(path), trail, label, weather, state.now_s())
        for when, said in spray_lines(found, ground, weather, label):
            if when:
                st.subheader(when)
            st.markdown(frame.plain(said))
    st.caption(frame.plain(CUT_STUMP))


def _label(ground: Property, path: Path, today: datetime.date) -> Label:
    """The limits as they stand on the screen, kept where that is wanted."""
    kept = ground.work.label
    read = datetime.date.fromisoformat(kept.read_on) if kept.read_on else None
    with st.expander("The label's limits", expanded=read is None):
        day = st.date_input("Label read on", read, max_value=today, key="label_read_on")
        values = {
            name: st.number_input(said, low, high, float(getattr(kept, name)), key=f"label_{name}")
            for name, said, low, high in LIMITS
        }
        st.caption(
            "Type wind, temperature and dry hours as your label has them: what stands here at "
            "first is no label's. Gusts and yards are common practice, no source."
        )
        told = {"read_on": day.isoformat() if day else None, **values}
        opened = data.opened(path)
        if not (opened.read_only or only_looking() or unsaved_drafts(path)):
            st.button(
                "Keep these limits",
                key="label_keep",
                on_click=lambda: keeping.keep_now(
                    opened,
                    lambda document: with_work(document, label=told),
                    "The label's limits are kept.",
                ),
            )
    return Label(**told)
