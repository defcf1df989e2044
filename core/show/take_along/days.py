"""Some days in the pocket: one file without script, an index on top, a sheet for each day.

For one hunter, or for each of a party: then everybody's seats are those of `core.party`, and
a stand that is taken is nobody else's.
"""

import datetime
from collections.abc import Sequence
from typing import Any

from core.answer.chances import Misses
from core.answer.one_sit import SitAnswer
from core.errors import BadRequest, NoForecast
from core.party.seating import Hunter, Seating, seat_all
from core.say.hunters.party import staying_text
from core.say.words import GROUPS_SAID, clock_text
from core.show.pocket import document, refuse_empty
from core.show.take_along.day_sheet import DaySheet, OwnSeat, day_sheet
from core.sit.clock import HALVES
from core.sit.prepare import Log
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.hours import Hours

MOST_DAYS = 7
NO_STAND = {"stand": "", "leave": "", "verdict": None}


def pocket_days(
    scene: Scene,
    weather: Hours,
    first: datetime.date,
    days: int,
    now_s: float,
    *,
    hunters: Sequence[str | None] = (None,),
    weapon: str | None = None,
    log: Log | None = None,
    taken: dict[str, str] | None = None,
    misses: Misses | None = None,
) -> str:
    """The mornings and evenings of some days.

    Args: the scene; the weather; the first local date; how many days, 1 to 7; when the file
    is made [epoch s]; who goes, None for anyone; the weapon and log as in `prepare_sit`; who
    sits where besides; how far forecasts miss here, None for what is usual.
    Returns: a whole HTML document; what the weather does not reach is said to be missing.
    Raises: as `prepare_sit` and `seat_all`; BadRequest for another number of days, or for
    several of a wind that is no forecast; NoForecast where the weather reaches no sit at all.
    """
    check_days(days, weather)
    dates = [first + datetime.timedelta(days=step) for step in range(days)]
    sheets: list[DaySheet] = []
    who: dict[str, Any] = {"weapon": weapon, "log": log}
    here: dict[str, Any] = {"now_s": now_s, "misses": misses}
    for date in dates:
        seats = {
            sit: party_seats(scene, weather, date, sit, hunters, taken=taken or {}, **who)
            for sit in HALVES
        }
        for i, hunter in enumerate(hunters):
            own = {sit: seats[sit][i] for sit in HALVES}
            name = f"{len(sheets)}-"
            sheets.append(
                day_sheet(scene, weather, date, seats=own, name=name, hunter=hunter, **here, **who)
            )
    refuse_empty(sheets)
    when = f"{first.isoformat()} and {days - 1} more" if days > 1 else first.isoformat()
    index = index_rows(sheets) if len(sheets) > 1 else []
    return document(scene, weather, now_s, sheets, when, index)


def party_seats(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    sit: str,
    hunters: Sequence[str | None],
    *,
    taken: dict[str, str],
    weapon: str | None = None,
    log: Log | None = None,
) -> list[OwnSeat]:
    """What each of some hunters has in a sit: his seat, and who sits where besides.

    Args: as `pocket_days`. A stand that one of them has by `taken` stays his. Returns: one for
    each, in their order; nobody's own seat where one goes alone, or no weather reaches the sit.
    Raises: as `seat_all`.
    """
    names = [name for name in hunters if name]
    alone = [OwnSeat(taken)] * len(hunters)
    if len(names) < 2:
        return alone
    by_hand = {name.casefold(): stand for stand, name in taken.items()}
    party = [Hunter(name, weapon, by_hand.get(name.casefold())) for name in names]
    others = {s: n for s, n in taken.items() if n.casefold() not in {m.casefold() for m in names}}
    try:
        seating = seat_all(scene, weather, date, sit, party, log, others)
    except NoForecast:
        return alone
    return [_own_seat(seating, i, others) for i in range(len(names))]


def _own_seat(seating: Seating, i: int, others: dict[str, str]) -> OwnSeat:
    """What one of a party has. Args: the proposal; his place in it; who else sits where."""
    rest = {s.own.stand.id: seating.out[k].person.name for k, s in seating.seats.items() if k != i}
    if i in seating.seats:
        return OwnSeat(others | rest, seating.seats[i].own.stand.id)
    return OwnSeat(others | rest, stays=staying_text(seating, i))


def check_days(days: int, weather: Hours) -> None:
    """Whether a file can hold so many days. Raises: BadRequest. Args: as `pocket_days`."""
    if not 1 <= days <= MOST_DAYS:
        raise BadRequest(f"{days} days", "--days", f"From 1 to {MOST_DAYS}.")
    if days > 1 and weather.kind != "forecast":
        raise BadRequest(
            f"{days} days of a wind that is no forecast",
            "--days",
            "Give a forecast, or make the page of one day.",
        )


def index_rows(sheets: Sequence[DaySheet]) -> list[dict]:
    """The index: day, who, half, stand, leave, and where on the page it is.

    Args: the sheets. Returns: plain values for the template, one for each sit.
    """
    rows = []
    for number, sheet in enumerate(sheets, 1):
        for sit, found, stays in zip(HALVES, sheet.answers, sheet.stays, strict=True):
            shown = {"day": f"{sheet.date:%a} {sheet.date.day} {sheet.date:%b}", "half": sit}
            told = _told(found) if not stays else {**NO_STAND, "told": "stays: see the page"}
            rows.append({**shown, "who": sheet.hunter or "", "at": number, **told})
    return rows


def _told(found: SitAnswer | NoForecast) -> dict:
    if isinstance(found, NoForecast):
        return {**NO_STAND, "told": "no forecast"}
    best = found.best
    if best is None or best.group != GO:
        told = "no stands" if best is None else GROUPS_SAID[best.group].lower()
        return {**NO_STAND, "told": told, "verdict": best and best.verdict}
    leave_s = best.leave_truck_s
    leave = "" if leave_s is None else clock_text(leave_s, found.sit.timezone)
    return {"stand": best.stand.name, "told": "", "leave": leave, "verdict": best.verdict}
