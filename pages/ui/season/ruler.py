"""Season winds: the winds that work, on a straight ruler, and how often each blows."""

import streamlit as st

from core.say.season.words import ruler_rows, winds_words
from core.season.report import SeasonReport
from core.season.review import SeasonAnswer
from core.season.ruler import SPEEDS_MPH, Ruler, how_often, winds_that_work
from core.show.charts import STILL, ruler_figure
from pages.ui import frame
from pages.ui.choice import one_of
from pages.ui.season.questions import kept


def worked_out(answer: SeasonAnswer, sit: str, speed_mph: int, question: tuple) -> Ruler:
    """The winds that work at one speed, worked out once. Args: the answer; the kind of sit;
    the speed; what was asked."""
    return kept(
        f"ruler_{sit}_{speed_mph}", question, lambda: winds_that_work(answer, sit, speed_mph)
    )


def show(answer: SeasonAnswer, report: SeasonReport, question: tuple) -> None:
    """The chart and its words. Args: the answer, its report, what was asked."""
    st.subheader("Winds that work")
    sits = report.ground.sits_had
    with st.container(horizontal=True, gap="small"):
        sit = st.segmented_control(
            "Sit",
            sits,
            default=sits[0],
            key="ruler_sit",
            required=True,
        )
        speed = one_of(st.segmented_control, "Wind, mph", SPEEDS_MPH, default=8, key="ruler_mph")
    ruler, blows = worked_out(answer, sit, speed, question), how_often(answer, sit)
    names, verdict, shares = ruler_rows(report, ruler)
    right = [f"{share:.0%}" for share in shares]
    figure = ruler_figure(names, verdict, right, blows.share, blows.none_share)
    st.plotly_chart(figure, config=STILL, theme=None, key="ruler")
    st.caption(
        f"Across: where the wind is from, at {speed} mph on a {sit} of {ruler.date}, the same "
        "all through, half the sky in cloud. Full: clean. Half: just-off. Open: stay out. "
        f"Hatched: can't call. At the right: the share of the season's {sit}s that it is go. "
        f"Below: the share of the {sit}s that each wind has; the bright part left no stand. "
        f"Calm or variable, and so not here: {blows.calm_share:.0%}."
    )
    with st.expander("The same in words"):
        lines = [f"{name}: {winds_words(row)}" for name, row in zip(names, verdict, strict=True)]
        st.markdown("\n".join(f"- {frame.plain(line)}" for line in lines))
