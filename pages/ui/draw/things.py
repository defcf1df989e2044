"""What is on the map as a list, and a new thing by its coordinates."""

import streamlit as st

from core.ground.drawing.edits import added, shape_first
from core.ground.kinds import KINDS
from core.ground.latlon import EXAMPLE, places_from_text
from pages.ui.draw import changes, kinds
from pages.ui.draw.in_use import in_use
from pages.ui.draw.page_draft import PageDraft


def things_list(draft: PageDraft) -> None:
    """The list, which follows what is chosen on the map. Args: the draft."""
    features = draft.document["features"]
    order = list(KINDS)
    ids = [f["id"] for f in sorted(features, key=lambda f: order.index(kinds.kind_of(f)))]
    names = {f["id"]: _listed(f) for f in features}
    if st.session_state.get("choose") != draft.picked:
        st.session_state["choose"] = draft.picked
    none = f"{len(ids)} things: choose one" if ids else "nothing yet"
    st.selectbox(
        "On the map",
        ["", *ids],
        key="choose",
        on_change=_chosen,
        format_func=lambda id_: names.get(id_, none),
    )


def _listed(feature: dict) -> str:
    return f"{kinds.KIND_WORDS[kinds.kind_of(feature)]}: {kinds.feature_name(feature)}"


def _chosen() -> None:
    changes.pick(st.session_state["choose"])


def add_typed() -> None:
    """A new thing by its coordinates: the way without a finger or a mouse."""
    with st.expander("Add by coordinates"), st.form("add-typed", border=False):
        st.selectbox(
            "What", list(kinds.KIND_WORDS), format_func=kinds.KIND_WORDS.get, key="add-kind"
        )
        st.text_area(
            "Latitude, longitude; one place a line",
            key="add-places",
            placeholder=EXAMPLE,
            help="A lane starts at the truck, a trail at the bedding end.",
        )
        st.form_submit_button("Add it", on_click=_added)


def _added() -> None:
    kind, text = st.session_state["add-kind"], st.session_state["add-places"]
    before = _ids()

    def add(document: dict) -> dict:
        return added(document, kind, places_from_text(text, shape_first(kind)))[0]

    if changes.apply(add, f"added {kinds.KIND_WORDS[kind].lower()}"):
        changes.pick(*(id_ for id_ in _ids() if id_ not in before))
        st.session_state["add-places"] = ""


def _ids() -> list[str]:
    return [item["id"] for item in in_use().document["features"]]
