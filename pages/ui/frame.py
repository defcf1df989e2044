"""How every page opens, and how it shows an error that the user can put right."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import streamlit as st

from core.errors import StandWindError
from core.ground.drawing.kept_drafts import unsaved_drafts
from core.ground.fields import shown
from core.ground.versions import numbered, versions_folder
from core.harmless import harmless
from pages.ui import answered, state

HOME = Path(__file__).resolve().parents[2]
PAGES = {
    "Pick a sit": "dashboard.py",
    "Season winds": "pages/season_winds.py",
    "Learn the ground": "pages/learn_the_ground.py",
    "Map": "pages/map.py",
    "Work": "pages/work.py",
    "Log": "pages/log.py",
    "Words": "pages/words.py",
}
GLYPHS = ("●", "◐", "◍", "○")  # clean, just-off, can't call, wrong: as the drawn marks
SHORT = {"Season winds": "Season", "Learn the ground": "Learn"}
# what Streamlit turns into links, pictures and arrows even where Markdown has let it be;
# a joiner between its halves is not seen, and nothing is recognised any more
JOINER = "\u2060"
TURNED = re.compile(
    r"https?:|mailto:|xmpp:|www(?=\.)|(?<=\S)@(?=\S)"
    r"|:(?=material/|streamlit:)|[-<>~](?=[-=>])|<(?=-)",
    re.IGNORECASE,
)
STYLE = Path(__file__).with_name("style.css").read_text(encoding="utf-8")


def open_page(title: str, *, wide: bool = False, heading: bool = True) -> None:
    """Sets up a page: its name, our style, the way to the others.

    Args: one of PAGES; whether it may use the whole width of a desk; whether its
    name stands at the top (the home page has its answer there).
    """
    st.set_page_config(
        page_title=f"{title} · Stand & Wind",
        layout="wide" if wide else "centered",
        initial_sidebar_state="collapsed",
    )
    st.html(f"<style>{STYLE}</style>")
    with guarded():
        state.follow_link()
    with st.container(horizontal=True, key="menu", gap="small"):
        for name, file in PAGES.items():
            if (HOME / file).exists():
                here = name == title
                st.page_link(
                    file,
                    label=SHORT.get(name, name),
                    disabled=here,
                    help=None,
                    query_params=state.link_params(),
                )
    with guarded():
        if title != "Map":  # which may still have what was drawn on it
            say_no_such_ground()
    answered.say_when()
    if heading:
        st.title(title)


def say_no_such_ground() -> None:
    """Says that the ground asked for is not there, and what is left of it."""
    name, lost = state.lost_name(), state.lost_path()
    if not name:
        return
    told = [f"There is no ground called {shown(name)} in your folder: this is the demo."]
    if lost is None:
        pass
    elif unsaved_drafts(lost):
        told.append("What was drawn on it and not saved is kept: the Map shows it.")
    elif numbered(lost):
        told.append(f"Earlier versions of it are kept in {versions_folder(lost)}.")
    st.warning(plain(" ".join(told)))


@contextmanager
def guarded() -> Iterator[None]:
    """Shows the program's own errors and stops; anything else is a bug."""
    try:
        yield
    except StandWindError as fault:
        st.error(plain(fault.text()))
        st.stop()


def nothing_yet(what: str, fix: str, *, to_map: bool = True) -> None:
    """Says what is missing and what to do, and ends the page.

    Args: two sentences; whether a link leads to the map.
    """
    st.title(what)
    st.write(fix)
    if to_map:
        st.page_link(PAGES["Map"], label="To the map", query_params=state.link_params())
    st.stop()


def plain(text: str) -> str:
    """Text that Markdown shows letter by letter, in one line. Args: any text."""
    parted = TURNED.sub(lambda m: f"{m[0]}{JOINER}", harmless(text).lstrip())
    return re.sub(r"([\\`*_{}\[\]()#+\-.!|<>~$:&])", r"\\\1", parted)
