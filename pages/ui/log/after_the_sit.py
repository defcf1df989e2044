"""How was it? Three taps after a sit that was planned: the air, the deer, done."""

import streamlit as st

from core.ground.layout import Property
from core.ground.looking import only_looking
from core.keep.after import AIR_CHOICES, DEER_CHOICES, after_sit, waiting
from core.keep.entries import Entry
from pages.ui import frame
from pages.ui.log import kept
from pages.ui.log.add_more import add_more


def ask_after(ground: Property) -> None:
    """Asks after each sit that is over and of which nothing was said. Args: the ground."""
    kept.show_note()
    if only_looking():
        return
    now = kept.local_now(ground)
    for sit in waiting(kept.lately(ground), now):
        _ask(ground, sit, now.date().isoformat())
    add_more(ground)


def _ask(ground: Property, sit: Entry, today: str) -> None:
    half = kept.HALF_SAID[sit.get("sit")]
    when = f"this {half}" if sit.date == today else f"the {half} of {sit.date}"
    with st.container(border=True):
        st.subheader(f"How was {frame.plain(ground.name_of(sit.get('stand')))} {when}?")
        in_link: dict = {"bind": "query-params"}  # a reload loses no tap
        st.segmented_control("The air", AIR_CHOICES, key=f"air_{sit.id}", **in_link)
        st.segmented_control("Deer", DEER_CHOICES, key=f"deer_{sit.id}", **in_link)
        with st.container(horizontal=True):
            st.button(
                "Done",
                type="primary",
                key=f"done_{sit.id}",
                on_click=_done,
                args=(ground, sit),
            )
            st.button("I did not sit", key=f"not_{sit.id}", on_click=_not, args=(ground, sit))


def _done(ground: Property, sit: Entry) -> None:
    # as they are now: a quick finger is ahead of what was drawn
    air, deer = (st.session_state.get(f"{what}_{sit.id}") for what in ("air", "deer"))
    changed, more = after_sit(sit, air, deer, kept.stamp(ground))

    def act(journal) -> str:
        journal.change(changed)
        journal.add(more)
        return "Kept. Add more below: a time, a trail, yards."

    kept.written(ground, act)


def _not(ground: Property, sit: Entry) -> None:
    def act(journal) -> str:
        journal.remove(sit.id)
        return "Taken out of the log."

    kept.written(ground, act)
