"""Season winds: what was found, as words, tables, charts and files."""

import calendar
import datetime

import pandas as pd
import streamlit as st

from core.ground.layout import Property
from core.show.charts import STILL, ruler_figure, shares_figure
from core.show.map import Brought, property_map
from core.show.visor import visor_sheet
from core.sits.clock import HALVES
from core.sits.next_stand import next_stands
from core.sits.saw_work import saw_work
from core.sits.season import SeasonAnswer
from core.sits.season_report import (
    LEFT_WORDS,
    hole_words,
    job_words,
    season_csv,
    season_report,
    sits_words,
)
from core.sits.season_ruler import SPEEDS_MPH, Ruler, how_often, winds_that_work, winds_words
from core.sits.visor import middle_of_season
from pages.ui import frame, state
from pages.ui.season import with_bar

MOST_HOLES = 12
MONTHS = calendar.month_abbr
OUT_SAID = {"sit": "out: seat", "way_in": "out: way in", "calm": "calm", "other": "out: other"}


def show(answer: SeasonAnswer, question: tuple) -> None:
    """The whole review. Args: the answer; what was asked."""
    report = state.kept_while("season_report", question, lambda: season_report(answer))
    _head(answer, report)
    _table(report)
    _ruler(answer, report)
    _wind_table(report)
    _holes(answer.scene.ground, report)
    _next(answer, question)
    _ways_in(answer, report, question)
    _files(answer)


def _head(answer: SeasonAnswer, report: dict) -> None:
    whole = report["property"]
    st.header(f"Some stand can be sat on {whole['some_stand_go']:.0%} of {whole['sits']} sits")
    said = [
        f"{whole[h.sit]['some_stand_go']:.0%} of {whole[h.sit]['sits']} {h.sit}s"
        for h in answer.halves
    ]
    years = "one typical year, so no spread between years" if answer.one_year else (
        f"{len(answer.years)} years"
    )  # fmt: skip
    left = f" {answer.unknown} sits without any wind are left out." if answer.unknown else ""
    words = f"{'; '.join(said)}. {report['history']}: {years}.{left}"
    st.write(frame.plain(words))


def _table(report: dict) -> None:
    rows = []
    for row in report["stands"]:
        found = {"stand": row["name"], "go": row["go"]}
        for sit in ("morning", "evening"):
            if sit in row:
                found[sit] = row[sit]["go"]
        found |= {"can't call": row["cant_call"], "stay out": row["stay_out"]}
        if row["years"]:
            low, high = row["years"]["lowest_go"], row["years"]["highest_go"]
            found["years"] = f"{low:.0%} to {high:.0%}"
        found |= {OUT_SAID[k]: v for k, v in row["why_out"].items()}
        found |= {f"off: {k}": v for k, v in (("seat", row["not_clean"]["sit"]),
                                              ("trail", row["not_clean"]["trail"]))}  # fmt: skip
        found["only this"] = row["only_stand_sits"]
        rows.append(found)
    table = pd.DataFrame(rows).sort_values("go", ascending=False) if rows else pd.DataFrame()
    shares = [c for c in table.columns if c not in ("stand", "years", "only this")]
    whole = {c: st.column_config.NumberColumn(c, format="%.0f %%") for c in shares}
    st.plotly_chart(
        shares_figure(list(table["stand"]), table["go"], table["can't call"]),
        config=STILL, theme=None, key="shares",
    )  # fmt: skip
    st.caption(
        "Share of the sits: full is go, hatched is can't call, the rest is stay out. Below, press "
        'a heading to sort. "Only this": sits that no other stand serves.'
    )
    in_percent = table.assign(**{c: table[c] * 100.0 for c in shares})
    st.dataframe(in_percent, hide_index=True, column_config=whole)
    _months(report)


def _months(report: dict) -> None:
    with st.expander("Go by month"):
        rows = [
            {"stand": row["name"], "sit": sit}
            | {MONTHS[int(m)]: round(100 * v[sit]["go"]) for m, v in row["months"].items()
               if v[sit]["sits"]}
            for row in report["stands"]
            for sit in HALVES
            if sit in row
        ]  # fmt: skip
        counts = [
            f"{MONTHS[int(m)]} {sum(v[s]['sits'] for s in v)}"
            for m, v in (report["stands"][0]["months"].items() if rows else ())
        ]
        st.dataframe(pd.DataFrame(rows), hide_index=True)
        st.caption(f"In percent. Sits behind it: {', '.join(counts)}.")


