"""The parts of the home screen, each drawn from an answer."""

import streamlit as st

from core.answer.beside import other_half
from core.answer.one_sit import SitAnswer, StandSit
from core.chores.lee import lee_trails
from core.say.above import above_second
from core.say.cautions import cautions
from core.say.headline import GROUPS_TOLD, head_of, sit_line
from core.say.what_would_change import doubt_text
from core.say.work.lee import lee_text
from core.show.card import air_html, head_html, hours_html, map_hour_text, told_places
from core.show.compared import Compared, cells_html, compared, compared_head_html
from core.show.map import DESK_WIDTH, sit_map
from pages.ui import frame, state, terms
from pages.ui.ground_sheet import ground_sheet
from pages.ui.home.by_the_clock import by_the_clock
from pages.ui.home.day import change, daylight, people
from pages.ui.home.pocket import pocket
from pages.ui.home.sit_here import sit_here
from pages.ui.log.after_the_sit import ask_after

MOST_OTHERS = 40  # listed; the rest are in a box
WORDS = (
    "go",
    "cant-call",
    "stay-out",
    "clean",
    "just-off",
    "wrong-wind",
    "holds",
    "plan-b",
    "way-in",
    "like",
    "turn",
    "on-it",
    "upwind",
    "crosswind",
    "downwind",
    "trail",
    "bed",
    "food",
    "legal-light",
)


def after(answer: SitAnswer, seat: StandSit) -> None:  # noqa: ARG001 (as its fellows)
    """How a sit was that is over. Args: as `head`."""
    ask_after(answer.sit.scene.ground)


def head(answer: SitAnswer, seat: StandSit) -> None:
    """The answer itself. Args: the answer; the stand that is looked at."""
    told, best = head_of(answer.sit, seat, state.now_s(), answer.chances), answer.best
    if best is not None and seat.stand.id == best.stand.id:
        told = above_second(told, answer)
    with st.container(key="head"):
        st.html(head_html(told, sit_line(answer.sit)) + hours_html(answer.sit, seat, like=True))
    if best is not None and seat.stand.id != best.stand.id:
        st.button(
            f"Back to the first choice: {frame.plain(best.stand.name)}",
            key="back",
            on_click=state.choose,
            args=("stand", ""),
            width="stretch",
        )


def where_air_goes(answer: SitAnswer, seat: StandSit) -> None:
    """Place by place, and the map. Args: as `head`."""
    with st.container(key="air_words"):
        st.header("Where your air goes")
        st.html(air_html(answer.sit, seat))
        if doubt := doubt_text(answer.sit, seat):
            st.caption(frame.plain(doubt))
        for line in _lee(answer, seat):
            st.caption(frame.plain(line))
    with st.container(key="air_map"):
        ground_sheet(
            [sit_map(answer.sit, seat), sit_map(answer.sit, seat, width=DESK_WIDTH)],
            told_places(answer, seat),
            key="sit_map",
            about=map_hour_text(answer.sit, seat),
        )


def _lee(answer: SitAnswer, seat: StandSit) -> list[str]:
    """Trails in range along the downwind side of a bed: information, outside the order."""
    sit = answer.sit
    trails = sit.scene.corridors_in_range(seat.stand, sit.range_yd(seat.stand))
    found = lee_trails(sit.scene, trails, sit.mean_wind_deg, sit.clock.date.month)
    return [lee_text(lee, sit.scene.ground) for lee in found]


def others(answer: SitAnswer, seat: StandSit) -> None:
    """The other stands by group, each with its reason; a tap looks at one. Args: as `head`."""
    st.header("Other stands")
    rows = state.kept_while("compared", (answer,), lambda: compared(answer, other_half(answer)))
    with st.container(key="compared", gap=None):
        st.html(compared_head_html(answer.sit.clock.sit))
        with st.container(key="this-stand", gap=None):
            st.html(cells_html(rows[seat.stand.id]))
        rest = [s for s in answer.stands if s.stand.id != seat.stand.id]
        for group, title in enumerate(GROUPS_TOLD):
            of_group = [s for s in rest[:MOST_OTHERS] if s.group == group]
            if of_group:
                st.markdown(f"**{title}**")
            for other in of_group:
                _other(rows[other.stand.id])
    if len(rest) > MOST_OTHERS:
        names = {s.stand.id: s.stand.name for s in rest[MOST_OTHERS:]}
        st.selectbox(
            f"{len(names)} more, ranked below these",
            ["", *names],
            key="look-further",
            format_func=lambda x: names.get(x, "look at one"),
            on_change=_look_further,
        )


def _look_further() -> None:
    state.choose("stand", st.session_state["look-further"])


def _other(row: Compared) -> None:
    with st.container(key=f"other-{row.id}", gap=None):
        st.button(
            f"{frame.GLYPHS[row.verdict]} {frame.plain(row.name)}",
            key=f"look-{row.id}",
            type="tertiary",
            on_click=state.choose,
            args=("stand", row.id),
            width="stretch",
        )
        st.html(cells_html(row))


def safety(answer: SitAnswer, seat: StandSit) -> None:
    """The usual cautions. Args: as `head`."""
    st.header("Before you go")
    st.markdown("\n".join(f"- {frame.plain(line)}" for line in cautions(answer.sit, seat)))
    terms.links(WORDS)


PARTS = {
    "after": after,
    "head": head,
    "plan": sit_here,
    "air": where_air_goes,
    "clock": by_the_clock,
    "others": others,
    "light": daylight,
    "change": change,
    "people": people,
    "pocket": pocket,
    "safety": safety,
}
