"""The next sits of a forecast: mornings and evenings that can still be reached."""

import datetime
from zoneinfo import ZoneInfo

from core.answer.one_sit import SitAnswer, answer_sit, prepare_sit
from core.errors import NoForecast, NoSun
from core.ground.layout import Property
from core.sit.clock import sit_clock
from core.sit.minutes import EVENING, MORNING
from core.sit.scene import Scene
from core.sit.verdicts import GO, GROUP_WORDS
from core.weather.hours import Hours

HOW_MANY = 6
MOST_DAYS = 20


def next_sits(
    scene: Scene,
    weather: Hours,
    after_s: float,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    how_many: int = HOW_MANY,
) -> list[SitAnswer]:
    """Answers for the next sits whose window starts after an instant.

    Args: scene; hourly table; instant [epoch s]; hunter and weapon as in
    `prepare_sit`. Sits without an hour in the table are left out.
    Raises: BadRequest for an unknown hunter or weapon.
    """
    ground = scene.ground
    first = datetime.datetime.fromtimestamp(after_s, tz=ZoneInfo(ground.timezone)).date()
    found: list[SitAnswer] = []
    for step in range(MOST_DAYS):
        date = first + datetime.timedelta(days=step)
        for sit in (MORNING, EVENING):
            if len(found) == how_many:
                return found
            try:
                clock = sit_clock(ground, date, sit, weapon)
                if clock.start_s is None or clock.start_s <= after_s:
                    continue
                ready = prepare_sit(scene, weather, date, sit, hunter=hunter, weapon=weapon)
            except (NoForecast, NoSun):
                continue
            found.append(answer_sit(ready))
    return found


def next_good(
    scene: Scene,
    weather: Hours,
    now: SitAnswer,
    hunter: str | None = None,
    weapon: str | None = None,
) -> dict | None:
    """The first sit after this one, of the next six, with a stand that is go.

    Args: as `next_sits`; `now` is the answer in hand. Returns None without a
    forecast or without such a sit. Raises: as `next_sits`.
    """
    if weather.kind != "forecast":
        return None
    clock = now.sit.clock
    after = clock.end_s or clock.legal_end_s
    for answer in next_sits(scene, weather, after - 1, hunter=hunter, weapon=weapon):
        best = answer.best
        if best is not None and best.group == GO:
            return {
                "date": answer.sit.clock.date.isoformat(),
                "sit": answer.sit.clock.sit,
                "stand": best.stand.id,
                "group": GROUP_WORDS[best.group],
            }
    return None


def next_reachable(
    ground: Property, after_s: float, weapon: str | None = None
) -> tuple[datetime.date, str]:
    """The next morning or evening whose window has not begun.

    Args: the property; the clock [epoch s]; a weapon or None.
    Returns: its date and name; today's morning where the sun does not rise for days.
    """
    today = datetime.datetime.fromtimestamp(after_s, tz=ZoneInfo(ground.timezone)).date()
    for step in range(MOST_DAYS):
        date = today + datetime.timedelta(days=step)
        for sit in (MORNING, EVENING):
            try:
                start_s = sit_clock(ground, date, sit, weapon).start_s
            except NoSun:
                continue
            if start_s is not None and start_s > after_s:
                return date, sit
    return today, MORNING
