"""Links from the terms on a screen to what they mean."""

from collections.abc import Iterable

import streamlit as st

from core.learn.glossary import word_of
from pages.ui import state

WORD = "word"  # the word that a link asks for


def links(keys: Iterable[str]) -> None:
    """A row of links to the page of words. Args: keys of `core.learn.glossary`."""
    st.caption("What these words mean:")
    with st.container(horizontal=True, key="terms", gap="small"):
        for key in keys:
            st.page_link(
                "pages/words.py",
                label=word_of(key),
                query_params={**state.link_params(), WORD: key},
            )


def asked() -> str:
    """The word that the link in use asks for; empty for none."""
    return st.query_params.get(WORD, "")
