"""What it costs if a trail or a way in grows shut: the sits of a season that go with it.

A stand that loses its only trail is a seat to watch from, but in the evening where food is
in its range. A stand that loses a way in is judged again on those it has left; without any
it loses all its sits.
"""

import dataclasses
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.chores.due import STATES, Chore
from core.chores.kinds import CHECK, CUT, SPRAY, TRIM
from core.ground.layout import Lane, Property, Stand
from core.season.one_stand import stand_season
from core.season.review import SeasonAnswer, season_sits
from core.sit.scene import Scene
from core.sit.verdicts import GO

Bools = npt.NDArray[np.bool_]
KEEPS_OPEN = (CUT, SPRAY, CHECK, TRIM)  # chores that keep a trail or a way in open


@dataclass(frozen=True, slots=True)
class Worth:
    """What a season loses without a trail or a way in, in sits a season.

    `no_stand` are the sits that then have no stand at all, `stand_sits` those that single
    stands lose, whether another serves them or not; `stands` are theirs, by id.
    """

    no_stand: float
    stand_sits: float
    of_sits: float
    stands: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class _Try:
    """A stand that is left with some of its ways in."""

    lane: str
    index: int  # of the stand, in the order of the answer
    stand: Stand
    left: tuple[Lane, ...]


def worths(
    answer: SeasonAnswer, progress: Callable[[float], None] | None = None
) -> dict[str, Worth]:
    """The worth of every trail and every way in, by id.

    Args: a season judged; told the share done, 0 to 1.
    """
    ground = answer.scene.ground
    found = {
        trail.id: _lost(answer, _without_trail(answer, trail.id)) for trail in ground.corridors
    }
    lanes = _without_lanes(answer, progress)
    return found | {lane.id: _lost(answer, lanes.get(lane.id, {})) for lane in ground.lanes}


def _lost(answer: SeasonAnswer, left: dict[int, Bools]) -> Worth:
    """What is lost. Args: the answer; by stand, the sits that it still serves."""
    serves = answer.serves
    still = serves.copy()
    for index, sits in left.items():
        still[:, index] &= sits
    gone = serves & ~still
    years = 1 if answer.one_year else len(answer.years)
    none = serves.any(axis=1) & ~still.any(axis=1) if serves.size else np.zeros(0, bool)
    return Worth(
        no_stand=float(none.sum()) / years,
        stand_sits=float(gone.sum()) / years,
        of_sits=answer.n_sits / years,
        stands=tuple(answer.stands[i].id for i in np.flatnonzero(gone.any(axis=0))),
    )


def _without_trail(answer: SeasonAnswer, trail: str) -> dict[int, Bools]:
    """The sits that stands still serve without a trail: all but for those that have only it."""
    scene, left = answer.scene, {}
    evening = np.concatenate([np.full(len(h.sits), h.sit == "evening") for h in answer.reviews])
    for index, stand in enumerate(answer.stands):
        if scene.corridors_in_range(stand, stand.range_yd) == (trail,):
            left[index] = evening & scene.food_in_range(stand, stand.range_yd)
    return left


def _without_lanes(answer: SeasonAnswer, progress) -> dict[str, dict[int, Bools]]:
    """By lane and stand, the sits that are go on the other ways."""
    found: dict[str, dict[int, Bools]] = {}
    tries = []
    for attempt in _tries(answer):
        found.setdefault(attempt.lane, {})
        if any(lane.way != "out" for lane in attempt.left):
            tries.append(attempt)
        else:
            found[attempt.lane][attempt.index] = np.zeros(answer.n_sits, bool)
    if not tries:
        return found
    scene = Scene(_with_tries(answer.scene.ground, tries), answer.scene.heights)
    reviews = [
        season_sits(scene, answer.weather, h.sits.clock.dates, h.sit, h.sits.clock.at)
        for h in answer.reviews
    ]
    for i, attempt in enumerate(tries):
        stand = scene.ground.stands[i]
        go = np.concatenate([stand_season(sits, stand).group == GO for sits in reviews])
        found[attempt.lane][attempt.index] = go
        if progress:
            progress((i + 1) / len(tries))
    return found


def _tries(answer: SeasonAnswer) -> Iterator[_Try]:
    for index, stand in enumerate(answer.stands):
        if not answer.serves[:, index].any():
            continue  # nothing to lose
        own = tuple(lane for lane in answer.scene.ground.lanes if stand.id in lane.stands)
        for lane in own:
            yield _Try(lane.id, index, stand, tuple(x for x in own if x is not lane))


def _with_tries(ground: Property, tries: list[_Try]) -> Property:
    """The property with a stand for each try, on the ways that it has left."""
    stands, lanes = [], []
    for i, attempt in enumerate(tries):
        stands.append(dataclasses.replace(attempt.stand, id=f"try-{i}"))
        lanes += [
            dataclasses.replace(lane, id=f"{i}-{lane.id}", stands=(f"try-{i}",))
            for lane in attempt.left
        ]
    return dataclasses.replace(ground, stands=tuple(stands), lanes=tuple(lanes))


def worth_of(chore: Chore, found: dict[str, Worth]) -> Worth | None:
    """What a chore keeps open is worth; None for other chores. Args: it; the worths."""
    return found.get(chore.feature) if chore.kind in KEEPS_OPEN else None


def by_worth(chores: list[Chore], found: dict[str, Worth]) -> list[Chore]:
    """Chores in the order of their states, in each the one that costs most first.

    Args: chores; the worths. Those that keep nothing open follow, as they were.
    """

    def place(chore: Chore) -> tuple:
        worth = worth_of(chore, found)
        lost = (-worth.no_stand, -worth.stand_sits) if worth else (0.0, 1.0)
        return STATES.index(chore.state), lost

    return sorted(chores, key=place)
