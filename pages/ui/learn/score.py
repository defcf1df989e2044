"""What became of a pick, hour by hour, and the learner's tally."""

import streamlit as st

from core.errors import StandWindError
from core.ground.looking import only_looking
from core.learn import tally
from core.learn.pick_one import Judgement
from pages.ui import frame
from pages.ui.learn import parts

REASONS = {
    tally.WAY_IN: "the way in",
    tally.SIT: "the sit",
    tally.TRAIL: "a trail that makes it just-off",
    tally.CALM: "calm and turning air",
    tally.SAFETY: "safety",
    tally.STAYED: "stayed home on a good day",
}


def verdict_told(told: Judgement) -> None:
    """What the pick was worth, in words and hour by hour."""
    st.header(frame.plain(told.headline), anchor=False)
    for line in told.lines:
        st.markdown(frame.plain(line))
    if told.missed:
        why = ", ".join(REASONS[m] for m in told.missed)
        st.markdown(f"To practise: {why}.")
    word = [(h.pick, h.best) for h in told.hours]
    rows = ["| hour | wind | your pick | best |", "|---|---|---|---|"]
    for hour, both in zip(told.hours, word, strict=True):
        cells = ["" if v is None else parts.verdict_line(v) for v in both]
        rows.append(
            f"| {frame.plain(hour.time)} | {frame.plain(hour.wind)} | {cells[0]} | {cells[1]} |"
        )
    st.markdown("\n".join(rows))


def _clear_tally() -> None:
    try:
        tally.clear_tally()
    except (StandWindError, OSError):
        st.session_state["learn_not_kept"] = True


def tally_box() -> None:
    """The learner's tally, in a box."""
    if only_looking():  # it is the owner's, and is not counted here
        return
    with st.expander("Your tally"):
        try:
            so_far = tally.read_tally()
        except tally.BadTally as fault:
            st.error(frame.plain(fault.text()))
            st.button("Clear the tally", on_click=_clear_tally)
            return
        if st.session_state.pop("learn_not_kept", False):
            st.markdown("The disk took no change of the tally.")
        st.markdown(f"{so_far.right} right of {so_far.tried}." if so_far.tried else "None yet.")
        for reason in so_far.to_practise:
            st.markdown(f"- {REASONS[reason]}: {so_far.by_reason[reason]}")
        st.button("Clear the tally", on_click=_clear_tally)
