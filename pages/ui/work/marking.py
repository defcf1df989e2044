"""Done of one tap: the log keeps it, and the ground's own date where it can be written."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.due import Chore
from core.chores.marking import date_in, done_entry, with_date
from core.errors import StandWindError
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.layout import Property
from core.ground.store import save_property
from core.say.work.chores import day_text, title
from pages.ui import data, state
from pages.ui.log import kept

BACK = "work_back"  # what the last tap wrote: entry, the chore's key parts, the former date
DAY, MINUTES = "work_day", "work_minutes"


def ask_when(today: datetime.date) -> None:
    """The day and the minutes that the next tap writes. Args: the local date."""
    with st.expander("Done on another day, or how long it took"):
        st.date_input("Done on", value=today, max_value=today, key=DAY)
        st.number_input(
            "Minutes it took", min_value=0, max_value=6000, value=None, step=5, key=MINUTES
        )
        st.caption("What stands here goes with each tap on Done.")


def done_button(chore: Chore, ground: Property, path: Path, today: datetime.date) -> None:
    """The tap. Args: the chore; its ground and file; the local date."""
    st.button("Done", key=f"done_{chore.key}", on_click=_done, args=(chore, ground, path, today))


def _done(chore: Chore, ground: Property, path: Path, today: datetime.date) -> None:
    day = st.session_state.get(DAY) or today
    entry = done_entry(chore, day, st.session_state.get(MINUTES), kept.stamp(ground))

    def act(journal) -> str:
        journal.add([entry])
        return f"Kept: {title(chore, ground)}, {day_text(day)}."

    if not kept.written(ground, act):
        return
    former, wrote = _date(chore, path, day.isoformat())
    st.session_state[BACK] = (entry.id, chore, former, wrote)
    st.session_state[MINUTES] = None


def _date(
    chore: Chore, path: Path, day: str | None, *, back: bool = False
) -> tuple[str | None, bool]:
    """Writes a chore's date into the property. Returns: the former one; whether it was written."""
    opened = data.opened(path)
    former = date_in(opened.document, chore)
    if opened.read_only or unsaved_drafts(path):
        # what is drawn and not saved yet must not find another file under it
        return former, False
    if not back and former is not None and day is not None and former > day:
        return former, False  # it was done later than that
    try:
        document = with_date(opened.document, chore, day)
        save_property(opened, document, now_s=int(state.now_s()))
    except StandWindError as fault:
        said = f"The log has it. The ground's own date was not written: {fault.text()}"
        st.session_state[kept.NOTE] = ("error", said)
        return former, False
    return former, True


def show_note(ground: Property, path: Path) -> None:
    """What became of the last tap, and the way back. Args: the ground; its file."""
    kept.show_note()
    if st.session_state.get(BACK):
        st.button("Take it back", key="work_take_back", on_click=_back, args=(ground, path))


def _back(ground: Property, path: Path) -> None:
    entry, chore, former, wrote = st.session_state.pop(BACK)

    def act(journal) -> str:
        journal.remove(entry)
        return f"Taken back: {title(chore, ground)}."

    if kept.written(ground, act) and wrote:
        _date(chore, path, former, back=True)
