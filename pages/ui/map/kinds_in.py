"""What each thing of a map file is to be, one by one or in a table, and where lanes lead."""

from collections.abc import Sequence

import streamlit as st

from core.ground.exchange.choices import extent, kinds_for
from core.ground.exchange.guesses import UNKNOWN
from core.ground.exchange.items import Incoming
from core.ground.kinds import LINE, POINT, POLYGON
from core.harmless import csv_cell
from pages.ui import frame

LEAVE_OUT = "leave it out"
ROWS = 30  # more things go in a table
OPEN = "not known yet"
Kinds = list[str | None]  # of each thing: None leaves it out, UNKNOWN is to be asked


def ask_kinds(incoming: Sequence[Incoming], key: str) -> Kinds:
    """What each thing is to be. Args: what came in; the file's key."""
    fits = [[] if one.fault else kinds_for(one) for one in incoming]
    if len(incoming) > 1:
        _several(incoming, fits, key)
    ask = _each if len(incoming) <= ROWS else _in_table
    return ask(incoming, fits, key)


def described_thing(one: Incoming) -> str:
    """A thing's symbol and size in words. Args: the thing."""
    return f"symbol “{one.symbol}”, {extent(one)}" if one.symbol else extent(one)


def _each(incoming: Sequence[Incoming], fits: list[list[str]], key: str) -> Kinds:
    kinds: Kinds = []
    with st.container(key="bring_things"):
        for i, (one, own) in enumerate(zip(incoming, fits, strict=True)):
            with st.container(key=f"bring_thing_{i}", gap="small"):
                kinds.append(_one(one, own, f"{key}_kind_{i}"))
    return kinds


def _one(one: Incoming, own: list[str], key: str) -> str | None:
    """What one thing is to be. Args: it; the kinds that suit it; the key of its box."""
    st.markdown(f"**{frame.plain(one.name)}**, {frame.plain(described_thing(one))}")
    notes = [*one.notes, *([f"It {one.fault}"] if one.fault else [])]
    if notes:
        st.caption(frame.plain(". ".join(n[0].upper() + n[1:] for n in notes)))
    if not own:
        return None
    chosen = st.selectbox(
        f"What {frame.plain(one.name)} is",
        [*own, LEAVE_OUT],
        index=None if one.kind == UNKNOWN else 0,
        key=key,
        placeholder="What is it?",
        label_visibility="collapsed",
    )
    return UNKNOWN if chosen is None else None if chosen == LEAVE_OUT else chosen


def _in_table(incoming: Sequence[Incoming], fits: list[list[str]], key: str) -> Kinds:
    """Many things in one table; a kind that does not suit a thing leaves it out."""
    said = st.session_state.get(f"{key}_several", {})
    rows = [
        {
            "name": csv_cell(one.name),
            "what": csv_cell(one.fault or described_thing(one)),
            "kind": said.get(i) or (LEAVE_OUT if not own else one.kind or OPEN),
        }
        for i, (one, own) in enumerate(zip(incoming, fits, strict=True))
    ]
    words = [LEAVE_OUT, OPEN, *dict.fromkeys(kind for own in fits for kind in own)]
    column = st.column_config.SelectboxColumn("kind", options=words, required=True)
    edited = st.data_editor(
        rows,
        key=f"{key}_table_{len(said)}_{hash(tuple(said.values()))}",
        hide_index=True,
        disabled=["name", "what"],
        column_config={"kind": column},
    )
    return [
        UNKNOWN if row["kind"] == OPEN else row["kind"] if row["kind"] in own else None
        for row, own in zip(edited, fits, strict=True)
    ]


def _several(incoming: Sequence[Incoming], fits: list[list[str]], key: str) -> None:
    """One kind for several things: by their symbol, their shape, or by name."""
    free = [i for i, own in enumerate(fits) if own]
    groups = {f"all {SHAPES[shape]}": _those(incoming, free, shape=shape) for shape in SHAPES}
    for symbol in dict.fromkeys(incoming[i].symbol for i in free if incoming[i].symbol):
        groups[f"all with the symbol “{symbol}”"] = _those(incoming, free, symbol=symbol)
    groups = {name: members for name, members in groups.items() if len(members) > 1}
    names = groups | {f"{i + 1}. {incoming[i].name}": [i] for i in free}
    with st.expander("Change several at once"):
        chosen = st.multiselect("These", list(names), key=f"{key}_these")
        members = sorted({i for name in chosen for i in names[name]})
        kinds = list(dict.fromkeys(k for i in members for k in fits[i]))
        kind = st.selectbox("are each", [*kinds, LEAVE_OUT], key=f"{key}_are")
        st.button(
            f"Say so of {len(members)}",
            key=f"{key}_say",
            disabled=not members,
            on_click=_say,
            args=(key, [i for i in members if kind == LEAVE_OUT or kind in fits[i]], kind),
        )
        if not members:
            st.caption("Choose some above first.")


SHAPES = {POINT: "points", LINE: "lines", POLYGON: "areas"}


def _those(incoming: Sequence[Incoming], among: list[int], **wanted: str) -> list[int]:
    (name, value), *_ = wanted.items()
    return [i for i in among if getattr(incoming[i], name) == value]


def _say(key: str, members: list[int], kind: str) -> None:
    """Sets the kind of some things, in their own boxes and for the table."""
    said = dict(st.session_state.get(f"{key}_several", {}))
    for i in members:
        said[i] = st.session_state[f"{key}_kind_{i}"] = kind
    st.session_state[f"{key}_several"] = said
