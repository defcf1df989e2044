"""Season winds: what was found. The answer in words first, then what stands behind it."""

import datetime

import pandas as pd
import streamlit as st

from core.say.log.felt import turn_lines
from core.say.season.tables import season_csv
from core.say.season.words import (
    at_most,
    fill_told,
    hole_told,
    hole_words,
    left_out_words,
    other_country,
    served_words,
    stand_words,
    watch_words,
    year_words,
)
from core.season.report import SeasonReport, season_report
from core.season.review import SeasonAnswer, land_notes
from core.season.visor import middle_of_season
from core.show.visor import visor_sheet
from pages.ui import frame, state
from pages.ui.season import fill, ruler, stands
from pages.ui.season.questions import kept

TOLD_MPH = 8  # the wind in which the answer in words is told


def show(answer: SeasonAnswer, question: tuple) -> None:
    """The whole review. Args: the answer; what was asked."""
    report = kept("season_report", question, lambda: season_report(answer))
    with st.container(key="season_head"):
        _head(answer, report, question)
    ruler.show(answer, report, question)
    _holes(report)
    fill.show(answer, report, question)
    stands.show(report)
    _felt(answer)
    _take_along(answer)


def _head(answer: SeasonAnswer, report: SeasonReport, question: tuple) -> None:
    ground = report.ground
    if other := other_country(answer.weather, answer.scene.ground.center):
        st.warning(frame.plain(other))
    share = f"{at_most(report)}{ground.some_stand_go:.0%}"
    st.header(f"Some stand can be sat on {share} of {ground.sits} sits")
    some = {sit: ground.by_sit[sit] for sit in ground.sits_had}
    said = [f"{kind.some_stand_go:.0%} of {kind.sits} {sit}s" for sit, kind in some.items()]
    said.append(year_words(ground.years))
    st.write(frame.plain(f"{'; '.join(s for s in said if s)}."))
    ids, left = ground.smallest_set, ground.without_stand
    rulers = [ruler.worked_out(answer, sit, TOLD_MPH, question) for sit in ground.sits_had]
    _part(f"Which stand, which wind at {TOLD_MPH} mph", served_words(answer, ids))
    st.markdown("\n".join(f"- {frame.plain(x)}" for x in stand_words(answer, ids, rulers)))
    _part("The hole", hole_told(left))
    look = " Next stand, below, looks for the spot." if left.winds else ""
    _part("What would fill it", f"{fill_told(left)}{look}")
    for words in watch_words(report):
        st.write(frame.plain(f"{words[:1].upper()}{words[1:]}."))
    st.caption(frame.plain(_about(answer, report)))


def _part(name: str, words: str) -> None:
    st.markdown(f"**{name}.** {frame.plain(words)}")


def _about(answer: SeasonAnswer, report: SeasonReport) -> str:
    history = f"{report.history[:1].upper()}{report.history[1:]}"
    left = "".join(f" {words}" for words in left_out_words(report.ground))
    typical = ""
    if answer.weather.kind == "typical":
        typical = (
            " It is put together from real months of many years and shows how the page works; "
            "for other country bring the files of a station near you."
        )
    years = " One year, so no spread between years." if answer.one_year else ""
    land = "".join(f" {note[:1].upper()}{note[1:]}." for note in land_notes(answer.scene))
    return (
        f"Wind: {history}.{typical}{years}{left}{land} The stands named are the fewest that keep "
        "95 % of the sits that all of them serve."
    )


def _holes(report: SeasonReport) -> None:
    with st.expander("Sits without a stand, wind by wind"):
        rows = [{"wind": hole_words(h), "sits": h.sits_lost} for h in report.ground.holes]
        if rows:
            st.dataframe(pd.DataFrame(rows), hide_index=True)
        else:
            st.write("None.")
    with st.expander("How many stands each wind leaves"):
        counts = [
            {
                "wind": row.wind,
                "sits": row.sits,
                "no stand": row.none,
                "one": row.one,
                "two": row.two,
                "three or more": row.more,
            }
            for row in report.ground.left
        ]
        st.dataframe(pd.DataFrame(counts), hide_index=True, height="content")
        st.caption("In sits: how many of that wind's leave no stand, one, two, three or more.")


def _felt(answer: SeasonAnswer) -> None:
    """The felt turns that were taken up: the stands are judged by them here too."""
    for line in turn_lines(answer.scene.ground):
        st.caption(f"As you felt it: {frame.plain(line)}")


def _take_along(answer: SeasonAnswer) -> None:
    """The files. The sheet is made when it is asked for."""
    now_s = state.now_s()
    year = datetime.datetime.fromtimestamp(now_s, tz=datetime.UTC).year
    date = middle_of_season(answer.scene.ground, year)
    st.subheader("To take along")
    st.write(
        "The sheet for the sun visor: one printed page, for 16 winds the first and second "
        "choice. It needs no power and no signal."
    )
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            "Sheet for the visor",
            lambda: visor_sheet(answer.scene, date, now_s),
            "season-sheet.html",
            "text/html",
            on_click="ignore",
        )
        st.download_button(
            "Table as CSV", season_csv(answer), "season.csv", "text/csv", on_click="ignore"
        )
