"""Season winds: what was found. The answer in words first, then what stands behind it."""

import datetime

import pandas as pd
import streamlit as st

from core.season.report import LEFT_WORDS, hole_words, season_csv, season_report, watch_words
from core.season.review import SeasonAnswer
from core.season.summary import (
    fill_told,
    halves_sat,
    hole_told,
    left_over,
    served_words,
    stand_words,
    year_words,
)
from core.season.visor import middle_of_season
from core.show.visor import visor_sheet
from pages.ui import frame, state
from pages.ui.season import fill, ruler, stands

TOLD_MPH = 8  # the wind in which the answer in words is told
LEFT_SAID = {"none": "no stand", "one": "one", "two": "two", "more": "three or more"}


def show(answer: SeasonAnswer, question: tuple) -> None:
    """The whole review. Args: the answer; what was asked."""
    report = state.kept_while("season_report", question, lambda: season_report(answer))
    with st.container(key="season_head"):
        _head(answer, report, question)
    ruler.show(answer, report, question)
    _holes(report)
    fill.show(answer, report, question)
    stands.show(report)
    _take_along(answer)


def _head(answer: SeasonAnswer, report: dict, question: tuple) -> None:
    whole = report["property"]
    st.header(f"Some stand can be sat on {whole['some_stand_go']:.0%} of {whole['sits']} sits")
    said = [
        f"{whole[h.sit]['some_stand_go']:.0%} of {whole[h.sit]['sits']} {h.sit}s"
        for h in halves_sat(answer)
    ]
    said.append(year_words(answer))
    st.write(frame.plain(f"{'; '.join(s for s in said if s)}."))
    ids, left = whole["smallest_set"], left_over(answer)
    rulers = [ruler.worked_out(answer, h.sit, TOLD_MPH, question) for h in halves_sat(answer)]
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


def _about(answer: SeasonAnswer, report: dict) -> str:
    history = f"{report['history'][:1].upper()}{report['history'][1:]}"
    left = f" {answer.unknown} sits without any wind are left out." if answer.unknown else ""
    typical = ""
    if answer.weather.kind == "typical":
        typical = (
            " It is put together from real months of many years and shows how the page works; "
            "for other country bring the files of a station near you."
        )
    years = " One year, so no spread between years." if answer.one_year else ""
    return (
        f"Wind: {history}.{typical}{years}{left} The stands named are the fewest that keep 95 % "
        "of the sits that all of them serve."
    )


def _holes(report: dict) -> None:
    whole = report["property"]
    with st.expander("Sits without a stand, wind by wind"):
        rows = [{"wind": hole_words(h), "sits": h["sits_lost"]} for h in whole["holes"]]
        if rows:
            st.dataframe(pd.DataFrame(rows), hide_index=True)
        else:
            st.write("None.")
    with st.expander("How many stands each wind leaves"):
        counts = [
            {"wind": r["wind"], "sits": r["sits"], **{LEFT_SAID[w]: r[w] for w in LEFT_WORDS}}
            for r in whole["left"]
        ]
        st.dataframe(pd.DataFrame(counts), hide_index=True, height="content")
        st.caption("In sits: how many of that wind's leave no stand, one, two, three or more.")


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
