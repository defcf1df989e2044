"""What is to be criticised on a ground, and what its owner lets be."""

import functools
from itertools import groupby

import streamlit as st

from core.criticism.common_wind import typical_common_wind
from core.criticism.finding import Finding
from core.criticism.whole_ground import review, still_said, with_accepted
from core.ground.store import Opened
from core.sit.scene import Scene
from pages.ui import data, frame, keeping

# the button stays beside its sentence on a phone
STYLE = '<style>[class*="st-key-criticised-"] { flex-wrap: nowrap; }</style>'
MOST_SHOWN = 40  # a screen of more would not be read


def criticism_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Every criticism with its measure and reason; each can be accepted and taken back.

    Args: the property; where accepting is kept, None saves the file at once.
    """
    keeping.show_note()
    ground = opened.property
    findings = review(_scene(opened), typical_common_wind(ground))
    said = still_said(ground, findings)
    quiet = tuple(f for f in findings if f not in said)
    st.html(STYLE)
    st.caption(_summary(said))
    ready = keeping.ready(opened, keep)
    _features(opened, tuple(f for f in said if not f.is_smaller), keep, ready)
    smaller = tuple(f for f in said if f.is_smaller)
    if smaller:
        with st.expander(f"Smaller things, for the season's work: {len(smaller)}"):
            _features(opened, smaller, keep, ready)
    if quiet:
        with st.expander(f"Accepted: {len(quiet)}"):
            for found in quiet:
                st.write(frame.plain(f"{found.name}: {found.text}"))
                _button(opened, found, keep, ready, accepted=False)


def _scene(opened: Opened) -> Scene:
    """The ground made ready; the one that is kept, where nothing was changed since."""
    if opened.path is not None:
        kept = data.scene(opened.path)
        if kept.ground == opened.property:
            return kept
    return Scene(opened.property)


def _summary(said: tuple[Finding, ...]) -> str:
    if not said:
        return "Nothing to criticise."
    places = len({f.id for f in said})
    many = f"{len(said)} things on {places} {'place' if places == 1 else 'places'}"
    return f"{many}. The limits are common practice, with no source, unless one is named."


def _features(
    opened: Opened, said: tuple[Finding, ...], keep: keeping.Keep | None, ready: bool
) -> None:
    for _, group in groupby(said[:MOST_SHOWN], key=lambda f: f.id):
        _feature(opened, tuple(group), keep, ready)
    if len(said) > MOST_SHOWN:
        st.caption(f"And {len(said) - MOST_SHOWN} more. Mend or accept some to see them.")


def _feature(
    opened: Opened, group: tuple[Finding, ...], keep: keeping.Keep | None, ready: bool
) -> None:
    with st.container(border=True, key=f"criticism-{group[0].key.replace(':', '-')}", gap="small"):
        st.markdown(f"**{frame.plain(group[0].name)}**")
        for _, same in groupby(sorted(group, key=lambda f: f.code), key=lambda f: f.code):
            alike = tuple(same)
            for found in alike:
                row = f"criticised-{found.key.replace(':', '-')}"
                with st.container(horizontal=True, vertical_alignment="center", key=row):
                    text = f"{found.text[0].upper()}{found.text[1:]}."
                    st.markdown(frame.plain(text), width="stretch")
                    _button(opened, found, keep, ready, accepted=True)
            st.caption(frame.plain(f"{alike[0].why} ({alike[0].source})"))


def _button(
    opened: Opened, found: Finding, keep: keeping.Keep | None, ready: bool, *, accepted: bool
) -> None:
    word = "Accept" if accepted else "Say it again"
    done = f"{'Accepted' if accepted else 'No longer accepted'}: {found.name}, {found.text}."
    change = functools.partial(with_accepted, key=found.key, accepted=accepted)
    st.button(
        word,
        key=f"{'accept' if accepted else 'again'}-{found.key}",
        disabled=not ready,
        on_click=keeping.keep_now,
        args=(opened, change, done, keep),
    )
