"""I sit here: the plan goes into the log, with what was told and on which wind."""

from typing import Literal

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.answer.plan import planned_sit
from core.ground.layout import Person, Property
from core.ground.looking import only_looking
from core.keep.entries import SIT, Entry
from core.keep.score import scores
from core.log.offers import offers
from core.say.as_json import stand_dict
from core.say.log.felt import offer_text
from core.say.log.ledger import LINE_DAYS, days_back, home_line
from core.say.log.lines import score_line, score_range
from core.say.reason_texts import rested_text
from core.sit.verdicts import VERDICT_WORDS
from core.weather.plain import hours_to_plain
from pages.ui import data, frame, state
from pages.ui.home.party import sheet_to_leave
from pages.ui.log import kept


def sit_here(answer: SitAnswer, own: StandSit) -> None:
    """The button, or that it is in the log. Args: the answer; the stand that is looked at."""
    kept.show_note()
    _own_score(answer, own)
    _air_lately(answer.sit.scene.ground)
    if only_looking() or answer.sit.clock.outside or own.seated_s is None:
        return
    clock = answer.sit.clock
    sit = (own.stand.id, clock.date.isoformat(), clock.sit)
    planned = [
        e
        for e in answer.sit.sits.log or ()
        if e.kind == SIT and (e.get("stand"), e.date, e.get("sit")) == sit
    ]
    if planned:
        st.caption(frame.plain(_planned_text(planned[0].get("who"))))
        sheet_to_leave(answer, own, "leave-planned")
        return
    _buttons(answer, own)


def _planned_text(who: str | None) -> str:
    told = f"In the log: {who} sits here." if who else "This sit is in the log."
    return f"{told} Afterwards this page and the Log ask how it was."


def _buttons(answer: SitAnswer, own: StandSit) -> None:
    """One press for whoever sits here: by name where the answer is nobody's yet."""
    sit = answer.sit
    named = [] if sit.hunter else sit.scene.ground.people
    seated = {name.casefold() for name in answer.taken.values()}
    with st.container(horizontal=bool(named), gap="small", key="sit_here_row"):
        for i, person in enumerate(named):
            if person.name.casefold() not in seated:
                st.button(
                    frame.plain(f"{person.name} sits here"),
                    key=f"sits_here_{i}",
                    on_click=_keep_for,
                    args=(answer, own, person),
                )
        label = frame.plain(f"{sit.hunter.name} sits here") if sit.hunter else "I sit here"
        st.button(label, key="sit_here", on_click=_keep, args=(answer, own), width=_width(named))


def _width(named) -> Literal["content", "stretch"]:
    return "content" if named else "stretch"


def _keep_for(answer: SitAnswer, own: StandSit, person: Person) -> None:
    """Keeps it as that hunter's, answered with his own ranges; the page goes on as his."""
    again = answer_sit(answer.sit.for_hunter(person), answer.taken)
    seat = next(s for s in again.stands if s.stand.id == own.stand.id)
    st.session_state["hunter"] = person.name
    state.choose("stand", own.stand.id)
    _keep(again, seat)


def _own_score(answer: SitAnswer, own: StandSit) -> None:
    """How often this call came true at this stand, good or bad, and what was felt here."""
    ground = answer.sit.scene.ground
    if rest := rested_text(answer.sit, own):
        st.caption(frame.plain(rest))
    entries = data.log_at(ground, own.stand.id)
    for line in state.kept_while(
        "own_score", (ground, own.stand, own.verdict, entries), lambda: _told(ground, own, entries)
    ):
        st.caption(frame.plain(line))


def _told(ground: Property, own: StandSit, entries: tuple[Entry, ...]) -> list[str]:
    """The score of the call, and what was felt at the stand."""
    verdict = VERDICT_WORDS[own.verdict]
    found = [
        f"{score_line(score, ground)} {score_range(score)}"
        for score in scores(entries)
        if score.claims and score.verdict == verdict and score.stand and not score.source
    ]
    asked = (offer_text(offer, ground) for offer in offers(entries, own.stand))
    return [*found, *(f"{text} The Log page asks." for text in asked)]


def _air_lately(ground: Property) -> None:
    """The place that had most of your air, where that is much."""
    entries = kept.lately(ground)
    if not entries:
        return
    today = kept.local_now(ground).date()
    found = data.air_ledger(state.ground_path(), days_back(today, LINE_DAYS).isoformat())
    if line := home_line(found, {e.id: e for e in entries}, ground, today):
        st.caption(frame.plain(line))


def _keep(answer: SitAnswer, own: StandSit) -> None:
    ground = answer.sit.scene.ground

    def act(journal) -> str:
        key = journal.keep_weather(hours_to_plain(answer.sit.weather))
        told = stand_dict(answer.sit, own, answer.chances)
        journal.add([planned_sit(answer.sit, own, told, key, kept.stamp(ground))])
        return f"{frame.plain(own.stand.name)} is in the log."

    kept.written(ground, act)
