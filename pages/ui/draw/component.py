"""The drawing map as a Streamlit component: Leaflet, as its package brings it, and our part.

Leaflet travels once, as a component of its own that never changes; ours waits for it.
Every change of a component's data sends its code again, and ours is small.
"""

import functools
import importlib.metadata
from pathlib import Path

import streamlit as st

HERE = Path(__file__).parent
PACKAGE = "xstatic-leaflet"
SCRIPTS = (  # joined into one: a component takes one script
    "editor.js",
    "sheet.js",
    "shapes.js",
    "names.js",
    "handles.js",
    "sketch.js",
    "tools.js",
    "numbers.js",
)
NOTHING = "\nexport default () => {};\n"


def _leaflet(file_name: str) -> str:
    """A file of the Leaflet package, without its pointer to a map of its source."""
    files = importlib.metadata.files(PACKAGE) or []
    place = next(f for f in files if f.name == file_name)
    lines = place.read_text(encoding="utf-8").splitlines()
    return "\n".join(line for line in lines if not line.startswith("//# sourceMappingURL"))


def _own(*names: str) -> str:
    return "\n".join((HERE / name).read_text(encoding="utf-8") for name in names)


PAGE_STYLE = _own("page.css")


@functools.cache
def _parts():
    """Both components, registered once a process."""
    library = st.components.v2.component("stand_wind_leaflet", js=_leaflet("leaflet.js") + NOTHING)
    editor = st.components.v2.component(
        "stand_wind_map",
        html=_own("editor.html"),
        css=_leaflet("leaflet.css") + _own("editor.css"),
        js=_own(*SCRIPTS),
    )
    return library, editor


def ground_map(data: dict, *, key: str, on_ops) -> None:
    """Draws the map.

    Args: what it shows, plain values only; its key; what is called when gestures came:
    they lie in st.session_state[key]["ops"].
    """
    library, editor = _parts()
    with st.container(key="leaflet"):
        library(key="leaflet_code")
    editor(data=data, key=key, on_ops_change=on_ops)
