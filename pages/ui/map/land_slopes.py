"""The slope of every stand by the kept heights, beside the typed one; taken on a press."""

import streamlit as st

from core.angles import point_name
from core.ground.heights.slope_at import rounded_slope
from core.ground.layout import Stand
from core.ground.store import Opened
from core.land.agreed import agrees, shown_slope
from core.land.derived import Land, land_on
from core.land.kept import KeptLand
from core.land.lies import suggested_lies
from pages.ui import frame, keeping
from pages.ui.map.slope_button import offer_slopes


def land_slopes(opened: Opened, kept: KeptLand, keep: keeping.Keep | None, ready: bool) -> None:
    """A row a stand: typed, by the heights, how it lies and looks.

    Args: the property; its heights; where changes are kept; whether they can be.
    """
    ground = opened.property
    if not ground.stands:
        return
    st.subheader("Slopes of the stands")
    land = land_on(kept, ground)
    found, rows = {}, []
    for stand in ground.stands:
        shown = shown_slope(kept, stand)
        slope = None if shown is None else rounded_slope(shown)
        if slope is not None:
            found[stand.id] = slope
        rows.append(_row(stand, shown is not None, slope, land))
    st.caption(
        "Where each slope falls to, and how steeply: typed, and by the heights some 30 m about the "
        "stand. What you typed stays until you take another. "
        "How a stand looks is a suggestion: you say how it lies, on its own form."
    )
    offer_slopes(opened, found, rows, "land_slopes", keep, ready)
    odd = [s for s in ground.stands if s.grade_pct is not None and s.id in found]
    odd = [s for s in odd if not agrees(shown_slope(kept, s), s)]
    if odd:
        names = ", ".join(frame.plain(s.name or s.id) for s in odd)
        st.warning(f"Typed otherwise than the heights have it: {names}. “Look it over” says more.")


def _row(stand: Stand, known: bool, slope: tuple[float, float] | None, land: Land) -> dict:
    flat = "flat" if known else "no heights"
    return {
        "stand": frame.plain(stand.name or stand.id),
        "typed": _short(stand.downhill_deg, stand.grade_pct) or "none",
        "heights": _short(*slope) if slope else flat,
        "lies": stand.lies,
        "looks like": suggested_lies(land, stand.at) or "",
    }


def _short(downhill_deg: float | None, grade_pct: float | None) -> str:
    """A slope for a narrow column: WSW 255°, 8 %."""
    if downhill_deg is None:
        return ""
    return (
        f"{point_name(downhill_deg % 360.0)}\u00a0{downhill_deg:.0f}°, {grade_pct or 0.0:g}\u00a0%"
    )
