"""Bringing in what people already have, and giving the ground to other programs."""

import functools
from collections.abc import Sequence

import streamlit as st

from core.errors import StandWindError
from core.ground.exchange.choices import (
    new_ids,
    with_brought,
)
from core.ground.exchange.files import read_foreign, write_geojson, write_gpx
from core.ground.exchange.items import Incoming
from core.ground.parse import property_from_document
from core.ground.store import Opened
from core.show.brought_out import Brought, described
from core.show.map import property_map
from core.sit.scene import Scene
from pages.ui import frame, keeping
from pages.ui.map.kinds_in import ROWS, ask_each, ask_in_table, ask_lanes

SUFFIXES = ["gpx", "kml", "kmz", "geojson", "json"]
ROUND = "bring_round"  # a new one empties the uploader, so that nothing comes in twice
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
    things = f"{many} thing{'' if many == 1 else 's'}"
    st.write(f"The file brings {things}. Say what each one is.")
    kinds = ask_each(incoming, key) if many <= ROWS else ask_in_table(incoming, key)
    document = opened.document
    kinds, lanes, turned = ask_lanes(document, incoming, kinds, key)
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
        args=(opened, take, f"Brought in {count} of {things}.", keep, _emptied),
    )


def _emptied() -> None:
    st.session_state[ROUND] = st.session_state.get(ROUND, 0) + 1


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
