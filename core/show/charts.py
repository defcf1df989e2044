"""Charts of a season: rows on a straight ruler of directions, and shares as bars.

One blue as a full, half and open mark, hatching for can't call, the word beside it.
Figures are drawn still (`STILL`), so that a finger scrolls the page over them.
"""

import html
from collections.abc import Sequence
from typing import Any

import numpy as np

from core.angles import POINTS_16
from core.harmless import harmless
from core.show.fitting import fitted
from core.show.palette import DARK, Palette
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF

STILL = {"staticPlot": True, "displayModeBar": False}
STEP_DEG, CELL_DEG = 10.0, 9.0
ROW_PX, RULER_PX, BLOW_PX = 30, 64, 96
NAME_LETTERS = 15
BAR = 0.72  # height of a mark, of a row
HATCH = "/"


def short(names: Sequence[str]) -> list[str]:
    """Names that fit beside rows, harmless in a chart. Args: the names."""
    return [label(name) for name in fitted(names, NAME_LETTERS)]


def label(words: str) -> str:
    """Words that plotly shows letter by letter; it reads some HTML in them. Args: any text."""
    return html.escape(harmless(words))


def _ruler_words(figure, rows, right: Sequence[str]) -> None:
    """What stands at the end of each row, and before the lower panel."""
    figure.add_annotation(
        x=0.0,
        xref="paper",
        xanchor="right",
        y=0.0,
        yref="paper",
        yanchor="bottom",
        xshift=-4,
        text="how often<br>it blows",
        showarrow=False,
        align="right",
    )
    for row, words in zip(rows, right, strict=True):
        figure.add_annotation(
            x=1.0,
            xref="paper",
            xanchor="left",
            y=row,
            yref="y",
            text=label(words),
            showarrow=False,
            xshift=4,
        )


def ruler_figure(
    names: Sequence[str],
    verdict,
    right: Sequence[str],
    blows,
    none_share,
    colours: Palette = DARK,
):
    """Winds that work: a row of marks for each stand, and below how often it blows.

    Args: names; verdicts, shape (stand, 36); what stands at the end of each row; the
    share of sits each wind has, and of them the share that leaves no stand, shape (36,).
    """
    from plotly.subplots import make_subplots

    n = max(1, len(names))
    heights = [n * ROW_PX + RULER_PX, BLOW_PX]
    figure = make_subplots(
        rows=2, cols=1, shared_xaxes=True, vertical_spacing=0.04, row_heights=heights
    )
    for trace in mark_traces(np.asarray(verdict), colours):
        figure.add_trace(trace, row=1, col=1)
    _blow_traces(figure, blows, none_share, colours)
    rows = -np.arange(len(names))
    figure.update_yaxes(
        tickvals=rows,
        ticktext=short(names),
        range=[-n + 0.4, 0.6],
        showgrid=False,
        zeroline=False,
        row=1,
        col=1,
    )
    most = float(np.max(blows, initial=0.0))
    figure.update_yaxes(
        tickvals=[0.0, most],
        ticktext=["0%", f"{most:.0%}"],
        side="right",
        range=[0.0, 1.1 * most],
        showgrid=False,
        zeroline=False,
        row=2,
        col=1,
    )
    _ruler_axis(figure)
    _ruler_words(figure, rows, right)
    return dressed(figure, sum(heights) + 40, colours, right_px=52)


