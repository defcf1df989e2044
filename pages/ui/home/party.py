"""Who is out today and with what, and seats for everybody at once."""

import pickle

import streamlit as st

from core.answer.one_sit import SitAnswer, StandSit
from core.ground.layout import Property
from core.party.seating import MOST_HUNTERS, Hunter, Seating, seat_all
from core.say.hunters.party import (
    in_walking_order,
    pair_text,
    pair_warnings,
    pairs_of,
    seat_line,
    staying_text,
)
from core.say.two_hunters import NOT_CLEARANCE
from core.show.take_along.leave_sheet import Going, leave_sheet
from core.sit.dates import weapons_on
from pages.ui import frame, state
from pages.ui.home.sit import seat_key

ASKED = "party_asked"  # whether seats for all are looked at


def party(answer: SitAnswer, seat: StandSit) -> None:
    """Who is out, the proposal, and the sheet to leave. Args: as `head`."""
    ground = answer.sit.scene.ground
    if len(ground.people) > 1 and not answer.sit.clock.outside:
        with st.expander("Seat us all", expanded=bool(st.session_state.get(ASKED))):
            hunters = _ask_hunters(ground, answer)
            st.button(
                "Seat us all",
                key="seat-us-all",
                on_click=_ask,
                width="stretch",
                disabled=not hunters,
            )
            if not hunters:
                st.caption("Choose who is out, above.")
            if hunters and st.session_state.get(ASKED):
                _proposal(_seats(answer, hunters))
    sheet_to_leave(answer, seat)


def _ask() -> None:
    st.session_state[ASKED] = True


def _ask_hunters(ground: Property, answer: SitAnswer) -> list[Hunter]:
    """Who is out, beginners marked, with which weapon; a seat chosen above stays."""
    names = [person.name for person in ground.people]
    out = st.pills(
        f"Who is out, up to {MOST_HUNTERS}",
        names,
        selection_mode="multi",
        default=names[:MOST_HUNTERS],
        format_func=frame.plain,
        key="party_out",
        persist_state="session",
    )[:MOST_HUNTERS]
    marked = [p.name for p in ground.people if p.beginner and p.name in out]
    beginners = st.pills(
        "Beginners, seated first",
        out,
        selection_mode="multi",
        default=marked,
        format_func=frame.plain,
        key="party_beginners",
    )
    by_hand = {name: stand for stand, name in answer.taken.items()}
    weapons = weapons_on(ground, answer.sit.clock.date)
    return [
        Hunter(name, _weapon(name, weapons, answer), by_hand.get(name), name in beginners)
        for name in out
    ]


def _weapon(name: str, weapons: list[str], answer: SitAnswer) -> str | None:
    season = answer.sit.clock.season
    if len(weapons) < 2:
        return None
    usual = weapons.index(season.weapon) if season and season.weapon in weapons else 0
    return st.selectbox(
        frame.plain(f"{name} hunts with"),
        weapons,
        index=usual,
        key=f"party_weapon_{name}",
    )


def _seats(answer: SitAnswer, hunters: list[Hunter]) -> Seating:
    """The proposal, worked out once while the same is asked."""
    sit = answer.sit
    date, log = sit.clock.date, sit.sits.log
    return state.kept_while(
        "party",
        (sit.scene, date, sit.clock.sit, pickle.dumps(sit.weather), hunters, log),
        lambda: seat_all(sit.scene, sit.weather, date, sit.clock.sit, hunters, log),
    )


def _proposal(seating: Seating) -> None:
    """The seats, who stays, what two must know of each other, and the button to take them."""
    st.markdown(
        "\n".join(f"- {frame.plain(seat_line(seating, i))}" for i in in_walking_order(seating))
    )
    for i in seating.staying:
        name = seating.out[i].person.name
        st.warning(frame.plain(f"{name} stays: {staying_text(seating, i)}"))
    for i, k in pairs_of(seating):
        said = frame.plain(pair_text(seating, i, k))
        if pair_warnings(seating, i, k):
            st.warning(said)
        else:
            st.caption(said)
    st.caption(NOT_CLEARANCE)
    if seating.seats:
        st.button("Take these seats", key="take-seats", on_click=_take, args=(seating,))
        going = [
            (seating.out[i].person.name, seating.seats[i].sit, seating.seats[i].own)
            for i in in_walking_order(seating)
        ]
        _download("The sheet to leave, for all", going, "leave-all")


def _take(seating: Seating) -> None:
    """Writes the proposal into the seats above, so that they are taken everywhere."""
    ground = seating.out[0].answer.sit.scene.ground
    places = {person.name: i for i, person in enumerate(ground.people)}
    for i, out in enumerate(seating.out):
        stand = seating.seats[i].own.stand.id if i in seating.seats else ""
        st.session_state[seat_key(places[out.person.name])] = stand
    st.session_state[ASKED] = False


def sheet_to_leave(answer: SitAnswer, seat: StandSit, key: str = "leave-sheet") -> None:
    """The sheet for the stand that is looked at, and who else is out.

    Args: the answer; the stand; the button's key, for it stands in two places.
    """
    sit = answer.sit
    going: list[Going] = [(sit.hunter.name if sit.hunter else "", sit, seat)]
    going += [(own.taken_by, sit, own) for own in answer.stands if own.taken_by and own is not seat]
    _download("The sheet to leave with someone", going, key)
    st.caption("One page to print or send: where, by which way, when back, and what to do then.")


def _download(label: str, going: list[Going], key: str) -> None:
    st.download_button(
        label,
        lambda: leave_sheet(going, state.now_s()).encode(),
        f"where-we-are-{going[0][1].clock.date.isoformat()}.html",
        "text/html",
        key=key,
        on_click="ignore",
        width="stretch",
    )
