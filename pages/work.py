"""Work: what the ground needs in the rest of the year, what is due, and when to go in."""

from pathlib import Path

import streamlit as st

from core.chores.due import chores
from core.chores.groups import soon
from core.ground.looking import only_looking
from core.say.work.calendar import calendar_text
from core.say.work.chores import counted
from core.show.yearly.year_table import year_table
from pages.ui import data, frame, state, terms
from pages.ui.choice import one_of
from pages.ui.log import kept
from pages.ui.work.listing import by_time
from pages.ui.work.marking import show_note
from pages.ui.work.places import by_places
from pages.ui.work.rounds import the_round
from pages.ui.work.rules import rules_view
from pages.ui.work.sprays import sprays
from pages.ui.work.visits import visits

STYLE = Path(__file__).with_name("ui") / "work" / "work.css"
VIEWS = (
    *("By time", "The year", "By place", "The round", "When to go in", "Spraying"),
    "Your rules",
)

frame.open_page("Work")
st.html(f"<style>{STYLE.read_text(encoding='utf-8')}</style>")
with frame.guarded():
    path = state.ground_path()
    ground = data.opened(path).property
    today = kept.local_now(ground).date()
    found = chores(ground, kept.entries_of(ground), today)
    show_note(ground, path)
    days = ground.work.coming_days
    st.markdown(counted(found, len(soon(found, today, days)[0]), days))
    views = VIEWS[:-1] if only_looking() else VIEWS
    view = one_of(st.segmented_control, "Look at it", views, default=VIEWS[0], key="work_view")
    if view == "By time":
        by_time(found, ground, path, today)
    elif view == "The year":
        st.html(year_table(found, today))
        st.caption(
            "What is not done yet, from this month on. What is overdue stands in this month."
        )
    elif view == "By place":
        by_places(found, ground, path, today)
    elif view == "The round":
        the_round(ground, today)
    elif view == "When to go in":
        visits(ground, path)
    elif view == "Spraying":
        sprays(ground, path, today)
    else:
        rules_view(ground, path, today)
    st.download_button(
        "Calendar for a phone",
        lambda: calendar_text(found, ground, today, state.now_s()),
        "work.ics",
        "text/calendar",
        key="work_ics",
    )
    terms.links(("trail", "way-in", "bed", "held"))
