"""The drawing part of the Map page: the map, what is chosen, and saving."""

import streamlit as st

from core.ground.drawing.edits import added, shape_first
from core.ground.kinds import KINDS, LINE, POLYGON
from core.ground.latlon import EXAMPLE, places_from_text
from core.ground.plan import Plane
from core.ground.store import demo_path
from core.say.measures import DEFAULT_WALK_MPH
from core.units import M_PER_YD, MPS_PER_MPH, SQ_M_PER_ACRE
from pages.ui import frame
from pages.ui.draw import fields, session, tabs
from pages.ui.draw.component import PAGE_STYLE, ground_map
from pages.ui.draw.form import chosen_form

IMAGERY = {
    "url": "https://basemap.nationalmap.gov/arcgis/rest/services/USGSImageryOnly/MapServer/tile/"
    "{z}/{y}/{x}",
    "credit": "USGS The National Map, public domain",
    "most_zoom": 16,
}
IMAGERY_TOLD = (
    "On: this browser asks basemap.nationalmap.gov (U.S. Geological Survey) for pictures of the "
    "part of the map that you look at, so that server can tell where you look. Nothing that you "
    "draw is sent. Off: nothing is asked of anyone."
)
IDLE = "Tap a thing to choose it, then drag its points. Choose Add to draw a new one."
NOT_KEPT = "The disk takes no draft: save before you leave this page."
EMPTY = (
    "Nothing is drawn yet. Choose Add to draw a stand, a trail, a bed. Aerial photo, below, "
    "shows what to trace; Files, farther down, brings in what you have."
)


def draw_panel() -> None:
    """The whole part. Raises: BadProperty."""
    st.html(f"<style>{PAGE_STYLE}</style>")
    own = session.held()
    _save_row(own)
    left, right = st.columns([3, 2], gap="medium")
    with left:
        photo = st.session_state.get("photo", False)
        ground_map(_shown(own, photo), key=session.MAP, on_ops=session.take_gestures)
        st.toggle("Aerial photo", key="photo", help=IMAGERY_TOLD)
        if photo:
            st.caption(IMAGERY_TOLD)
    with right:
        _choose(own)
        chosen_form(own["draft"]["document"], own["picked"])
        _add_typed()


# --- what the map shows


def _shown(own: dict, photo: bool) -> dict:
    """All that the map needs, as plain values."""
    draft, document = own["draft"], own["draft"]["document"]
    rules = document["property"]
    plane = Plane(tuple(rules["center"]))
    mph = (rules.get("sit") or {}).get("walk_mph") or DEFAULT_WALK_MPH
    return {
        "ground": own["path"],
        "tab": own["tab"],
        "done": own["done"],
        "features": [_feature(item) for item in document["features"]],
        "picked": own["picked"],
        "said": own["said"],
        "trouble": own["trouble"],
        "idle": IDLE if document["features"] else EMPTY,
        "undo": _last(draft["past"]),
        "redo": _last(draft["future"]),
        "kinds": _kinds(),
        "center": rules["center"],
        "yard": M_PER_YD,
        "acre": SQ_M_PER_ACRE,
        "scale": {"lon": plane.m_per_lon_deg, "lat": plane.m_per_lat_deg},
        "walk_mps": mph * MPS_PER_MPH,
        "imagery": IMAGERY if photo else None,
    }


def _feature(item: dict) -> dict:
    members = item["properties"]
    name = members.get("name")
    return {
        "id": item["id"],
        "kind": members["kind"],
        "name": name if isinstance(name, str) else item["id"],
        "geometry": item["geometry"],
    }


def _last(steps: tuple) -> str:
    return steps[-1]["said"] if steps else ""


