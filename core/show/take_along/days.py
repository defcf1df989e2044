"""Some days in the pocket: one file without script, an index on top, a sheet for each day.

For one hunter, or for each of a party: then whoever is named first chooses first, and a
stand that is taken is nobody else's.
"""

import datetime
from collections.abc import Sequence

from core.answer.one_sit import SitAnswer
from core.errors import BadRequest, NoForecast
from core.say.words import GROUPS_SAID, clock_text
from core.show.pocket import DaySheet, day_sheet, document, refuse_empty
from core.sit.clock import HALVES
from core.sit.prepare import Log
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.hours import Hours

MOST_DAYS = 7


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
) -> str:
    """The mornings and evenings of some days.

    Args: the scene; the weather; the first local date; how many days, 1 to 7; when the file
    is made [epoch s]; who goes, None for anyone; the weapon and log as in `prepare_sit`; who
    sits where besides.
    Returns: a whole HTML document; what the weather does not reach is said to be missing.
    Raises: as `prepare_sit`; BadRequest for another number of days, or for several of a wind
    that is no forecast; NoForecast where the weather reaches no sit at all.
    """
    check_days(days, weather)
    dates = [first + datetime.timedelta(days=step) for step in range(days)]
    sheets: list[DaySheet] = []
    who = {"weapon": weapon, "log": log}
    for date in dates:
        seats = {sit: dict(taken or {}) for sit in HALVES}
        for hunter in hunters:
            name = f"{len(sheets)}-"
            sheet = day_sheet(
                scene, weather, date, now_s, taken=seats, name=name, hunter=hunter, **who
            )
            _take(seats, sheet)
            sheets.append(sheet)
    refuse_empty(sheets)
    when = f"{first.isoformat()} and {days - 1} more" if days > 1 else first.isoformat()
    index = index_rows(sheets) if len(sheets) > 1 else []
    return document(scene, weather, now_s, sheets, when, index)


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
        for sit, found in zip(HALVES, sheet.answers, strict=True):
            shown = {"day": f"{sheet.date:%a} {sheet.date.day} {sheet.date:%b}", "half": sit}
            rows.append({**shown, "who": sheet.hunter or "", "at": number, **_told(found)})
    return rows


def _told(found: SitAnswer | NoForecast) -> dict:
    if isinstance(found, NoForecast):
        return {"stand": "", "told": "no forecast", "leave": "", "verdict": None}
    best = found.best
    if best is None or best.group != GO:
        told = "no stands" if best is None else GROUPS_SAID[best.group].lower()
        return {"stand": "", "told": told, "leave": "", "verdict": best and best.verdict}
    leave_s = best.leave_truck_s
    leave = "" if leave_s is None else clock_text(leave_s, found.sit.timezone)
    return {"stand": best.stand.name, "told": "", "leave": leave, "verdict": best.verdict}


def _take(seats: dict[str, dict[str, str]], sheet: DaySheet) -> None:
    """The stands that a hunter goes to are taken for those after him."""
    for sit, found in zip(HALVES, sheet.answers, strict=True):
        best = found.best if isinstance(found, SitAnswer) else None
        if sheet.hunter and best is not None and best.group == GO:
            seats[sit][best.stand.id] = sheet.hunter
