"""Season winds, stand by stand: shares as bars, as a table, why not, and by month."""

import calendar

import pandas as pd
import streamlit as st

from core.harmless import csv_cell
from core.season.report import SeasonReport, StandReport
from core.show.charts import STILL, shares_figure
from core.show.fitting import fitted

MONTHS = calendar.month_abbr
NAME_LETTERS = 18


def show(report: SeasonReport) -> None:
    """All of it. Args: the report; it has a stand."""
    st.subheader("Stand by stand")
    stands = sorted(report.stands, key=lambda row: -(row.whole.go or 0.0))
    st.plotly_chart(
        shares_figure(
            [s.name for s in stands],
            [s.whole.go for s in stands],
            [s.whole.cant_call for s in stands],
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


def _row(row: StandReport) -> dict:
    cells = {"stand": csv_cell(row.name), "go": row.whole.go}
    cells |= {sit: some.go for sit, some in row.by_sit.items()}
    cells |= {"can't call": row.whole.cant_call, "stay out": row.whole.stay_out}
    if row.years:
        cells["years"] = f"{row.years.lowest_go:.0%} to {row.years.highest_go:.0%}"
    return cells | {"sits only it has": row.only_stand_sits}


def _why(row: StandReport) -> dict:
    return {
        "stand": csv_cell(row.name),
        "out: the air at the seat": row.why_out.sit,
        "out: the way in": row.why_out.way_in,
        "out: still air": row.why_out.calm,
        "out: other": row.why_out.other,
        "just-off: a bed or food": row.not_clean.sit,
        "just-off: the trail": row.not_clean.trail,
    }


def _percents(rows: list[dict], plain: tuple[str, ...] = ()) -> None:
    """A table of shares, the names held in place while it is moved sideways."""
    table = pd.DataFrame(rows)
    names = list(dict.fromkeys(table["stand"]))  # long ones are told apart by their ends
    table["stand"] = table["stand"].map(dict(zip(names, fitted(names, NAME_LETTERS), strict=True)))
    shares = [c for c in table.columns if c not in ("stand", *plain)]
    in_percent = table.assign(**{c: table[c].astype(float) * 100.0 for c in shares})
    st.dataframe(
        in_percent,
        hide_index=True,
        height="content",
        column_config={
            "stand": st.column_config.TextColumn("stand", pinned=True),
            **{c: st.column_config.NumberColumn(c, format="%.0f %%") for c in shares},
        },
    )


def _months(report: SeasonReport) -> None:
    with st.expander("Go by month"):
        rows = [
            {"stand": csv_cell(row.name), "sit": sit}
            | {MONTHS[month]: v[sit].go for month, v in row.by_month.items() if v[sit].sits}
            for row in report.stands
            for sit in row.by_sit
        ]
        sits = {
            m: sum(v.sits for v in some.values()) for m, some in report.stands[0].by_month.items()
        }
        _percents(rows, plain=("sit",))
        st.caption(f"Sits behind it: {', '.join(f'{MONTHS[m]} {n}' for m, n in sits.items())}.")
