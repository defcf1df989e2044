"""One of a few things to choose, of which one always holds."""

from collections.abc import Callable, Sequence
from typing import Any

import streamlit as st

from pages.ui import frame, state


def one_of(
    widget: Callable[..., Any],
    label: str,
    options: Sequence,
    *,
    default: Any,
    key: str,
    **more: Any,
) -> Any:
    """What is chosen, kept in the link and from page to page.

    A link that names nothing (`?cloud=`) empties even a choice that must be made: then the
    default holds, and that is said.

    Args: st.segmented_control or st.pills; as those take. Returns: one of the options.
    """
    value = widget(
        label, options, default=default, key=key, required=True, **{**state.KEPT, **more}
    )
    if value is not None:
        return value
    word = more.get("format_func", str)(default)
    st.caption(frame.plain(f"{label}: the link says nothing, so it is {word}."))
    return default
