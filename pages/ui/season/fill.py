"""Season winds: what would fill a hole. A next stand, a next way in, and saw work."""

import streamlit as st

from core.chores.jobs import job_of_saw, job_of_spot
from core.say.season.words import job_words, sits_words
from core.season.next_stand import NextStand, next_stands
from core.season.report import SeasonReport
from core.season.review import SeasonAnswer
from core.season.saw_work import saw_work
from core.show.emphasis import Emphasis
from core.show.map import property_map
from pages.ui import frame, state
from pages.ui.ground_sheet import picture
from pages.ui.season.questions import with_bar
from pages.ui.season.to_work import put_on_list

MOST_WAYS = 6


def show(answer: SeasonAnswer, report: SeasonReport, question: tuple) -> None:
    """The three. Args: the answer; its report; what was asked."""
    st.subheader("Next stand")
    if st.toggle("Look for spots along the trails", key="look_for_spots"):
        _spots(answer, question)
    st.subheader("Next way in")
    _ways_in(answer, report)
    st.subheader("Saw work")
    if st.toggle("Try lanes and moves of stands", key="look_for_jobs"):
        _jobs(answer, question)


def _spots(answer: SeasonAnswer, question: tuple) -> None:
    spots_found = state.kept_while(
        "season_spots",
        question,
        lambda: with_bar(lambda told: next_stands(answer, progress=told), "Trying spots"),
    )
    if not spots_found:
        st.write("No spot along the trails adds a sit to those the stands have now.")
        return
    scene, names = answer.scene, answer.scene.ground
    spots = []
    for i, spot in enumerate(spots_found, 1):
        east, north = scene.plane.to_local(*spot.lonlat)
        spots.append((float(east), float(north), str(i)))
        st.markdown(frame.plain(_spot_words(i, spot, names.name_of)))
    emphasis = Emphasis(spots=spots, whole=True)
    picture(lambda wide: property_map(scene, emphasis, name="spots", width=wide), "spots_map")
    st.caption("Each adds to the stands and to the spots before it. A tree may not stand there.")
    put_on_list([job_of_spot(spot, names, i) for i, spot in enumerate(spots_found, 1)], "spots")


def _spot_words(number: int, spot: NextStand, name_of) -> str:
    return (
        f"{number}. {spot.place}, by {name_of(spot.corridor)} ({spot.seat}): adds "
        f"{sits_words(spot.adds_sits)} of {spot.of_sits}, {spot.why}. "
        f"From {name_of(spot.lane)} {spot.cut_yd} yd to cut."
    )


def _ways_in(answer: SeasonAnswer, report: SeasonReport) -> None:
    name_of = answer.scene.ground.name_of
    lost = [f"{name_of(id_)}: {sits_words(sits)}" for id_, sits in report.ways_in]
    if not lost:
        st.write("No stand loses a sit to its way in alone.")
        return
    st.write("Sits that are lost to the way in alone; another way in would win them back:")
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in lost[:MOST_WAYS]))
    if len(lost) > MOST_WAYS:
        st.caption(f"and {len(lost) - MOST_WAYS} stands that lose no more than these")


def _jobs(answer: SeasonAnswer, question: tuple) -> None:
    jobs = state.kept_while(
        "season_jobs",
        question,
        lambda: with_bar(lambda told: saw_work(answer, progress=told), "Trying jobs"),
    )
    st.markdown("\n".join(f"- {frame.plain(job_words(j))}" for j in jobs) or "None gains.")
    st.caption(
        "Most sits for a yard cut first; the sits are those of that stand. Winter work: helmet, "
        "chaps, nobody near."
    )
    put_on_list([job_of_saw(job, answer.scene.ground) for job in jobs], "jobs")
