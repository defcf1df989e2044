"""What to do when the wind at the truck is not what was forecast: a small table.

Eight winds, light and steady, and still air, each with the first choice it leaves.
"""

import datetime
from dataclasses import dataclass

from core.answer.one_sit import StandSit, answer_sit, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO, STAY
from core.units import SECONDS_PER_MINUTE
from core.weather.entry import parse_wind

POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
LIGHT, STEADY, STILL = "5 mph", "12 mph", "calm"  # two plain strengths; common practice


@dataclass(frozen=True, slots=True)
class Choice:
    """The first choice in one wind; no stand where none is go."""

    wind: str
    group: int
    stand: str
    lane: str
    minutes_before_light: int | None  # to leave the truck, before legal light begins
    leave_s: int | None
    verdict: int | None


def choice_in(
    scene: Scene,
    date: datetime.date,
    sit: str,
    wind: str,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
) -> Choice:
    """The first choice of one sit in a typed wind, held for the whole of it.

    Args: the scene; local date; morning, evening or all-day; a wind as typed; hunter
    and weapon as in `prepare_sit`.
    Returns: the choice; without a stand where none is go.
    Raises: as `prepare_sit`.
    """
    ready = prepare_sit(scene, parse_wind(wind), date, sit, hunter=hunter, weapon=weapon)
    best = answer_sit(ready).best
    if best is None or best.group != GO:
        return Choice(wind, STAY if best is None else best.group, "", "", None, None, None)
    return Choice(
        wind=wind,
        group=GO,
        stand=best.stand.name or best.stand.id,
        lane="" if best.way_in is None else (best.way_in.way.lane.name or best.way_in.way.lane.id),
        minutes_before_light=_minutes_before(ready.clock.legal_start_s, best),
        leave_s=best.leave_truck_s,
        verdict=best.verdict,
    )


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
) -> list[tuple[str, Choice, Choice]]:
    """A row for each of eight winds, light and steady, and one for still air.

    Args: as `choice_in`. Returns: point or "still air", light, steady; still air has the
    same choice twice. Raises: as `prepare_sit`.
    """
    who = {"hunter": hunter, "weapon": weapon}
    rows = [
        (
            point,
            choice_in(scene, date, sit, f"{point} {LIGHT}", **who),
            choice_in(scene, date, sit, f"{point} {STEADY}", **who),
        )
        for point in POINTS
    ]
    still = choice_in(scene, date, sit, STILL, **who)
    return [*rows, ("still air", still, still)]
