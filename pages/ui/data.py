"""What the pages read: property files and their geometry. The only caches."""

from pathlib import Path

import streamlit as st

from core.ground.store import Opened, open_property
from core.sit.scene import Scene


def opened(path: Path) -> Opened:
    """A property file, read again whenever it has changed.

    Args: its path. Raises: BadProperty.
    """
    return _opened(str(path), _stamp(path))


def scene(path: Path) -> Scene:
    """The ground made ready for sums, kept until its file changes.

    Args: path of the property file. Raises: BadProperty.
    """
    return _scene(str(path), _stamp(path))


def _stamp(path: Path) -> tuple[int, int]:
    try:
        status = path.stat()
    except OSError:
        return (0, 0)  # opening it then says what is wrong
    return (status.st_mtime_ns, status.st_size)


@st.cache_resource(max_entries=4, show_spinner=False)
def _opened(path: str, stamp: tuple[int, int]) -> Opened:  # noqa: ARG001 (part of the key)
    return open_property(path)


@st.cache_resource(max_entries=4, show_spinner=False)
def _scene(path: str, stamp: tuple[int, int]) -> Scene:
    return Scene(_opened(path, stamp).property)


def stamp(path: Path) -> tuple[int, int]:
    """Changes whenever a file does. Args: its path."""
    return _stamp(path)
