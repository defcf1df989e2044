"""What a row at a stand is worth: in one direction, over an arc, or whichever way air goes."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.air.arc import Arc, swept_arc
from core.air.felt import felt_from_deg
from core.air.shelter import wind_at_hunter_mps
from core.air.slopes import toward
from core.ground.layout import Stand
from core.judge.causes import CAUSE_WORDS, IS_MISSING, IS_TURNING, SURE, causes_of_doubt
from core.judge.doubt import of_directions
from core.judge.every_way import every_way
from core.judge.row_verdicts import Limits, Verdicts, limits_of, row_verdicts
from core.judge.stand_rows import StandRows, alike, land_at, rows_of
from core.judge.still import still_air, still_verdicts
from core.sit.before import Approach
from core.sit.minutes import TURNING
from core.sit.prepare import FORMULA, KEPT_TABLE, Sits
from core.sit.stand_air import StandAir, end_to_end_air, stand_air
from core.sit.strength import Likes
from core.sit.trails import trails_in_range
from core.sit.verdicts import CANT_CALL, WRONG

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Ints8 = npt.NDArray[np.int8]
Bools = npt.NDArray[np.bool_]

# causes for which air is judged in every direction
ANY_WAY = np.ones(len(CAUSE_WORDS), bool)
ANY_WAY[[SURE, IS_TURNING, IS_MISSING]] = False


@dataclass(frozen=True, eq=False)
class StandHours:
    """What each row is worth at one stand, flat as `JudgedRows.hours`; shapes (row,).

    `areas` is the verdict without the trails; `cause` why the air has no one direction;
    `still` the slope-only verdict of rows that can't be called, `NOT_KNOWN` elsewhere and
    without a slope; `still_to_deg` where still air would go; `swing_deg` how far turning air
    swings, `swing_to_deg` its two ends, shape (row, 2), NaN elsewhere.

    By formula, shapes (row, place), areas and then approaches: `equivalent_yd`, how strongly
    air reaches each, NaN where it may go any way, the most over an arc; `place_verdict`;
    `counts`.
    """

    air: StandAir
    approaches: tuple[Approach, ...]
    verdict: Ints8
    areas: Ints8
    cause: Ints8
    kind: Ints8
    still: Ints8
    still_to_deg: Floats
    swing_deg: Floats
    swing_to_deg: Floats
    equivalent_yd: Floats
    place_verdict: Ints8
    counts: Bools

    def take(self, rows: Ints) -> "StandHours":
        """Some of the rows. Args: their places."""
        names = set(self.__dataclass_fields__) - {"air", "approaches"}
        picked = {name: getattr(self, name)[rows] for name in names}
        return StandHours(air=self.air.take(rows), approaches=self.approaches, **picked)


def stand_hours(own: StandRows, stand: Stand) -> StandHours:
    """Verdicts of the rows of some sits at one stand. Args: the rows of the stand; the stand."""
    sits = own.sits
    trails = trails_in_range(sits.scene, stand, sits.range_yd(stand))
    limits = limits_of(sits.ground.air, len(sits.source.places), trails)
    air = air_at(own, stand)
    cause = causes_of_doubt(own, stand, air)
    found, asked = _Found(own, limits), np.ones(len(cause), bool)
    if sits.strengths == KEPT_TABLE:  # nothing is told of these: only what decides is asked for
        first = own.decides_alone & (cause == SURE)
        sure = _asked(own, first)
        found.directed(stand, air.take(sure), None, sure)
        lost = own.judged.by_sit(first & (found.hour == WRONG)).any(axis=1)
        asked = ~first & ~own.of_every_row(lost)
    turning = _asked(own, asked & (cause == IS_TURNING))
    sure = _asked(own, asked & (cause == SURE))
    found.directed(stand, *_directed_air(own, stand, air, sure, turning), sure)
    anyway = _asked(own, asked & ANY_WAY[cause])
    if len(anyway):
        found.put(anyway, every_way(own, stand, anyway, limits))
    to_deg, still_mps = still_air(own, stand)
    likely = asked & (found.hour == CANT_CALL) & (own.kind != TURNING)
    if sits.strengths == KEPT_TABLE:
        likely &= own.weighed
    return StandHours(
        air=air,
        approaches=trails.approaches,
        verdict=found.hour,
        areas=found.areas,
        cause=cause,
        kind=own.kind,
        still=still_verdicts(own, stand, likely, to_deg, still_mps, limits),
        still_to_deg=to_deg,
        swing_deg=found.swing_deg,
        swing_to_deg=found.swing_to_deg,
        equivalent_yd=found.like_yd,
        place_verdict=found.place,
        counts=found.counts(trails.walked),
    )


def air_at(own: StandRows, stand: Stand) -> StandAir:
    """The air at a stand in its rows. Args: the rows; the stand."""
    sits = own.sits

    def made() -> StandAir:
        slope_mps, own_land = own.still_mps * own.fade, land_at(sits.scene, stand)
        return stand_air(own.judged, stand, slope_mps, own_land, is_led=sits.strengths == FORMULA)

    return sits.kept_for_anyone(("air", alike(sits, stand)), made)


def walk_ahead(sits: Sits, stands: Sequence[Stand]) -> None:
    """Walks the ways of all stands over the land together, for when each is judged.

    Args: the sits; their stands. Nothing without heights, and of more sits than one, whose
    air is too much to keep.
    """
    if sits.scene.heights is None or sits.strengths != FORMULA or len(sits) != 1:
        return
    from core.sit.land import stand_land  # what only heights need is loaded here

    seats = []
    for stand in stands:
        if (own_land := land_at(sits.scene, stand)) is not None:
            air = air_at(rows_of(sits, stand), sits.armed(stand))
            seats.append((own_land, air.take(own_land.mixed_rows(air))))
    stand_land.walk_ahead(seats)


def _asked(own: StandRows, which: Bools) -> Ints:
    """Places of rows that strength is asked for."""
    return own.sits.source.some_rows(which, own.inside)


@dataclass(frozen=True, eq=False)
class _Swings:
    """The directions of turning rows: `air` of each, `first` of each row; shapes (way,), (row,)."""

    rows: Ints
    air: StandAir
    arc: Arc

    @property
    def first(self) -> Ints:
        count = np.bincount(self.arc.case, minlength=len(self.rows))
        return np.cumsum(count) - count


def _directed_air(
    own: StandRows, stand: Stand, air: StandAir, sure: Ints, turning: Ints
) -> tuple[StandAir, _Swings]:
    """The air in rows of one direction and then over the arcs of those that turn; those arcs."""

    def made() -> tuple[StandAir, _Swings]:
        swings = _swings(own, stand, air, turning)
        return end_to_end_air([air.take(sure), swings.air]), swings

    key = "directed", alike(own.sits, stand), sure.tobytes(), turning.tobytes()
    return own.sits.kept_for_anyone(key, made)


def _swings(own: StandRows, stand: Stand, air: StandAir, rows: Ints) -> _Swings:
    """The arcs over which air swings in some turning rows."""
    own_land = land_at(own.sits.scene, stand)
    hours, turns, span = own.judged.hours, own.turns, own.span[rows]
    fade, stability = own.fade[rows], hours.stability[rows]
    speed = hours.speed_mps[rows]
    slopes_mps = np.zeros((2, len(rows)))
    if turns is not None:
        slopes_mps = np.stack([turns.from_mps[span], turns.to_mps[span]]) * fade
    wind = wind_at_hunter_mps(speed, air.height_m, stability, stand.cover)
    wind_from_deg = felt_from_deg(stand.turns, hours.weather.wind_from_deg[rows])
    if own_land is not None:
        wind, (east, north) = own_land.over_hills(wind, toward(wind_from_deg), stability, speed)
        wind_from_deg = np.degrees(np.arctan2(-east, -north))
    arc = swept_arc(
        wind_mps=wind,
        wind_from_deg=wind_from_deg,
        speed_10m_mps=speed,
        slope_from_mps=slopes_mps[0],
        slope_to_mps=slopes_mps[1],
        downhill_deg=stand.downhill_deg or 0.0,
        half_width_deg=hours.weather.half_width_deg[rows],
    )
    way_air = air.take(
        rows[arc.case],
        air_to_deg=arc.air_to_deg,
        half_width_deg=arc.half_width_deg,
        carried_mps=arc.carried_mps,
        slope_mps=np.zeros(len(arc.case)),
        effective_mps=arc.effective_mps,
        strays=np.zeros(len(arc.case), bool),
    )
    return _Swings(rows, way_air, arc)


class _Found:
    """Verdicts of rows as they are found; places by formula only.

    Args: the rows; the limits of their places.
    """

    def __init__(self, own: StandRows, limits: Limits) -> None:
        self.own, self.limits = own, limits
        n, n_places = len(own.kind), len(limits.wrong_within_yd)
        self.hour = np.full(n, CANT_CALL, np.int8)
        self.areas = np.zeros(n, np.int8)
        self.by_formula = own.sits.strengths == FORMULA
        told = n if self.by_formula else 0
        self.place = np.full((told, n_places), CANT_CALL, np.int8)
        self.like_yd = np.full((told, n_places), np.nan)
        self.swing_deg = np.full(n, np.nan)
        self.swing_to_deg = np.full((n, 2), np.nan)

    def counts(self, walked) -> Bools:
        """Which places count in each row. Args: what tells which approaches deer come by."""
        if not self.by_formula:
            return self.place.astype(bool)
        return np.concatenate([self.own.counts, walked(self.own.ends)], axis=1)

    def put(self, rows: Ints, verdicts: Verdicts) -> None:
        """Keeps the verdicts of some rows. Args: which; their verdicts."""
        self.hour[rows], self.areas[rows] = verdicts.hour, verdicts.areas
        if self.by_formula:
            self.place[rows] = verdicts.place

    def directed(self, stand: Stand, air: StandAir, swings: _Swings | None, sure: Ints) -> None:
        """Judges rows of one direction and those that swing, asked for together.

        Args: the stand; its air in the rows of one direction and then over the arcs; the arcs
        of those that turn; the rows of one direction.
        """
        own, n, rows = self.own, len(sure), sure
        if swings is not None and len(swings.rows):
            rows = np.concatenate([sure, swings.rows[swings.arc.case]])
        if not len(rows):
            return
        ends = own.ends[rows]
        reached = own.sits.source.at_stand(stand, air, ends)
        held, counts, told = own.held[rows], own.counts[rows], self.by_formula
        found = row_verdicts(reached, held, counts, ends, self.limits, told=told)
        self.put(sure, Verdicts(found.areas[:n], found.hour[:n], found.place[:n]))
        if isinstance(reached, Likes):
            self.like_yd[sure] = reached.like_yd[:n]
        if swings is None or not len(swings.rows):
            return
        first = swings.first
        swung = (of_directions(v[n:], first) for v in (found.areas, found.hour, found.place))
        self.put(swings.rows, Verdicts(*swung))
        if isinstance(reached, Likes):
            most = np.minimum.reduceat(reached.like_yd[n:], first, axis=0)
            self.like_yd[swings.rows] = most
        self.swing_deg[swings.rows] = swings.arc.swing_deg
        self.swing_to_deg[swings.rows] = swings.arc.ends_deg
