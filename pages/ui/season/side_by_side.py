"""Modelled and measured wind of one's own ground beside each other."""

from pathlib import Path

import pandas as pd
import streamlit as st

from core.season.report import beside, season_report
from core.season.review import SeasonAnswer, judge_season
from pages.ui import data
from pages.ui.season.own_history import MEASURED, MODELLED, kept

BOTH = "history_both"  # whether modelled and measured were asked for side by side


def side_by_side(answer: SeasonAnswer, asked, path: Path) -> None:
    """Modelled and measured shares beside each other, where both are kept; never blended.

    Args: the season that is looked at; what was asked; the property's file.
    """
    by = kept(answer.scene.ground) if asked.question[2][:1] == ("own",) else {}
    if len(by) < 2:
        return
    with st.expander("Modelled beside measured", expanded=st.session_state.get(BOTH, False)):
        if not st.button("Judge both", key="judge_both", on_click=_both_open):
            return
        more = {"span": asked.span, "kinds": asked.kinds}
        both = [judge_season(data.scene(path), by[name], **more) for name in (MODELLED, MEASURED)]
        rows = beside(*map(season_report, both))
        said = [
            {
                "stand": r.name,
                "modelled, at most": _share(r.at_most),
                "measured": _share(r.measured),
            }
            for r in rows
        ]
        st.dataframe(pd.DataFrame(said), hide_index=True)
        st.caption(
            "Sits with a go. Modelled wind has too few still mornings; a station stands in the "
            "open, and not on your ground."
        )


def _both_open() -> None:
    st.session_state[BOTH] = True


def _share(value: float | None) -> str:
    return "none" if value is None else f"{value:.0%}"
