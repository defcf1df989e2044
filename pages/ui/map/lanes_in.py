"""Where the lanes of a map file lead, one by one or by their ends."""

from collections.abc import Sequence

import streamlit as st

from core.ground.exchange.choices import stands_known, suggested
from core.ground.exchange.items import Incoming
from pages.ui import frame
from pages.ui.map.kinds_in import ROWS


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
