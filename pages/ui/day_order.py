"""Which way a day such as 9/10 is written: asked once, wherever days are typed."""

import streamlit as st

ORDER = "setting_day_order"  # month first or day first, once it was said
MONTH_FIRST, DAY_FIRST = "month first", "day first"


def ask_order(key: str) -> None:
    """Asks, until it was said once. Args: the control's key."""
    if ORDER not in st.session_state:
        st.segmented_control("A day such as 9/10 is written", [MONTH_FIRST, DAY_FIRST], key=key)


def month_first(said: str | None) -> bool | None:
    """Whether the month stands first; None where nobody said it yet. Args: what was said now."""
    if said:
        st.session_state[ORDER] = said
    order = st.session_state.get(ORDER)
    return None if order is None else order == MONTH_FIRST
