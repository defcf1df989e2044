"""What the pages remember: every key of the session and of the link, in one place.

Widgets keep their own values (bind="query-params" puts them in the link,
persist_state="session" carries them from page to page): `KEPT` is what such a
widget takes. The ground in use is a plain key, because several pages set it.
"""

import datetime
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import streamlit as st

from core.ground.files.in_use import remember, remembered
from core.ground.store import data_folder, demo_path, own_properties

GROUND = "ground"  # name of the property file in use; empty for the demo
KEPT: dict[str, Any] = {"bind": "query-params", "persist_state": "session"}


def follow_link() -> None:
    """Takes the ground from the link, else from the session, else the last one used."""
    named = st.query_params.get(GROUND)
    if named is not None:
        st.session_state[GROUND] = named
    elif GROUND not in st.session_state:
        st.session_state[GROUND] = remembered()
    elif st.session_state[GROUND]:
        st.query_params[GROUND] = st.session_state[GROUND]


def link_params() -> dict[str, str]:
    """What every link between pages carries."""
    return {GROUND: st.session_state[GROUND]} if st.session_state.get(GROUND) else {}


def ground_path() -> Path:
    """The property file in use; the demo where the one named is not there."""
    own = {path.stem: path for path in own_properties()}
    return own.get(st.session_state.get(GROUND, ""), demo_path())


def lost_name() -> str:
    """The ground that was asked for and is not there; empty for any other."""
    name = st.session_state.get(GROUND, "")
    return "" if name in {"", *(path.stem for path in own_properties())} else name


def lost_path() -> Path | None:
    """Where the ground would lie that is not there; None for one that could not have been."""
    name = lost_name()
    could_be = name and Path(name).name == name and name.isprintable() and name[0] != "."
    return data_folder() / f"{name}.json" if could_be else None


def key_of(path: Path) -> str:
    """What tells a ground's widgets from another's. Args: its file."""
    return "" if path == demo_path() else path.stem


def use_ground(path: Path) -> None:
    """Makes a property the one in use, here and at the next start. Args: its file."""
    name = key_of(path)
    st.session_state[GROUND] = name
    if name:
        st.query_params[GROUND] = name
    else:
        st.query_params.pop(GROUND, None)
    remember(name)


def now_s() -> float:
    """The clock. [epoch s]  STAND_WIND_NOW, an ISO time, stands in for it in tests."""
    named = os.environ.get("STAND_WIND_NOW")
    return datetime.datetime.fromisoformat(named).timestamp() if named else time.time()


def kept_default(key: str, make: Callable[[], Any]) -> Any:
    """A default that is worked out once a session, so that no rerun moves it.

    Args: its key; what makes it.
    """
    if key not in st.session_state:
        st.session_state[key] = make()
    return st.session_state[key]


def chosen(key: str) -> str:
    """A plain choice that a button made, from the session or the link; else empty."""
    if key not in st.session_state:
        st.session_state[key] = st.query_params.get(key, "")
    return st.session_state[key]


def choose(key: str, value: str) -> None:
    """Makes a plain choice, here and in the link. Args: key; value, empty for none."""
    st.session_state[key] = value
    if value:
        st.query_params[key] = value
    else:
        st.query_params.pop(key, None)


def kept_while(key: str, question: Any, make: Callable[[], Any]) -> Any:
    """An answer that took long, kept while the same is asked. Args: its key; what is
    asked, to compare; what answers it."""
    held = st.session_state.get(key)
    if held is None or held[0] != question:
        st.session_state[key] = held = (question, make())
    return held[1]


def afresh() -> None:
    """Another sit or wind: the first choice heads the home screen again."""
    choose("stand", "")
