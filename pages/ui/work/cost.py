"""What it costs if a trail or a way in grows shut: asked for, judged once, kept."""

from pathlib import Path

import streamlit as st

from core.chores.due import Chore
from core.chores.worth import Worth, by_worth, worths
from core.season.review import SeasonAnswer, judge_season
from core.weather.files.typical import typical_year
from pages.ui import data, frame, state
from pages.ui.season.questions import with_bar


def by_cost(found: list[Chore], path: Path) -> tuple[list[Chore], dict[str, Worth]]:
    """Chores as they come, or the dearest first where that is asked for.

    Args: chores; the property's file. Returns: them, and the worth of trails and ways in;
    none where it was not asked.
    """
    scene = data.scene(path)
    if not (scene.ground.stands and scene.ground.seasons):
        return found, {}
    if not st.toggle("What it costs if it grows shut, dearest first", key="work_cost"):
        return found, {}
    question = (str(path), data.stamp(path))
    answer = _reviewed(question)
    told = state.kept_while(
        "work_worths",
        (*question, answer is not None and answer.weather.source),
        lambda: with_bar(lambda told: _judged(scene, answer, told), "Judging every sit"),
    )
    source, costs = told
    st.caption(
        frame.plain(
            f"Sits of a season, by the season review. Wind: {source}. A stand that loses its only "
            "trail counts as a seat to watch from."
        )
    )
    return by_worth(found, costs), costs


def _reviewed(question: tuple) -> SeasonAnswer | None:
    """The review that the Season screen made of this very file, on its owner's history."""
    held = st.session_state.get("season_answer")
    return held[1] if held is not None and held[0][:2] == question else None


def _judged(scene, answer: SeasonAnswer | None, told) -> tuple[str, dict[str, Worth]]:
    if answer is None:
        answer = judge_season(scene, typical_year(), progress=lambda share: told(share / 2))
    costs = worths(answer, lambda share: told(0.5 + share / 2))
    return answer.weather.source or answer.weather.format, costs
