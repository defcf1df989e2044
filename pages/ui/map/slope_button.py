"""The button that keeps slopes of stands."""

import functools
from collections.abc import Mapping

import streamlit as st

from core.ground.heights.slope_at import (
    slope_text,
    with_slopes,
)
from core.ground.store import Opened
from pages.ui import keeping

Slopes = Mapping[str, tuple[float, float] | None]


def keep_button(
    label: str, key: str, opened: Opened, slopes: Slopes, keep: keeping.Keep | None, ready: bool
) -> None:
    ground = opened.property
    words = "; ".join(
        f"{ground.name_of(id_)}: {slope_text(*(slope or (None, None)))}"
        for id_, slope in slopes.items()
    )
    st.button(
        label,
        key=key,
        disabled=not ready,
        on_click=keeping.keep_now,
        args=(opened, functools.partial(with_slopes, slopes=slopes), f"Slope of {words}.", keep),
    )
