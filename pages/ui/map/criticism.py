"""What is to be criticised on a ground, and what its owner lets be."""

import functools
from itertools import groupby

import streamlit as st

from core.criticism.common_wind import typical_common_wind
from core.criticism.finding import Finding
from core.criticism.whole_ground import review, still_said, with_accepted
from core.ground.store import Opened
from core.land.kept import MEMBER, land_of
from core.sit.scene import Scene
from pages.ui import data, frame, keeping

# the button stays beside its sentence on a phone
STYLE = (  # the button beside the words while a line holds some, else under them
    '<style>[class*="st-key-criticised-"] > :first-child { flex: 1 1 11rem; }</style>'
)
MOST_SHOWN = 40  # a screen of more would not be read


def criticism_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Every criticism with its measure and reason; each can be accepted and taken back.

    Args: the property; where accepting is kept, None saves the file at once.
    """
    keeping.show_note()
    ground = opened.property
    findings = review(_scene(opened), typical_common_wind(ground))
    unaccepted = still_said(ground, findings)
    quiet = tuple(f for f in findings if f not in unaccepted)
    st.html(STYLE)
    st.caption(_summary(unaccepted))
    ready = keeping.ready(opened, keep)
    _features(opened, tuple(f for f in unaccepted if not f.is_smaller), keep, ready)
    smaller = tuple(f for f in unaccepted if f.is_smaller)
    if smaller:
        with st.expander(f"Smaller things, for the season's work: {len(smaller)}"):
            _features(opened, smaller, keep, ready)
    if quiet:
        with st.expander(f"Accepted: {len(quiet)}"):
            for finding in quiet:
                st.write(frame.plain(f"{finding.name}: {finding.text}"))
                _button(opened, finding, keep, ready, accepted=False)


def _scene(opened: Opened) -> Scene:
    """The ground made ready; the one that is kept, where nothing was changed since."""
    if opened.path is not None:
        kept = data.scene(opened.path)
        if (kept.ground, kept.heights and kept.heights.sha256) == (opened.property, _hash(opened)):
            return kept
    return Scene(opened.property, land_of(opened)[0])


def _hash(opened: Opened) -> str | None:
    """Which heights the ground names; None for none."""
    member = opened.document.get("property", {}).get(MEMBER)
    return member.get("sha256") if isinstance(member, dict) else None


def _summary(unaccepted: tuple[Finding, ...]) -> str:
    if not unaccepted:
        return "Nothing to criticise."
    places = len({f.id for f in unaccepted})
    many = f"{len(unaccepted)} things on {places} {'place' if places == 1 else 'places'}"
    return f"{many}. The limits are common practice, with no source, unless one is named."


def _features(
    opened: Opened, unaccepted: tuple[Finding, ...], keep: keeping.Keep | None, ready: bool
) -> None:
    for _, group in groupby(unaccepted[:MOST_SHOWN], key=lambda f: f.id):
        _feature(opened, tuple(group), keep, ready)
    if len(unaccepted) > MOST_SHOWN:
        st.caption(f"And {len(unaccepted) - MOST_SHOWN} more. Mend or accept some to see them.")


def _feature(
    opened: Opened, group: tuple[Finding, ...], keep: keeping.Keep | None, ready: bool
) -> None:
    with st.container(border=True, key=f"criticism-{group[0].key.replace(':', '-')}", gap="small"):
        st.markdown(f"**{frame.plain(group[0].name)}**")
        for _, same in groupby(sorted(group, key=lambda f: f.code), key=lambda f: f.code):
            alike = tuple(same)
            for finding in alike:
                row = f"criticised-{finding.key.replace(':', '-')}"
                with st.container(horizontal=True, vertical_alignment="center", key=row):
                    text = f"{finding.text[0].upper()}{finding.text[1:]}."
                    st.markdown(frame.plain(text), width="stretch")
                    _button(opened, finding, keep, ready, accepted=True)
            st.caption(frame.plain(f"{alike[0].why} ({alike[0].source})"))


def _button(
    opened: Opened, finding: Finding, keep: keeping.Keep | None, ready: bool, *, accepted: bool
) -> None:
    word = "Accept" if accepted else "Say it again"
    done = f"{'Accepted' if accepted else 'No longer accepted'}: {finding.name}, {finding.text}."
    change = functools.partial(with_accepted, key=finding.key, accepted=accepted)
    st.button(
        word,
        key=f"{'accept' if accepted else 'again'}-{finding.key}",
        disabled=not ready,
        on_click=keeping.keep_now,
        args=(opened, change, done, keep),
    )
