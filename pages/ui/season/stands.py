"""Season winds, stand by stand: shares as bars, as a table, why not, and by month."""

import calendar

import pandas as pd
import streamlit as st

from core.show.charts import STILL, shares_figure
from core.sit.clock import HALVES

MONTHS = calendar.month_abbr
WHY = {"sit": "the air at the seat", "way_in": "the way in", "calm": "still air", "other": "other"}
NAME_PX = 140
OFF = {"sit": "a bed or food", "trail": "the trail"}


def show(report: dict) -> None:
    """All of it. Args: the report; it has a stand."""
    st.subheader("Stand by stand")
    stands = sorted(report["stands"], key=lambda row: -(row["go"] or 0.0))
    st.plotly_chart(
        shares_figure(
            [s["name"] for s in stands],
            [s["go"] for s in stands],
            [s["cant_call"] for s in stands],
        ),
        config=STILL,
        theme=None,
        key="shares",
    )
    st.caption("Share of the sits. Full: go. Hatched: can't call. Open: stay out.")
    _percents([_row(row) for row in stands], plain=("years", "sits only it has"))
    st.caption("Press a heading to sort. The last column counts sits that no other stand serves.")
    with st.expander("What keeps each stand out"):
        _percents([_why(row) for row in stands])
        st.caption(
            "Shares of all its sits. The first four make up the sits that are not go; other: "
            "closed, not wanted then, strong wind, or no way in drawn. The last two are sits "
            "that are go and not clean."
        )
    _months(report)


def _row(row: dict) -> dict:
    found = {"stand": row["name"], "go": row["go"]}
    found |= {sit: row[sit]["go"] for sit in HALVES if sit in row}
    found |= {"can't call": row["cant_call"], "stay out": row["stay_out"]}
    if row["years"]:
        found["years"] = f"{row['years']['lowest_go']:.0%} to {row['years']['highest_go']:.0%}"
    return found | {"sits only it has": row["only_stand_sits"]}


def _why(row: dict) -> dict:
    found = {"stand": row["name"]}
    found |= {f"out: {said}": row["why_out"][key] for key, said in WHY.items()}
    return found | {f"just-off: {said}": row["not_clean"][key] for key, said in OFF.items()}


def _percents(rows: list[dict], plain: tuple[str, ...] = ()) -> None:
    """A table of shares, the names held in place while it is moved sideways."""
    table = pd.DataFrame(rows)
    shares = [c for c in table.columns if c not in ("stand", *plain)]
    in_percent = table.assign(**{c: table[c].astype(float) * 100.0 for c in shares})
    st.dataframe(
        in_percent,
        hide_index=True,
        height="content",
        column_config={
            "stand": st.column_config.TextColumn("stand", pinned=True, width=NAME_PX),
            **{c: st.column_config.NumberColumn(c, format="%.0f %%") for c in shares},
        },
    )


def _months(report: dict) -> None:
    with st.expander("Go by month"):
        rows = [
            {"stand": row["name"], "sit": sit}
            | {MONTHS[int(m)]: v[sit]["go"] for m, v in row["months"].items() if v[sit]["sits"]}
            for row in report["stands"]
            for sit in HALVES
            if sit in row
        ]
        counts = [
            f"{MONTHS[int(m)]} {sum(v[s]['sits'] for s in v)}"
            for m, v in report["stands"][0]["months"].items()
        ]
        _percents(rows, plain=("sit",))
        st.caption(f"Sits behind it: {', '.join(counts)}.")
