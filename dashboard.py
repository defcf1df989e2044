"""Pick a sit: the home page. Which stand, which way, and why.

`streamlit run` imports this file for `app`, which answers requests; the app then runs it
as the page for each visitor.
"""

import pickle

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.hours import Hours
from pages.ui import callers, data, frame, state
from pages.ui.home import answer
from pages.ui.home.coming import coming
from pages.ui.home.given import is_example, remember_given, say_example
from pages.ui.home.hold import at_once, hold, likely
from pages.ui.home.no_wind import known_so_far
from pages.ui.home.puff import by_a_puff
from pages.ui.home.sit import AskedSit, ask_others, ask_sit, ask_weapon, planned_by_others
from pages.ui.home.wind import ask_wind

# from top to bottom on a phone; on a desk the air stands beside the rest of the answer, and
# the groups of a band beside each other (style.css)
BANDS = {
    "first": (("after",),),
    "answer": (("head", "hold", "plan", "air", "clock", "others"),),
    "below": (("light", "change"), ("coming", "people", "pocket")),
    "last": (("safety",),),
}


def looked_at(found: SitAnswer) -> StandSit:
    """The stand that is looked at: the one chosen, else the first choice."""
    return next((s for s in found.stands if s.stand.id == state.chosen("stand")), found.stands[0])


def home() -> None:
    """The page, top to bottom."""
    frame.open_page("Pick a sit", wide=True, heading=False)
    with frame.guarded():
        scene = data.scene(state.ground_path())
        with st.container(horizontal=True, key="asked", gap="small"):
            asked = ask_sit(scene.ground)
            told = ask_wind(scene.ground, asked.date)
            if is_example(told):
                say_example()
        if not scene.ground.stands:
            frame.nothing_yet("No stands yet.", "Draw the first one on the map.")
        if told.trouble:
            st.error(frame.plain(told.trouble))
        wind = told.hours
        if wind is None:
            known_so_far(scene, asked)
            st.stop()
        ask_weapon(scene.ground, asked)
        places = _places()
        with places["people"]:
            st.header("Who sits where")
            taken = planned_by_others(scene.ground, asked) | ask_others(scene.ground, asked)
        told_first = _answered(scene, asked, wind, taken)
        found = at_once(told_first)
        remember_given(scene.ground, told, found.sit.clock.end_s)
        seat = looked_at(found)
        with told.below or st.container():
            by_a_puff(found, seat)
        for name, part in answer.PARTS.items():
            with places[name]:
                part(found, seat)
            if name == "head" and found.chances is not None:
                with places["hold"]:
                    hold(found, seat, found)
        if found.chances is None:  # what takes a while comes when all else is on the screen
            with places["hold"]:
                hold(likely(told_first), seat, found)
        with places["coming"]:
            coming(found)


def _answered(scene: Scene, asked: AskedSit, wind: Hours, taken: dict[str, str]) -> SitAnswer:
    """The answer; a tap on another stand asks nothing new of the sums."""
    log = data.log_before(scene.ground, asked.date)
    who = {"hunter": asked.hunter, "weapon": asked.weapon}
    return state.kept_while(
        "answer",
        (scene, asked, pickle.dumps(wind), taken, log),  # two winds are compared as bytes
        lambda: answer_sit(prepare_sit(scene, wind, asked.date, asked.sit, log=log, **who), taken),
    )


def _places() -> dict[str, DeltaGenerator]:
    """An empty place for each part of the answer, in their order."""
    places = {}
    for band, groups in BANDS.items():
        with st.container(key=f"band_{band}"):
            for i, names in enumerate(groups):
                with st.container(key=f"{band}_{i}"):
                    places |= {name: st.container(key=f"part_{name}") for name in names}
    return places


if __name__ == "__main__":
    home()
else:
    app = st.App("dashboard.py", middleware=callers.own_callers(), lifespan=callers.greeted)
