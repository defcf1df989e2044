"""How every page opens, and how it shows an error that the user can put right."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import streamlit as st

from core.errors import StandWindError


def open_page(title: str) -> None:
    """Sets up a page. Args: its title."""
    st.set_page_config(page_title=f"{title} · Stand & Wind", layout="centered")
    st.title(title)


@contextmanager
def guarded() -> Iterator[None]:
    """Shows the program's own errors and stops; anything else is a bug."""
    try:
        yield
    except StandWindError as fault:
        st.error(plain(fault.text()))
        st.stop()


def plain(text: str) -> str:
    """Text with Markdown and HTML made harmless. Args: any text."""
    return re.sub(r"([\\`*_{}\[\]()#+\-.!|<>~$:&])", r"\\\1", text)