def _ruler(answer: SeasonAnswer, report: dict) -> None:
    with st.container(horizontal=True, gap="small"):
        sit = st.segmented_control(
            "Winds that work", [h.sit for h in answer.halves], default=answer.halves[0].sit,
            key="ruler_sit", required=True,
        )  # fmt: skip
        speed = st.segmented_control(
            "mph", SPEEDS_MPH, default=8, key="ruler_mph", required=True, **state.KEPT
        )
    ruler, blows = winds_that_work(answer, sit, speed), how_often(answer, sit)
    st.subheader(f"Winds that work, {speed} mph, {sit}")
    shares = {row["id"]: row[sit]["go"] for row in report["stands"]}
    figure = ruler_figure(
        [s.name for s in answer.stands], ruler.verdict,
        [f"{shares[s.id]:.0%}" for s in answer.stands], blows.share, blows.none_share,
    )  # fmt: skip
    st.plotly_chart(figure, config=STILL, theme=None, key="ruler")
    st.caption(
        f"Where the wind is from. Full: clean. Half: just-off. Open: stay out. Hatched: can't "
        f"call. From the rules, for {ruler.date} and one wind held all through; half cloud. "
        f"At the right: share of the season's {sit}s it is go. Below: how often each wind blows; "
        f"the bright part leaves no stand. Calm or variable: {blows.calm_share:.0%} of them."
    )
    _in_words(answer, ruler)


def _in_words(answer: SeasonAnswer, ruler: Ruler) -> None:
    """The chart for those who do not see it."""
    with st.expander("The same in words"):
        pairs = zip(answer.stands, ruler.verdict, strict=True)
        lines = [f"{s.name}: {winds_words(row)}" for s, row in pairs]
        st.markdown("\n".join(f"- {frame.plain(line)}" for line in lines))


def _wind_table(report: dict) -> None:
    with st.expander("How many stands each wind leaves"):
        said = {"none": "no stand", "one": "one", "two": "two", "more": "three or more"}
        rows = [
            {"wind": r["wind"], "sits": r["sits"], **{said[w]: r[w] for w in LEFT_WORDS}}
            for r in report["property"]["left"]
        ]
        st.dataframe(pd.DataFrame(rows), hide_index=True)


def _holes(ground: Property, report: dict) -> None:
    whole = report["property"]
    st.subheader("Holes: winds that leave no stand")
    if not whole["holes"]:
        st.write("None.")
    lines = [f"{hole_words(h)}: {sits_words(h['sits_lost'])}" for h in whole["holes"]]
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in lines[:MOST_HOLES]))
    if len(whole["holes"]) > MOST_HOLES:
        st.caption(f"and {len(whole['holes']) - MOST_HOLES} smaller ones")
    st.subheader("Fewest stands")
    names = ", ".join(ground.name_of(i) for i in whole["smallest_set"]) or "none"
    st.write(frame.plain(f"{names}: these keep 95 % of the sits that all stands together serve."))


def _ways_in(answer: SeasonAnswer, report: dict, question: tuple) -> None:
    st.subheader("Next way in")
    ground = answer.scene.ground
    lost = [
        f"{ground.name_of(w['id'])} loses {sits_words(w['sits_lost'])} to its way in alone"
        for w in report["ways_in"]
    ]
    if not lost:
        st.write("No stand loses a sit to its way in alone.")
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in lost))
    st.subheader("Saw work")
    if not st.toggle("Try lanes and moves of stands", key="look_for_jobs"):
        return
    jobs = state.kept_while(
        "season_jobs", question,
        lambda: with_bar(lambda told: saw_work(answer, progress=told), "Trying jobs"),
    )  # fmt: skip
    st.markdown("\n".join(f"- {frame.plain(job_words(j.report()))}" for j in jobs) or "None gains.")
    st.caption("Most sits for a yard cut first. Winter work: helmet, chaps, nobody near.")


def _files(answer: SeasonAnswer) -> None:
    """What can be taken along. The sheet is made when it is asked for."""
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
            "Sheet for the visor", lambda: visor_sheet(answer.scene, date, now_s),
            "season-sheet.html", "text/html", on_click="ignore",
        )  # fmt: skip
        st.download_button(
            "Table as CSV", season_csv(answer), "season.csv", "text/csv", on_click="ignore"
        )


def _next(answer: SeasonAnswer, question: tuple) -> None:
    st.subheader("Next stand")
    if not st.toggle("Look for spots along the trails", key="look_for_spots"):
        return
    found = state.kept_while(
        "season_spots", question,
        lambda: with_bar(lambda told: next_stands(answer, progress=told), "Trying spots"),
    )  # fmt: skip
    if not found:
        st.write("No spot along the trails adds a sit to those the stands have now.")
        return
    scene, names = answer.scene, answer.scene.ground
    spots = []
    for i, spot in enumerate(found, 1):
        east, north = scene.plane.to_local(*spot.lonlat)
        spots.append((float(east), float(north), str(i)))
        words = (
            f"{i}. by {names.name_of(spot.corridor)}: adds {spot.adds_sits} of {spot.of_sits} "
            f"sits, {spot.why}. From {names.name_of(spot.lane)} {spot.cut_yd} yd to cut."
        )
        st.markdown(frame.plain(words))
    st.image(
        property_map(scene, Brought(spots=spots, whole=True), name="spots"),
        alt=f"Map of {names.name} with {len(found)} numbered spots",
        caption="Each adds to the stands and to the spots before it. A tree may not stand there.",
        width="stretch",
    )
