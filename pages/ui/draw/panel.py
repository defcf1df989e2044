"""The drawing part of the Map page: saving above, the map, and beside it what is chosen."""

import streamlit as st

from core.ground.drawing.draft import Step
from core.ground.drawing.edits import shape_first
from core.ground.kinds import LINE, POLYGON
from core.ground.plan import Plane
from core.ground.store import demo_path
from core.say.measures import DEFAULT_WALK_MPH
from core.units import M_PER_YD, MPS_PER_MPH, SQ_M_PER_ACRE
from pages.ui import frame
from pages.ui.draw import kinds
from pages.ui.draw.changes import MAP, take_gestures
from pages.ui.draw.component import PAGE_STYLE, ground_map
from pages.ui.draw.form import chosen_form
from pages.ui.draw.in_use import in_use
from pages.ui.draw.page_draft import LATER, PageDraft
from pages.ui.draw.save_row import save_row
from pages.ui.draw.things import add_typed, things_list

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
EMPTY = (
    "Nothing is drawn yet. Choose Add to draw a stand, a trail, a bed. Aerial photo, below, "
    "shows what to trace; Files, farther down, brings in what you have."
)


def draw_panel() -> None:
    """The whole part. Raises: BadProperty."""
    st.html(f"<style>{PAGE_STYLE}</style>")
    draft = in_use()
    if draft.path == demo_path():
        frame.say_no_such_ground()
    save_row(draft)
    left, right = st.columns([3, 2], gap="medium")
    with left:
        photo = st.session_state.get("photo", False)
        ground_map(_shown(draft, photo), key=MAP, on_ops=take_gestures)
        st.toggle("Aerial photo", key="photo", help=IMAGERY_TOLD)
        if photo:
            st.caption(IMAGERY_TOLD)
    with right:
        things_list(draft)
        if not draft.is_locked:
            chosen_form(draft.document, draft.picked)
            add_typed()


def _shown(draft: PageDraft, photo: bool) -> dict:
    """All that the map needs, as plain values under the names that its script knows."""
    document = draft.document
    rules = document["property"]
    plane = Plane(tuple(rules["center"]))
    mph = (rules.get("sit") or {}).get("walk_mph") or DEFAULT_WALK_MPH
    return {
        "ground": str(draft.path),
        "tab": draft.map_tab,
        "done": draft.gestures_done,
        "features": [_feature(item) for item in document["features"]],
        "picked": draft.picked,
        "said": draft.note,
        "trouble": draft.is_trouble,
        "idle": _idle(draft),
        "undo": _last(draft.draft.past),
        "redo": _last(draft.draft.future),
        "kinds": _kinds(),
        "center": rules["center"],
        "yard": M_PER_YD,
        "acre": SQ_M_PER_ACRE,
        "scale": {"lon": plane.m_per_lon_deg, "lat": plane.m_per_lat_deg},
        "walk_mps": mph * MPS_PER_MPH,
        "locked": draft.is_locked,
        "imagery": IMAGERY if photo else None,
    }


def _idle(draft: PageDraft) -> str:
    if draft.is_locked:
        return LATER
    return IDLE if draft.document["features"] else EMPTY


def _feature(item: dict) -> dict:
    return {
        "id": item["id"],
        "kind": kinds.kind_of(item),
        "name": kinds.feature_name(item),
        "geometry": item["geometry"],
    }


def _last(steps: tuple[Step, ...]) -> str:
    return steps[-1].done if steps else ""


def _kinds() -> list[dict]:
    """What can be added: each kind in its usual shape, some as an area too."""
    found = [(kind, shape_first(kind), kinds.KIND_WORDS[kind]) for kind in kinds.KIND_WORDS]
    found += [(kind, POLYGON, f"{_short(kind)}, an area") for kind in kinds.AREAS_TOO]
    found.append(("other", LINE, "Other, a line"))
    return [
        {
            "value": f"{kind}-{shape}",
            "kind": kind,
            "shape": shape,
            "label": label,
            "hint": kinds.HINTS.get(kind, kinds.HINTS[shape]),
        }
        for kind, shape, label in found
    ]


def _short(kind: str) -> str:
    return "Water" if kind == "water" else "Other"
