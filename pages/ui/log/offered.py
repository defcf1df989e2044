"""What was felt at stands: offers to take up, and what is in use and can be taken back."""

import datetime

import streamlit as st

from core.ground.layout import Property
from core.log.offers import Offer, stands_with_offers, taken_back, taken_up
from core.say.log.felt import offer_range, offer_text, turn_text
from pages.ui import data, frame, keeping, state
from pages.ui.log import kept


def felt_air(ground: Property) -> None:
    """Offers and turns in use. Args: the ground."""
    found = stands_with_offers(kept.entries_of(ground), ground)
    in_use = [(stand, i) for stand in ground.stands for i in range(len(stand.turns))]
    if not found and not in_use:
        return
    st.header("Air at your stands")
    keeping.show_note()
    opened = data.opened(state.ground_path())
    may = keeping.ready(opened, None)
    today = kept.local_now(ground).date()
    for offer in found:
        st.markdown(frame.plain(f"{offer_text(offer, ground)} {offer_range(offer)}".rstrip()))
        if may:
            st.button("Use it", key=f"use {offer.key}", on_click=_take_up, args=(offer, today))
    for stand, i in in_use:
        st.markdown(frame.plain(f"{stand.name}: {turn_text(stand.turns[i])}"))
        if may:
            st.button(
                "Take it back", key=f"back {stand.id} {i}", on_click=_take_back, args=(stand.id, i)
            )
    st.caption("Used, it is kept with the stand on the map and counts in every answer.")


def _take_up(offer: Offer, today: datetime.date) -> None:
    opened = data.opened(state.ground_path())
    keeping.keep_now(opened, lambda document: taken_up(document, offer, today), "Kept on the map.")


def _take_back(stand: str, place: int) -> None:
    opened = data.opened(state.ground_path())
    keeping.keep_now(opened, lambda document: taken_back(document, stand, place), "Taken back.")
