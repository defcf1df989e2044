"""What is known of a sit before anyone knows the wind: ways, times, and the winds wanted."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.answer.change import works_by_degree
from core.answer.one_sit import answer_sit, judge_ways_in
from core.ground.layout import Stand
from core.sit.prepare import Sit


@dataclass(frozen=True, slots=True)
class WayTimes:
    """A way in: its name, length, minutes, and when to leave its truck [epoch s]."""

    name: str
    length_m: float
    minutes: int
    leave_s: int


@dataclass(frozen=True, eq=False)
class Wants:
    """One stand: its ways in, soonest left last, and the winds under which it is go."""

    stand: Stand
    ways: tuple[WayTimes, ...]
    works: npt.NDArray[np.bool_]  # by whole degree of the wind; shape (360,)


def known_without_wind(sit: Sit) -> list[Wants]:
    """Every stand with its ways and the winds it wants.

    Args: the sit in any directed wind of the strength that is meant; its direction is left
    aside. Returns: stands in the order of the file, those that are closed left out.
    """
    found = []
    for seat in sorted(answer_sit(sit).stands, key=lambda s: sit.scene.index(s.stand)):
        if seat.stand.closed:
            continue
        ways = judge_ways_in(sit, seat.stand, sit.clock.seated_s)
        times = (
            WayTimes(w.way.lane.name, w.way.length_m, w.way.minutes, int(w.start_s)) for w in ways
        )
        shortest_first = tuple(sorted(times, key=lambda w: (-w.leave_s, w.name)))
        found.append(Wants(seat.stand, shortest_first, works_by_degree(sit, seat)))
    return found
