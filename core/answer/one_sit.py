"""The answer: which stand, which way, and why, for one date, sit and wind.

One sit read out of the arrays of `core.sit`. Numbers stay unrounded here; `core.say`
rounds and says them.
"""

import dataclasses
import functools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.answer.chances import Chances
from core.errors import BadRequest
from core.ground.layout import Stand
from core.judge.exposure import StandHours, walk_ahead
from core.judge.order import orders, rested
from core.judge.stand import CAUSES, StandSits, stand_sits
from core.sit.clock import NEVER_S
from core.sit.minutes import SHORT_MIN, WindowRows
from core.sit.prepare import Sit, Sits
from core.sit.rank import Judged
from core.sit.ways import Chosen, WayAir, way_air, ways_in

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class OwnRows:
    """The rows of one sit at a stand: its hours, cut where its slope wind turns. (row,)"""

    start_s: Ints  # those of the window's ends begin and end with it
    end_s: Ints
    begins_s: Ints  # the whole row, from before the window too
    minutes: Floats
    weight: Floats
    prime_min: Floats

    @classmethod
    def of(cls, rows: WindowRows, sit: int, window_s: tuple[int, int]) -> "OwnRows":
        """Those of one of some sits. Args: the rows; the sit; its window [epoch s]."""
        some = rows.inside[sit]
        prime = rows.prime_first_min[sit, some] + rows.prime_last_min[sit, some]
        return cls(
            np.maximum(rows.start_s[sit, some], window_s[0]),
            np.minimum(rows.end_s[sit, some], window_s[1]),
            rows.start_s[sit, some],
            rows.minutes[sit, some],
            rows.weight[sit, some],
            prime,
        )

    @property
    def deciding(self) -> Bools:
        """Rows with enough minutes inside to decide anything."""
        return self.minutes >= SHORT_MIN

    @property
    def prime(self) -> Bools:
        """Deciding rows that touch a prime block."""
        return (self.prime_min > 0) & self.deciding


@dataclass(frozen=True, eq=False)
class StandSit:
    """One stand in one sit.

    `seated_s` is None where closed hours leave no minute of it; then no walk is judged.
    """

    stand: Stand
    range_yd: float
    corridors: tuple[str, ...]
    rows: OwnRows
    hours: StandHours
    judged: Judged
    group: int
    verdict: int
    causes: tuple[str, ...]
    wanted: str | None
    seated_s: int | None
    leave_by_s: int | None
    not_before_s: int | None
    way_in: WayAir | None
    way_out: WayAir | None
    leave_truck_s: int | None
    rest: float
    sat_days: int | None  # since the log has it sat; None where it has not
    rank: int = 0
    score: float = 0.0
    taken_by: str = ""

    @property
    def air_share(self) -> float:
        return float(self.judged.air_share[0])

    def verdict_in(self, hour: int) -> int | None:
        """The worst verdict of the rows that an hour is cut into; None without a minute in it.

        Args: the hour, a row of the sit.
        """
        return max(self.hours.verdict[self.hours.air.row == hour].tolist(), default=None)


@dataclass(frozen=True, eq=False)
class SitAnswer:
    """A whole answer; `stands` in order, best first."""

    sit: Sit
    judged: tuple[StandSits, ...]  # in the file's order
    order: tuple[int, ...]
    scores: tuple[float, ...]  # in the file's order
    chances: Chances | None = None  # None: not asked for
    _read: dict[int, StandSit] = dataclasses.field(default_factory=dict)

    @functools.cached_property
    def stands(self) -> tuple[StandSit, ...]:
        """Every stand, best first."""
        return tuple(self.at(rank) for rank in range(len(self.order)))

    @property
    def groups(self):
        """Group of each stand, in the file's order. Shape (stand,)."""
        return np.array([s.group[self.sit.at] for s in self.judged], np.int8)

    @property
    def best(self) -> StandSit | None:
        return self.at(0) if self.order else None

    @functools.cached_property
    def taken(self) -> dict[str, str]:
        """Who else sits where: names by stand id, in the file's order."""
        return {own.stand.id: own.taken_by for own in self.judged if own.taken_by}

    def at(self, rank: int) -> StandSit:
        """A stand by its place in the order. Args: the place, 0 for the best."""
        if rank not in self._read:
            i = self.order[rank]
            own = read_out(self.sit, self.judged[i])
            self._read[rank] = dataclasses.replace(own, rank=rank + 1, score=self.scores[i])
        return self._read[rank]


def stand_sit(sit: Sit, stand: Stand, taken_by: str = "") -> StandSit:
    """Judges one stand in the forecast's own wind."""
    return read_out(sit, stand_sits(sit.sits, stand, taken_by))


