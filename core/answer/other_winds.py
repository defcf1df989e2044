"""What to do when the wind at the truck is not what was forecast: a small table.

Eight winds, light and steady, and still air, each with the first choice it leaves.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.answer.one_sit import SitAnswer, StandSit, answer_sits, others_at, read_out
from core.judge.first import FirstStand, first_stands
from core.sit.clock import clocks
from core.sit.dates import check_weapon, dates_on
from core.sit.prepare import Log, Sit, prepare_sits
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.units import SECONDS_PER_MINUTE
from core.weather.entry import parse_wind

POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
LIGHT, STEADY, STILL = "5 mph", "12 mph", "calm"  # two plain strengths; common practice


@dataclass(frozen=True, slots=True)
class FirstChoice:
    """The first choice in one wind; no stand where none is go."""

    wind: str
    group: int
    stand: str
    lane: str
    minutes_before_light: int | None  # to leave the truck, before legal light begins
    leave_s: int | None
    verdict: int | None


def answers_in_winds(
    scene: Scene,
    date: datetime.date,
    sit: str,
    winds: Sequence[str],
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    log: Log | None = None,
    taken: dict[str, str] | None = None,
) -> list[SitAnswer]:
    """The answer of one sit in each of some typed winds, held for the whole of it.

    Args: the scene; local date; morning, evening or all-day; winds as typed; hunter,
    weapon and log as in `prepare_sit`; the stands taken as in `answer_sits`.
    Raises: as `prepare_sit`.
    """
    ground = scene.ground
    check_weapon(ground, weapon)
    dates = dates_on(ground, [date], weapon)
    clock = clocks(ground, dates, sit, np.zeros(len(winds), int))
    hours = [parse_wind(wind) for wind in winds]
    return answer_sits(prepare_sits(scene, hours, clock, hunter=hunter, log=log), taken)


def choice(wind: str, group: int, sit: Sit, best: StandSit | None) -> FirstChoice:
    """The first choice in one wind; without a stand where none is go.

    Args: the wind as typed; the group of the first stand; the sit; the first stand, which may
    be missing where none is go.
    """
    if best is None or group != GO:
        return FirstChoice(wind, group, "", "", None, None, None)
    return FirstChoice(
        wind=wind,
        group=GO,
        stand=best.stand.name or best.stand.id,
        lane="" if best.way_in is None else (best.way_in.way.lane.name or best.way_in.way.lane.id),
        minutes_before_light=_minutes_before(sit.clock.legal_start_s, best),
        leave_s=best.leave_truck_s,
        verdict=best.verdict,
    )


def _choice(wind: str, sit: Sit, first: FirstStand) -> FirstChoice:
    own = first.own
    best = None if own is None else read_out(own.rows.sits.one(first.place), own)
    return choice(wind, first.group, sit, best)


def _minutes_before(legal_start_s: int, own: StandSit) -> int | None:
    if own.leave_truck_s is None:
        return None
    return round((legal_start_s - own.leave_truck_s) / SECONDS_PER_MINUTE)


def other_winds(
    scene: Scene,
    date: datetime.date,
    sit: str,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    log: Log | None = None,
    taken: dict[str, str] | None = None,
) -> list[tuple[str, FirstChoice, FirstChoice]]:
    """A row for each of eight winds, light and steady, and one for still air.

    Args: as `answers_in_winds`. Returns: point or "still air", light, steady; still air has
    the same choice twice. Raises: as `prepare_sit`.
    """
    winds = [f"{point} {strength}" for point in POINTS for strength in (LIGHT, STEADY)] + [STILL]
    hours = [parse_wind(wind) for wind in winds]
    check_weapon(scene.ground, weapon)
    dates = dates_on(scene.ground, [date], weapon)
    clock = clocks(scene.ground, dates, sit, np.zeros(len(winds), int))
    sits = prepare_sits(scene, hours, clock, hunter=hunter, log=log)
    firsts = first_stands(sits, others_at(sits, taken or {}))
    each = enumerate(zip(winds, firsts, strict=True))
    *found, still = [_choice(wind, sits.one(at), first) for at, (wind, first) in each]
    rows = [(point, found[2 * i], found[2 * i + 1]) for i, point in enumerate(POINTS)]
    return [*rows, ("still air", still, still)]
