"""For how long your air lay on each bed and plot: lines, and straight bars by week."""

import streamlit as st

from core.ground.layout import Property
from core.say.log.ledger import SPANS, days_back, ledger_lines, season_first
from core.show.ledger_bars import ledger_bars
from core.show.palette import DARK
from pages.ui import data, frame, state
from pages.ui.log import kept

SEASON = "the season"


def air_ledger(ground: Property) -> None:
    """The ledger of some days. Args: the ground."""
    entries = kept.entries_of(ground)
    if not entries:
        return
    st.header("Where your air lay")
    days_of = {name: days for days, name in SPANS}
    span = st.segmented_control(
        "Of the last", [*days_of, SEASON], key="ledger_span", default=SPANS[0][1]
    )
    today = kept.local_now(ground).date()
    first = days_back(today, days_of[span]) if span in days_of else season_first(ground, today)
    found = data.air_ledger(state.ground_path(), first.isoformat())
    days = (today - first).days + 1
    told = found.since(first, today)
    if told.lays:
        bars = ledger_bars(told, ground, first, today, DARK)
        lines = ledger_lines(told, {e.id: e for e in entries}, ground, today, days)
        st.image(bars, width="stretch", alt="; ".join(lines))
    for line in ledger_lines(told, {e.id: e for e in entries}, ground, today, days):
        st.markdown(frame.plain(line))
    near = ground.air.wrong_within_yd
    st.caption(
        f"Counted while deer hold a place and your air is like under {near:.0f} yd straight "
        "downwind, in the weather kept with each sit. It says nothing of what deer noticed."
    )
