"""The way that still air takes over the land, for the hours in which it slides."""

from collections.abc import Iterator

import numpy as np

from core.answer.one_sit import StandSit
from core.judge.stand_rows import land_at, rows_of
from core.judge.still import NOT_KNOWN, still_like_yd
from core.say.reason_kinds import OverLand, Reason
from core.sit.prepare import Sit


def of_land(sit: Sit, seat: StandSit) -> Iterator[Reason]:
    """Where air slides over the land, in hours that can't be called and whose slope is known.

    Args: the sit; the stand in it. Returns: none without heights that show this slope.
    """
    hours, stand = seat.hours, seat.stand
    down = (hours.still > NOT_KNOWN) & (hours.still_to_deg == stand.downhill_deg)
    own_land = land_at(sit.scene, stand) if down.any() else None
    if own_land is None or not own_land.bends:
        return
    # what only heights need is loaded here
    from core.land.still_way import POOL
    from core.land.still_words import still_air

    way = still_air(own_land.way_down, sit.scene.ground, sit.scene.plane)
    if way is None or not (way.met or way.ends == POOL):  # straight on: it is told already
        return
    cases, last = np.flatnonzero(down), len(down) - 1
    yield OverLand(
        None if cases[0] == 0 else int(seat.rows.start_s[cases[0]]),
        None if cases[-1] == last else int(seat.rows.end_s[cases[-1]]),
        way,
        _like(sit, seat, int(cases[-1]), {one.id for one in way.met}),
    )


def _like(sit: Sit, seat: StandSit, case: int, met: set[str]) -> tuple[tuple[str, float], ...]:
    """How strongly the air of an hour reaches the areas that its way meets."""
    sits = sit.sits
    own = rows_of(sits, seat.stand)
    row = int(own.judged.of_sit(sit.at)[case])
    like_yd = still_like_yd(own, sits.armed(seat.stand), row)
    areas = enumerate(sit.scene.areas)
    return tuple((a.id, float(like_yd[i])) for i, a in areas if a.id in met)
