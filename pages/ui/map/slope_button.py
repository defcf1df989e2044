"""The button that keeps slopes of stands, and the choice of stands for it."""

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


def offer_slopes(
    opened: Opened,
    found: Slopes,
    rows: list[dict],
    key: str,
    keep: keeping.Keep | None,
    ready: bool,
) -> None:
    """A table of slopes, and a press that takes some: at first those of stands without one.

    Args: the property; the slopes by a stand's id; the table's rows; the key of the choice;
    where changes are kept; whether they can be.
    """
    ground = opened.property
    st.table(rows)
    new = [s.id for s in ground.stands if s.id in found and s.grade_pct is None]
    chosen = st.multiselect(
        "Keep these slopes for",
        list(found),
        default=new,
        key=f"{key}_{'-'.join(new)}",
        format_func=ground.name_of,
        placeholder="Choose stands",
    )
    slopes = {id_: found[id_] for id_ in chosen}
    label = "Keep 1 slope" if len(slopes) == 1 else f"Keep {len(slopes)} slopes"
    keep_button(label, "slopes_keep", opened, slopes, keep, ready and bool(slopes))
