"""What is overdue, due now and coming: by kind, with the cautions above the taps."""

import datetime
from pathlib import Path

import streamlit as st

from core.chores.due import NOW, OVERDUE, Chore
from core.chores.groups import by_kind, soon
from core.chores.worth import Worth, worth_of
from core.ground.layout import Property
from core.ground.looking import only_looking
from core.say.work.chores import (
    KINDS_SAID,
    REASONS,
    bring,
    cautions,
    own_why,
    title,
    when,
    worth_text,
)
from pages.ui import frame, state
from pages.ui.work import marking
from pages.ui.work.cost import by_cost

MOST = 8  # rows of a kind that are shown at once
ALL = "work_all"


def by_time(found: list[Chore], ground: Property, path: Path, today: datetime.date) -> None:
    """The list. Args: chores; their ground and its file; the local date."""
    if not only_looking():
        marking.ask_when(today)
    found, costs = by_cost(found, path)
    near, far = soon(found, today, ground.work.coming_days)
    late = [c for c in found if c.state == OVERDUE]
    now = [c for c in found if c.state == NOW]
    for heading, some in (("Overdue", late), ("Due now", now), ("Coming", near)):
        if some:
            st.header(heading)
            for kind, chores in by_kind(some).items():
                group(f"{heading} {kind}", chores, ground, path, today, costs)
    if not (late or now or near):
        st.write("Nothing is due, and nothing opens soon.")
    if far:
        st.caption(f"{len(far)} more come later: see The year.")
    st.caption(
        "Windows and intervals are common practice, no source: change them under Your rules."
    )


def group(
    key: str,
    chores: list[Chore],
    ground: Property,
    path: Path,
    today: datetime.date,
    costs: dict[str, Worth],
) -> None:
    """Chores of one kind: why and the cautions once, then each with its tap.

    Args: a key of its own; the chores; their ground and file; the local date; what it costs
    if what they keep open grows shut, as far as that was asked."""
    first = chores[0]
    whens = {when(c) for c in chores}
    shared = f"{whens.pop()}. " if len(chores) > 1 and len(whens) == 1 else ""
    if len(chores) > 1:
        st.subheader(f"{KINDS_SAID[first.kind]} ({len(chores)})")
        _about(first, ground, shared)
    whole = len(chores) <= MOST or state.chosen(ALL) == key
    for chore in chores if whole else chores[:MOST]:
        worth = worth_of(chore, costs)
        about = worth_text(worth, ground) if worth else ""
        row(chore, ground, path, today, about, dated=not shared)
    if len(chores) == 1:
        _about(first, ground, "")
    if not whole:
        st.button(
            f"Show all {len(chores)}", key=f"all_{key}", on_click=state.choose, args=(ALL, key)
        )


def _about(chore: Chore, ground: Property, shared: str) -> None:
    """Why such work is done and what to bring, and its cautions."""
    packed = f"Bring: {', '.join(bring(chore))}." if bring(chore) else ""
    said = f"{shared}{REASONS.get(chore.kind, '')} {packed}".strip()
    if said:
        st.caption(frame.plain(said))
    care = " ".join(cautions(chore, ground))
    if care:
        st.caption(f"**Take care.** {frame.plain(care)}")


def row(
    chore: Chore,
    ground: Property,
    path: Path,
    today: datetime.date,
    about: str = "",
    *,
    dated: bool = True,
) -> None:
    """One chore, and its tap. Args: it; its ground and file; the local date; what it is worth
    in words; whether its days are said."""
    with st.container(horizontal=True, key=f"chore-{chore.key}", vertical_alignment="center"):
        if not only_looking():
            marking.done_button(chore, ground, path, today)
        days = f"{when(chore)}. " if dated else ""
        said = frame.plain(f"{days}{about} {own_why(chore, ground, today)}".strip())
        st.markdown(f"**{frame.plain(title(chore, ground))}**  \n{said}")