def _kinds() -> list[dict]:
    """What can be added: each kind in its usual shape, some as an area too."""
    found = [(kind, shape_first(kind), fields.KIND_WORDS[kind]) for kind in fields.KIND_WORDS]
    found += [(kind, POLYGON, f"{_short(kind)}, an area") for kind in fields.AREAS_TOO]
    found.append(("other", LINE, "Other, a line"))
    return [
        {
            "value": f"{kind}-{shape}",
            "kind": kind,
            "shape": shape,
            "label": label,
            "hint": fields.HINTS.get(kind, fields.HINTS[shape]),
        }
        for kind, shape, label in found
    ]


def _short(kind: str) -> str:
    return "Water" if kind == "water" else "Other"


# --- what is chosen, and typed


def _choose(own: dict) -> None:
    features = own["draft"]["document"]["features"]
    order = list(KINDS)
    ids = [f["id"] for f in sorted(features, key=lambda f: order.index(f["properties"]["kind"]))]
    names = {f["id"]: _listed(f) for f in features}
    if st.session_state.get("choose") != own["picked"]:
        st.session_state["choose"] = own["picked"]
    none = f"{len(ids)} things: choose one" if ids else "nothing yet"
    st.selectbox(
        "On the map",
        ["", *ids],
        key="choose",
        on_change=_chosen,
        format_func=lambda id_: names.get(id_, none),
    )


def _listed(feature: dict) -> str:
    shown = _feature(feature)
    return f"{fields.KIND_WORDS[shown['kind']]}: {shown['name']}"


def _chosen() -> None:
    session.pick(st.session_state["choose"])


def _add_typed() -> None:
    """A new thing by its coordinates: the way without a finger or a mouse."""
    with st.expander("Add by coordinates"), st.form("add-typed", border=False):
        st.selectbox(
            "What", list(fields.KIND_WORDS), format_func=fields.KIND_WORDS.get, key="add-kind"
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
    before = {item["id"] for item in session.document()["features"]}

    def add(document: dict) -> dict:
        return added(document, kind, places_from_text(text, shape_first(kind)))[0]

    if session.apply(add, f"added {fields.KIND_WORDS[kind].lower()}"):
        new = [f["id"] for f in session.document()["features"] if f["id"] not in before]
        session.pick(*new)
        st.session_state["add-places"] = ""


# --- saving


def _save_row(own: dict) -> None:
    """What can be saved. The row is always there: what comes and goes above the map
    would have the browser build the map anew."""
    changes = session.unsaved(own)
    with st.container(horizontal=True, key="saving", vertical_alignment="center"):
        st.markdown(f"**{frame.plain(own['draft']['document']['property']['name'])}**")
        if own["conflict"]:
            _conflict(own, changes)
        elif changes:
            _unsaved(own, changes)
        tabs.others(own)


def _unsaved(own: dict, changes: list[str]) -> None:
    if own["path"] == str(demo_path()):
        with st.popover("Save as my own", width="content"):
            _name_and_save("My ground")
    else:
        st.button("Save", key="save", type="primary", on_click=session.save)
    with st.popover(f"{len(changes)} unsaved", width="content"):
        tabs.listed(changes)
        st.button("Throw these away", key="throw", on_click=session.throw_away)
    if not own["kept"]:
        st.warning(NOT_KEPT)


def _name_and_save(first: str) -> None:
    st.text_input("Name", value=first, key="save-name")
    st.button("Save it", key="save-as", type="primary", on_click=_save_named)


def _save_named() -> None:
    session.save(st.session_state["save-name"].strip() or "My ground")


def _conflict(own: dict, changes: list[str]) -> None:
    """Another tab or program was quicker: nothing is written before the user chooses."""
    st.warning(frame.plain(own["conflict"]))
    name = own["draft"]["document"]["property"]["name"]
    with st.popover("Keep both", width="content"):
        st.caption("Yours becomes a property of its own beside the other.")
        _name_and_save(f"{name}, mine")
    with st.popover("Keep only the other", width="content"):
        st.caption("Yours is lost:")
        tabs.listed(changes)
        st.button("Throw mine away", key="throw-mine", on_click=session.throw_away)
