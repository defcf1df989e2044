"""Bringing in what people already have, and giving the ground to other programs."""

import functools
from collections.abc import Sequence

import streamlit as st

from core.errors import StandWindError
from core.ground.exchange.choices import middle_of, new_ids, placed, with_brought
from core.ground.exchange.files import read_foreign, write_geojson, write_gpx
from core.ground.exchange.guesses import UNKNOWN
from core.ground.exchange.items import Incoming
from core.ground.parse import property_from_document
from core.ground.store import Opened
from core.show.emphasis import Emphasis
from core.show.map import property_map
from core.sit.scene import Scene
from pages.ui import frame, keeping
from pages.ui.ground_sheet import picture
from pages.ui.map.kinds_in import ask_kinds
from pages.ui.map.lanes_in import ask_lanes

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
    document = opened.document
    incoming = placed(document, incoming)
    many = len(incoming)
    things = f"{many} thing{'' if many == 1 else 's'}"
    st.write(f"The file brings {things}. Say what each one is.")
    body = st.container(key="bring_body")
    seen, asking = body.container(key="bring_seen"), body.container(key="bring_ask")
    with asking:
        asked = ask_kinds(incoming, key)
        kinds, lanes, turned = ask_lanes(document, incoming, [k or None for k in asked], key)
    take = functools.partial(
        with_brought, incoming=incoming, kinds=kinds, lane_stands=lanes, turned=turned
    )
    count = len(kinds) - kinds.count(None)
    lost = [frame.plain(incoming[i].name) for i, stands in lanes.items() if not stands]
    with seen:
        _picture(document, incoming, asked)
    why = _why_not(asked, count, lost)
    if not why and not _could_be_saved(take(document)):
        why = "The ground could not be saved so: see above."
    st.button(
        f"Take {count} into {frame.plain(opened.property.name)}",
        key=f"{key}_take",
        type="primary",
        disabled=bool(why) or not ready,
        on_click=keeping.keep_now,
        args=(opened, take, f"Brought in {count} of {things}.", keep, _emptied),
    )
    if why:
        st.caption(why)


def _why_not(asked: Sequence[str | None], count: int, lost: Sequence[str]) -> str:
    """Why nothing can be taken yet; empty where all is said."""
    if UNKNOWN in asked:
        n = asked.count(UNKNOWN)
        if n == 1:
            return "1 is not known yet: say what it is, or leave it out."
        return f"{n} are not known yet: say what each is, or leave it out."
    if lost:
        return f"Choose the stands these lead to, or leave them out: {', '.join(lost)}."
    return "" if count else "Everything is left out."


def _emptied() -> None:
    st.session_state[ROUND] = st.session_state.get(ROUND, 0) + 1


def _could_be_saved(document: dict) -> bool:
    """Whether a ground may be as it would be; what speaks against it is shown."""
    try:
        property_from_document(document)
    except StandWindError as fault:
        st.error(frame.plain(fault.text()))
        return False
    return True


def _picture(document: dict, incoming: Sequence[Incoming], kinds: Sequence[str | None]) -> None:
    """All that came in on the ground, with name and symbol, whatever is said of it so far."""
    # a lane without its stands can't be drawn as one yet
    drawn = ["other" if k in (UNKNOWN, "lane") else k for k in kinds]
    try:
        whole = with_brought(document, incoming, drawn, {})
        scene = Scene(property_from_document(whole))
    except StandWindError:
        return  # said where the button is
    ids = new_ids(document, incoming, drawn)
    new = {item["id"]: item for item in whole["features"]}
    places = scene.plane.points([middle_of(new[id_]) for id_ in ids.values()])
    words = [_with_symbol(incoming[i]) for i in ids]
    spots = [(e, n, told) for (e, n), told in zip(places.tolist(), words, strict=True)]
    emphasis = Emphasis(spots=spots[:MOST_NAMED], of_spots=frozenset(ids.values()), whole=True)
    picture(lambda wide: property_map(scene, emphasis, name="bring", width=wide), "bring_map")


def _with_symbol(one: Incoming) -> str:
    return f"{one.name} ({one.symbol})" if one.symbol else one.name


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