def read_out(sit: Sit, own: StandSits) -> StandSit:
    """One sit of a stand that was judged in some. Args: the sit; the stand in all of them."""
    sits, i = sit.sits, sit.at
    hours, some, rest = own.hours, own.rows.judged.of_sit(i), rested(sits, own.stand)
    if len(some) < len(hours.verdict):
        hours = hours.take(some)
    first = i * sits.found.length
    air = dataclasses.replace(hours.air, row=hours.air.row - first)
    is_open = sit.clock.start_s is not None
    way_in = _read_way(sits, own, own.way_in, i) if is_open else None
    return StandSit(
        stand=own.stand,
        range_yd=own.range_yd,
        corridors=sits.scene.corridors_in_range(own.stand, own.range_yd),
        rows=OwnRows.of(own.rows.judged.rows, i, _window_s(sit)),
        hours=dataclasses.replace(hours, air=air),
        judged=own.judged.one(own.rows.judged.rows.inside, i),
        group=int(own.group[i]),
        verdict=int(own.verdict[i]),
        causes=tuple(c for c, holds in zip(CAUSES, own.causes[:, i], strict=True) if holds),
        wanted=own.wanted[i],
        seated_s=int(own.seated_s[i]) if is_open else None,
        leave_by_s=_instant(own.leave_by_s[i]),
        not_before_s=_instant(own.not_before_s[i]),
        way_in=way_in,
        way_out=_read_way(sits, own, own.way_out, i) if is_open else None,
        leave_truck_s=None if way_in is None else int(way_in.start_s),
        rest=float(rest.share[i]),
        sat_days=_days(rest.sat_days[i]),
        taken_by=own.taken_by,
    )


def _window_s(sit: Sit) -> tuple[int, int]:
    clock = sit.clock
    if clock.start_s is None or clock.end_s is None:
        return (0, 0)
    return clock.start_s, clock.end_s


def _read_way(sits: Sits, own: StandSits, taken: Chosen | None, i: int) -> WayAir | None:
    return None if taken is None else way_air(sits, own.stand, taken.walks[taken.at[i]], i)


def _instant(time_s) -> int | None:
    return None if time_s == NEVER_S else int(time_s)


def _days(days: float) -> int | None:
    return None if np.isnan(days) else int(days)


def judge_ways_in(sit: Sit, stand: Stand, seated_s: int) -> list[WayAir]:
    """Every way in, so timed that the hunter is set up when seated.

    Args: the sit; the stand; when seated [epoch s].
    """
    sits, i = sit.sits, np.array([sit.at])
    walks = ways_in(sits, stand, np.array([seated_s], float), i)
    return [way_air(sits, stand, walk, 0) for walk in walks]


def answer_sits(sits: Sits, taken: dict[str, str] | None = None) -> list[SitAnswer]:
    """Judges and orders every stand in each of some sits.

    Args: the sits; names of the hunters who sit elsewhere, by stand id; a stand taken by
    the hunter of these sits is not taken.

    Raises: BadRequest for a taken stand that the property lacks.
    """
    stands = sits.ground.stands
    others = others_at(sits, taken or {})
    walk_ahead(sits, stands)
    judged = tuple(stand_sits(sits, s, others.get(s.id, "")) for s in stands)
    scores, order = orders(sits, judged)
    return [
        SitAnswer(sits.one(i), judged, tuple(order[i]), tuple(scores[i].tolist()))
        for i in range(len(sits))
    ]


def answer_sit(sit: Sit, taken: dict[str, str] | None = None) -> SitAnswer:
    """Judges and orders every stand of one sit. Args, raises: as `answer_sits`."""
    answer = answer_sits(sit.sits, taken)[sit.at]
    return dataclasses.replace(answer, sit=sit)


def others_at(sits: Sits, taken: dict[str, str]) -> dict[str, str]:
    """Who sits at each stand that another hunter has taken, by stand id.

    Args: the sits; names by stand id, those of the hunter of the sits left out.
    Raises: BadRequest for a stand that the property lacks.
    """
    known = {s.id for s in sits.ground.stands}
    for stand_id in taken:
        if stand_id not in known:
            raise BadRequest(
                f"no stand has the id '{stand_id}'", "the stands taken", "Use a stand's id."
            )
    me = sits.hunter.name.casefold() if sits.hunter else None
    return {k: v for k, v in taken.items() if v.casefold() != me}


def place_ids(sit: Sit, own: StandSit) -> list[str]:
    """Ids of the places of a stand's rows, in their order; a trail once for each approach."""
    return [a.id for a in sit.scene.areas] + [a.trail for a in own.hours.approaches]
