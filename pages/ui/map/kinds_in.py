"""What each thing of a map file is to be, one by one or in a table, and where lanes lead."""

from collections.abc import Sequence

import streamlit as st

from core.ground.exchange.choices import (
    extent,
    kinds_for,
    stands_known,
    suggested,
)
from core.ground.exchange.items import Incoming
from core.harmless import csv_cell
from pages.ui import frame

LEAVE_OUT = "leave it out"


ROWS = 30  # more things go in a table


def ask_each(incoming: Sequence[Incoming], key: str) -> list[str | None]:
    kinds: list[str | None] = []
    for i, one in enumerate(incoming):
        st.markdown(f"**{frame.plain(one.name)}**, {extent(one)}")
        notes = [*one.notes, *([f"It {one.fault}"] if one.fault else [])]
        if notes:
            st.caption(frame.plain(". ".join(n[0].upper() + n[1:] for n in notes)))
        fits = [] if one.fault else kinds_for(one)
        if not fits:
            kinds.append(None)
            continue
        chosen = st.selectbox(
            f"What {frame.plain(one.name)} is",
            [*fits, LEAVE_OUT],
            key=f"{key}_kind_{i}",
            label_visibility="collapsed",
        )
        kinds.append(None if chosen == LEAVE_OUT else chosen)
    return kinds


def ask_in_table(incoming: Sequence[Incoming], key: str) -> list[str | None]:
    """Many things in one table; a kind that does not suit a thing leaves it out."""
    fits = [[] if one.fault else kinds_for(one) for one in incoming]
    rows = [
        {"name": csv_cell(one.name), "what": one.fault or extent(one), "kind": (*own, LEAVE_OUT)[0]}
        for one, own in zip(incoming, fits, strict=True)
    ]
    words = [LEAVE_OUT, *dict.fromkeys(kind for own in fits for kind in own)]
    column = st.column_config.SelectboxColumn("kind", options=words, required=True)
    edited = st.data_editor(
        rows,
        key=f"{key}_table",
        hide_index=True,
        disabled=["name", "what"],
        column_config={"kind": column},
    )
    return [
        row["kind"] if row["kind"] in own else None for row, own in zip(edited, fits, strict=True)
    ]


def ask_lanes(document: dict, incoming: Sequence[Incoming], kinds: list[str | None], key: str):
    """The kinds, the stands that each lane leads to, and the lanes to be turned round.

    More lanes than one would answer for go to the stand at their end; those that end
    at none are left out, and said.
    """
    guesses = suggested(document, incoming, kinds)
    if len(guesses) > ROWS:
        loose = {i for i, (stands, _) in guesses.items() if not stands}
        st.caption(
            f"{len(guesses)} ways: {len(guesses) - len(loose)} end at a stand and lead there, "
            f"{len(loose)} end at none and are left out. Bring in fewer to be asked for each."
        )
        kept = {i: guess for i, guess in guesses.items() if i not in loose}
        kinds = [None if i in loose else kind for i, kind in enumerate(kinds)]
        return kinds, {i: g[0] for i, g in kept.items()}, {i for i, g in kept.items() if g[1]}
    known = stands_known(document, incoming, kinds)
    answers = {i: _lane(incoming[i].name, i, guess, known, key) for i, guess in guesses.items()}
    return kinds, {i: a[0] for i, a in answers.items()}, {i for i, a in answers.items() if a[1]}


def _lane(named: str, i: int, guessed: tuple[list[str], bool], known: dict[str, str], key: str):
    """Ids of the stands a lane leads to, and whether it is to be turned round."""
    guess, turn = guessed
    name = frame.plain(named)
    stands = st.multiselect(
        f"{name} leads to",
        list(known),
        default=guess,
        key=f"{key}_stands_{i}_{len(known)}",
        format_func=lambda id_: known.get(id_, id_),
        placeholder="Choose its stands",
    )
    is_turned = st.checkbox(
        f"Turn {name} round: it must start at the truck", value=turn, key=f"{key}_turn_{i}"
    )
    return stands, is_turned
