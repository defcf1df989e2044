"""The page that goes along: for this day or some, for this hunter or each of the party."""

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit
from core.party.seating import MOST_HUNTERS
from core.show.take_along.days import MOST_DAYS, pocket_days
from core.weather.age import known_until_s
from pages.ui import state
from pages.ui.choice import one_of
from pages.ui.home.hold import misses

DAY_S = 86_400
JUST_ME, EACH = "this hunter", "each of the party"


def pocket(answer: SitAnswer, seat: StandSit) -> None:  # noqa: ARG001 (as its fellows)
    """Made on asking, for it takes a moment. Args: as `head`."""
    st.header("For the pocket")
    st.caption("Morning and evening of each day in one file. It needs no signal, and it prints.")
    sit = answer.sit
    days, hunters = _asked_days(answer), _asked_hunters(answer)
    if not st.button("Make the pocket page", key="make-pocket", width="stretch"):
        return
    with st.spinner("Making it"):
        page = pocket_days(
            sit.scene,
            sit.weather,
            sit.clock.date,
            days,
            state.now_s(),
            hunters=hunters,
            weapon=sit.clock.season.weapon if sit.clock.season else None,
            taken=answer.taken,
            log=sit.sits.log,
            misses=misses(answer),
        ).encode()
    st.download_button(
        f"Save it on this phone ({len(page) / 1000:.0f} kB)",
        page,
        f"sit-{sit.clock.date.isoformat()}{f'-{days}-days' if days > 1 else ''}.html",
        "text/html",
        key="pocket",
        on_click="ignore",
        width="stretch",
        type="primary",
    )


def _asked_days(answer: SitAnswer) -> int:
    """How many days: asked where a forecast reaches beyond this one."""
    weather, clock = answer.sit.weather, answer.sit.clock
    end_s = known_until_s(weather)
    if weather.kind != "forecast" or end_s is None:
        return 1
    reached = min(
        MOST_DAYS, 1 + int(max(end_s - (clock.start_s or clock.legal_start_s), 0) // DAY_S)
    )
    if reached < 2:
        return 1
    return one_of(
        st.segmented_control, "Days", list(range(1, reached + 1)), default=1, key="pocket_days"
    )


def _asked_hunters(answer: SitAnswer) -> list[str | None]:
    """This hunter, or each of the party: asked where the ground knows two."""
    sit = answer.sit
    own = sit.hunter.name if sit.hunter else None
    people = [person.name for person in sit.scene.ground.people]
    if len(people) < 2:
        return [own]
    said = one_of(
        st.segmented_control, "Pages for", [JUST_ME, EACH], default=JUST_ME, key="pocket_for"
    )
    if said == JUST_ME:
        return [own]
    out = st.session_state.get("party_out") or people  # who is out, where that was asked
    return [name for name in people if name in out][:MOST_HUNTERS]