def _ruler_axis(figure) -> None:
    at = np.arange(0.0, 360.0, 45.0)
    figure.update_xaxes(
        range=[-6, 356],
        tickvals=at,
        ticktext=[POINTS_16[int(d // 22.5)] for d in at],
        showgrid=False,
        zeroline=False,
    )
    figure.update_xaxes(side="top", showticklabels=True, row=1, col=1)
    figure.update_xaxes(side="bottom", showticklabels=True, row=2, col=1)


def mark_traces(verdict, colours: Palette) -> list[Any]:
    """Marks of a grid of verdicts, as bars. Args: shape (row, direction); colours."""
    import plotly.graph_objects as go

    row, column = np.indices(verdict.shape).reshape(2, -1)
    flat = verdict.ravel()
    low = -row - BAR / 2
    edge = {"color": colours.blue, "width": 1}

    def bars(mask, height: float, name: str, **looks):
        return go.Bar(
            x=column[mask] * STEP_DEG,
            y=np.full(int(mask.sum()), height),
            base=low[mask],
            width=CELL_DEG,
            name=name,
            showlegend=False,
            **looks,
        )

    clear = {"color": "rgba(0,0,0,0)"}
    works, unsure = np.isin(flat, (CLEAN, JUST_OFF)), flat == CANT_CALL
    faint = {**clear, "line": {"color": colours.line, "width": 1}}
    hatch = {"shape": HATCH, "fgcolor": colours.soft, "bgcolor": colours.paper, "size": 5}
    return [
        bars(~works & ~unsure, BAR, "wrong wind", marker=faint),
        bars(works, BAR, "outline", marker={**clear, "line": edge}),
        bars(flat == CLEAN, BAR, "clean", marker={"color": colours.blue, "line": edge}),
        bars(flat == JUST_OFF, BAR / 2, "just-off", marker={"color": colours.blue, "line": edge}),
        bars(
            unsure,
            BAR,
            "can't call",
            marker={
                "color": colours.paper,
                "pattern": hatch,
                "line": {"color": colours.soft, "width": 1},
            },
        ),
    ]


def _blow_traces(figure, blows, none_share, colours: Palette) -> None:
    """How often each wind blows: plain, and the part that leaves no stand bright."""
    import plotly.graph_objects as go

    at = np.arange(len(blows)) * STEP_DEG
    lost = np.asarray(blows) * none_share
    for height, base, colour, name in (
        (lost, np.zeros(len(lost)), colours.ink, "leaves no stand"),
        (blows - lost, lost, colours.line, "some stand"),
    ):
        figure.add_trace(
            go.Bar(
                x=at,
                y=height,
                base=base,
                width=CELL_DEG,
                name=name,
                showlegend=False,
                marker={"color": colour, "line": {"width": 0}},
            ),
            row=2,
            col=1,
        )


def shares_figure(names: Sequence[str], go_share, cant_share, colours: Palette = DARK):
    """Go, can't call and stay out of each stand as one bar. Args: names; shares, (stand,)."""
    import plotly.graph_objects as go

    rows, clear = -np.arange(len(names)), "rgba(0,0,0,0)"
    go_share, cant_share = np.asarray(go_share, float), np.asarray(cant_share, float)
    hatch = {"shape": HATCH, "fgcolor": colours.soft, "bgcolor": colours.paper, "size": 5}
    looks = (
        (go_share, {"color": colours.blue}),
        (
            cant_share,
            {"color": colours.paper, "pattern": hatch, "line": {"color": colours.soft, "width": 1}},
        ),
        (
            1.0 - go_share - cant_share,
            {"color": clear, "line": {"color": colours.line, "width": 1}},
        ),
    )
    figure = go.Figure(
        [
            go.Bar(x=values, y=rows, orientation="h", width=BAR, marker=marker, showlegend=False)
            for values, marker in looks
        ]
    )
    figure.update_layout(barmode="stack")
    figure.update_xaxes(
        range=[0, 1.04],
        tickvals=[0, 0.25, 0.5, 0.75, 1],
        tickformat=".0%",
        showgrid=False,
        zeroline=False,
        side="top",
    )
    figure.update_yaxes(
        tickvals=rows,
        ticktext=short(names),
        showgrid=False,
        zeroline=False,
        range=[-max(1, len(names)) + 0.4, 0.6],
    )
    return dressed(figure, len(names) * ROW_PX + 60, colours)


def dressed(figure, height: float, colours: Palette, right_px: int = 12):
    """A figure in the program's colours. Args: figure; height and right margin [px]; colours."""
    figure.update_layout(
        barmode="overlay" if figure.layout.barmode is None else figure.layout.barmode,
        height=height,
        paper_bgcolor=colours.paper,
        plot_bgcolor=colours.paper,
        font={"color": colours.ink, "size": 13},
        margin={"l": 8, "r": right_px, "t": 28, "b": 8},
    )
    figure.update_yaxes(automargin=True, fixedrange=True)
    figure.update_xaxes(fixedrange=True)
    return figure
