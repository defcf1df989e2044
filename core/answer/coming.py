"""The next sits of a forecast: mornings and evenings that can still be reached."""

import dataclasses
import datetime
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from core.answer.one_sit import SitAnswer, answer_sits
from core.ground.hunters import person_called
from core.ground.layout import Property
from core.sit.clock import HALVES, clocks
from core.sit.dates import Dates, check_weapon, dates_on
from core.sit.minutes import MORNING
from core.sit.prepare import Log, has_hours, prepare_sits
from core.sit.rows import origin_s
from core.sit.scene import Scene
from core.sit.verdicts import GO, GROUP_WORDS
from core.units import SECONDS_PER_HOUR
from core.weather.hours import Hours

HOW_MANY = 6
MOST_DAYS = 20
DAY_S = 24 * SECONDS_PER_HOUR  # no walk takes longer


def next_sits(
    scene: Scene,
    weather: Hours,
    after_s: float,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    log: Log | None = None,
    taken: dict[str, str] | None = None,
    how_many: int = HOW_MANY,
) -> list[SitAnswer]:
    """Answers for the next sits whose window starts after an instant.

    A stand whose time to leave the truck lies before it is not in the answer, and a sit
    that no stand can be reached for is not offered.

    Args: scene; hourly table; instant [epoch s]; hunter, weapon and log as in
    `prepare_sit`; the stands taken as in `answer_sits`. Sits without an hour in the table are
    left out. Raises: BadRequest for an unknown hunter or weapon, or a taken stand.
    """
    ground = scene.ground
    check_weapon(ground, weapon)
    person_called(ground, hunter)
    dates = _days_from(ground, after_s, weapon)
    coming: list[tuple[int, int, int]] = []
    by_kind = [clocks(ground, dates, sit, origin_s=origin_s(weather)) for sit in HALVES]
    for kind, clock in enumerate(by_kind):
        ahead = clock.open & (clock.start_s > after_s) & has_hours(clock, weather)
        coming += [(int(clock.start_s[d]), int(d), kind) for d in np.flatnonzero(ahead)]
    soon = sum(start_s < after_s + DAY_S for start_s, *_ in coming)  # these may be too late
    chosen = [(day, kind) for _, day, kind in sorted(coming)[: how_many + soon]]
    answers: dict[tuple[int, int], SitAnswer] = {}
    for kind, clock in enumerate(by_kind):
        days = [day for day, k in chosen if k == kind]
        for of_one in _by_weapon(dates, days):  # ranges differ between weapons
            of_kind = clock.take(np.array(of_one))
            sits = prepare_sits(scene, weather, of_kind, hunter=hunter, log=log)
            found = answer_sits(sits, taken)
            answers |= {(day, kind): answer for day, answer in zip(of_one, found, strict=True)}
    in_time = [_in_time(answers[key], after_s) for key in chosen]
    return [answer for answer in in_time if answer is not None][:how_many]


def _in_time(answer: SitAnswer, after_s: float) -> SitAnswer | None:
    """An answer of the stands that can still be reached; None where none of some can."""
    at, judged = answer.sit.at, answer.judged
    order = tuple(i for i in answer.order if judged[i].leaves_s[at] >= after_s)
    return dataclasses.replace(answer, order=order, _read={}) if order or not judged else None


def _by_weapon(dates: Dates, days: list[int]) -> list[list[int]]:
    """Places of dates, those of one weapon together. Args: the dates; places among them."""
    groups: dict[str, list[int]] = {}
    for day in days:
        season = dates.season(day)
        groups.setdefault(season.weapon.casefold() if season else "", []).append(day)
    return list(groups.values())


def _days_from(ground: Property, after_s: float, weapon: str | None) -> Dates:
    """The days from an instant on, those on which the sun rises and sets."""
    first = _date_at(ground, after_s)
    days = [first + datetime.timedelta(days=step) for step in range(MOST_DAYS)]
    dates = dates_on(ground, days, weapon)
    return dates.take(dates.has_sun)


def _date_at(ground: Property, time_s: float) -> datetime.date:
    return datetime.datetime.fromtimestamp(time_s, tz=ZoneInfo(ground.timezone)).date()


def next_good(
    scene: Scene,
    weather: Hours,
    now: SitAnswer,
    hunter: str | None = None,
    weapon: str | None = None,
    taken: dict[str, str] | None = None,
) -> dict | None:
    """The first sit after this one, of the next six, with a stand that is go.

    Args: as `next_sits`; `now` is the answer in hand, whose log counts. Returns None without a
    forecast or without such a sit. Raises: as `next_sits`.
    """
    if weather.kind != "forecast":
        return None
    clock = now.sit.clock
    after = clock.end_s or clock.legal_end_s
    who: dict[str, Any] = {"hunter": hunter, "weapon": weapon, "log": now.sit.sits.log}
    for answer in next_sits(scene, weather, after - 1, taken=taken, **who):
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
    dates = _days_from(ground, after_s, weapon)
    ahead = []
    for kind, sit in enumerate(HALVES):
        clock = clocks(ground, dates, sit)
        days = np.flatnonzero(clock.open & (clock.start_s > after_s))
        ahead += [(int(day), kind) for day in days[:1]]
    if not ahead:
        return datetime.datetime.fromtimestamp(
            after_s, tz=ZoneInfo(ground.timezone)
        ).date(), MORNING
    day, kind = min(ahead)
    return dates.date[day].item(), HALVES[kind]
