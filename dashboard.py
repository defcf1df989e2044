"""Pick a sit: the home page. Which stand, which way, and why.

`streamlit run` imports this file for `app`, which answers requests; the app then runs it
as the page for each visitor.
"""

import pickle

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.sit.prepare import prepare_sit
from pages.ui import callers, data, frame, state
from pages.ui.home import answer
from pages.ui.home.sit import ask_others, ask_sit, ask_weapon
from pages.ui.home.wind import ask_wind

ORDER = (
    "after",
    "head",
    "plan",
    "air",
    "others",
    "light",
    "change",
    "coming",
    "people",
    "pocket",
    "safety",
)


def looked_at(found: SitAnswer) -> StandSit:
    """The stand that is looked at: the one chosen, else the first choice."""
    return next((s for s in found.stands if s.stand.id == state.chosen("stand")), found.stands[0])


def home() -> None:
    """The page, top to bottom."""
    frame.open_page("Pick a sit", heading=False)
    with frame.guarded():
        scene = data.scene(state.ground_path())
        with st.container(horizontal=True, key="asked", gap="small"):
            asked = ask_sit(scene.ground)
            wind = ask_wind(scene.ground, asked.date)
        if not scene.ground.stands:
            frame.nothing_yet("No stands yet.", "Draw the first one on the map.")
        if wind is None:
            frame.nothing_yet(
                "What is the wind?",
                "Press Wind above and say it, like NW 8: that needs no signal. Or take a forecast.",
            )
        ask_weapon(scene.ground, asked)
        places = {name: st.container() for name in ORDER}
        with places["people"]:
            st.header("Who sits where")
            taken = ask_others(scene.ground, asked)
        log = data.log_before(scene.ground, asked.date)
        # a tap on another stand asks nothing new of the sums; two winds are compared as bytes
        found = state.kept_while(
            "answer",
            (scene, asked, pickle.dumps(wind), taken, log),
            lambda: answer_sit(
                prepare_sit(
                    scene,
                    wind,
                    asked.date,
                    asked.sit,
                    hunter=asked.hunter,
                    weapon=asked.weapon,
                    log=log,
                ),
                taken,
            ),
        )
        seat = looked_at(found)
        for name, part in answer.PARTS.items():
            with places[name]:
                part(found, seat)


if __name__ == "__main__":
    home()
else:
    app = st.App("dashboard.py", middleware=callers.own_callers(), lifespan=callers.greeted)
