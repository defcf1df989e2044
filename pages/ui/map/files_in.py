"""Bringing in what people already have, and giving the ground to other programs."""

import functools
from collections.abc import Sequence

import streamlit as st

from core.errors import StandWindError
from core.ground.exchange.choices import (
    extent,
    kinds_for,
    new_ids,
    stands_known,
    suggested,
    with_brought,
)
from core.ground.exchange.files import read_foreign, write_geojson, write_gpx
from core.ground.exchange.items import Incoming
from core.ground.parse import property_from_document
from core.ground.store import Opened
from core.harmless import csv_cell
from core.show.brought_out import Brought, described
from core.show.map import property_map
from core.sit.scene import Scene
from pages.ui import frame, keeping

SUFFIXES = ["gpx", "kml", "kmz", "geojson", "json"]
LEAVE_OUT = "leave it out"
ROUND = "bring_round"  # a new one empties the uploader, so that nothing comes in twice
ROWS = 30  # more things go in a table
MOST_NAMED = 40  # on the picture


def bring_in_panel(opened: Opened, keep: keeping.Keep | None = None) -> None:
    """Files in and out. Args: the property; where changes are kept, None saves at once."""
    keeping.show_note()
    ready = keeping.ready(opened, keep)
    turn = st.session_state.get(ROUND, 0)
    file = st.file_uploader(
        "A map file: GPX, KML, KMZ or GeoJSON", type=SUFFIXES, key=f"bring_file_{turn}"
    )
    if file is not None:
        try:
            incoming = read_foreign(file.getvalue(), file.name)
        except StandWindError as fault:
            st.error(frame.plain(fault.text()))
        else:
            _choose(opened, incoming, f"bring_{turn}_{file.file_id}", keep, ready)
    _downloads(opened)


def _choose(
    opened: Opened, incoming: Sequence[Incoming], key: str, keep: keeping.Keep | None, ready: bool
) -> None:
    """What each thing is to be, how the ground would look, and the button that takes it."""
    many = len(incoming)
    st.write(f"The file brings {many} {'thing' if many == 1 else 'things'}. Say what each one is.")
    kinds = _rows(incoming, key) if many <= ROWS else _table(incoming, key)
    document = opened.document
    kinds, lanes, turned = _lanes(document, incoming, kinds, key)
    take = functools.partial(
        with_brought, incoming=incoming, kinds=kinds, lane_stands=lanes, turned=turned
    )
    count = len(kinds) - kinds.count(None)
    lost = [frame.plain(incoming[i].name) for i, stands in lanes.items() if not stands]
    if lost:
        st.warning(f"Choose the stands these lead to, or leave them out: {', '.join(lost)}.")
    fine = count > 0 and not lost and _preview(take(document), new_ids(document, incoming, kinds))
    st.button(
        f"Take {count} into {frame.plain(opened.property.name)}",
        key=f"{key}_take",
        type="primary",
        disabled=not (ready and fine),
        on_click=keeping.keep_now,
        args=(opened, take, f"Brought in {count} of {many} things.", keep, _emptied),
    )


def _emptied() -> None:
    st.session_state[ROUND] = st.session_state.get(ROUND, 0) + 1


def _rows(incoming: Sequence[Incoming], key: str) -> list[str | None]:
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


def _table(incoming: Sequence[Incoming], key: str) -> list[str | None]:
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


def _lanes(document: dict, incoming: Sequence[Incoming], kinds: list[str | None], key: str):
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


def _preview(document: dict, ids: dict[int, str]) -> bool:
    """The ground as it would be. Returns: whether it could be saved."""
    try:
        scene = Scene(property_from_document(document))
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return False
    new = [item for item in document["features"] if item["id"] in set(ids.values())]
    spots = [(*_first_place(scene, item), str(item["properties"]["name"])) for item in new]
    brought = Brought(spots=spots[:MOST_NAMED], whole=True)
    st.image(
        property_map(scene, brought, name="bring"), width="stretch", alt=described(scene, brought)
    )
    return True


def _first_place(scene: Scene, item: dict) -> tuple[float, float]:
    places = item["geometry"]["coordinates"]
    while isinstance(places[0], list):
        places = places[0]
    east, north = scene.plane.points([places[:2]])[0]
    return float(east), float(north)


def _downloads(opened: Opened) -> None:
    st.caption("For other programs. The files show where your stands are: keep them to yourself.")
    name = opened.path.stem if opened.path else "ground"
    with st.container(horizontal=True):
        for word, write, suffix, mime in (
            ("GPX", write_gpx, "gpx", "application/gpx+xml"),
            ("GeoJSON", write_geojson, "geojson", "application/geo+json"),
        ):
            st.download_button(
                f"{word} out",
                functools.partial(write, opened.document),
                file_name=f"{name}.{suffix}",
                mime=mime,
                key=f"out_{suffix}",
                on_click="ignore",
            )
