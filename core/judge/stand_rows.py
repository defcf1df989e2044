"""The rows that a stand is judged on: the hours of the windows, cut where its air turns."""

import dataclasses
import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.ground.layout import Stand
from core.judge.turn import Turns, turns_of
from core.sit.before import ENDS
from core.sit.lately import Lately
from core.sit.minutes import ALL_DAY, SHORT_MIN, WHOLE, Pieces, cut_rows
from core.sit.prepare import Sits
from core.sit.rows import JudgedRows
from core.sit.scene import Scene
from core.sit.slope import StandSlope
from core.weather.hours import MISSING

if TYPE_CHECKING:
    from core.sit.land.stand_land import StandLand

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

KEPT_SLOPES = 4  # the rows of so many slopes
MOST_NUMBER = 2**54  # a byte more still fits into a whole number


@dataclass(frozen=True, eq=False)
class StandRows:
    """The rows of a stand in some sits, flat as in `JudgedRows`; shapes (row x sit,).

    `kind`: one of `pieces.PIECE_WORDS`; `span`: which of `turns` it lies in, -1 for none.
    `slope`: the stand's slope wind; None without a slope.
    """

    sits: Sits
    judged: JudgedRows
    kind: npt.NDArray[np.int8]
    span: Ints
    slope: StandSlope | None = None
    turns: Turns | None = None

    @property
    def sit(self) -> Ints:
        """The sit of each row."""
        n_sits = len(self.sits)
        return np.tile(np.arange(n_sits), len(self.kind) // max(n_sits, 1))

    @functools.cached_property
    def inside(self) -> Bools:
        """Which rows have a minute inside their window."""
        return self.judged.rows.inside.T.ravel()

    @functools.cached_property
    def ends(self) -> Ints:
        """Which of `before.ENDS` deer come from in each row."""
        return self.sits.ends_at(self.judged.hours.middle_s, self.sit)

    @functools.cached_property
    def held(self) -> Bools:
        """Whether deer hold each place in each row. (row, place)"""
        rows = self.judged.hours
        return self.sits.source.places.held(rows.middle_s, rows.day)

    @functools.cached_property
    def counts(self) -> Bools:
        """Whether each place counts in each row. (row, place)"""
        return self.sits.hour_counts[self.judged.at]

    @functools.cached_property
    def alike(self) -> tuple[Ints, Ints]:
        """Rows of one kind have one class, and deer come, hold places and count alike: the
        first row of each kind, (kind,), and the kind of each, (row,)."""
        number = self.judged.hours.stability * len(ENDS) + self.ends
        for truths in (self.held, self.counts):
            for byte in np.packbits(truths, axis=1).T:
                if number.max(initial=0) >= MOST_NUMBER:
                    number = np.unique(number, return_inverse=True)[1]
                number = number * 256 + byte
        _, first, kind = np.unique(number, return_index=True, return_inverse=True)
        return first, kind

    @functools.cached_property
    def weighed(self) -> Bools:
        """Rows of sits that may be decided by how much of their air is good: those without a row
        that decides alone."""
        return self.of_every_row(~self.judged.by_sit(self.decides_alone).any(axis=1))

    @functools.cached_property
    def decides_alone(self) -> Bools:
        """Rows that keep a stand out where their air is wrong, whatever comes before: those of a
        prime block that an all-day hunter, who may be down early, sits through."""
        rows = self.judged.rows
        is_all_day = self.sits.clock.sit == ALL_DAY
        return (rows.prime_first_min >= SHORT_MIN if is_all_day else rows.in_prime).T.ravel()

    def of_every_row(self, of_sits: Bools) -> Bools:
        """What is so of sits, for each of their rows. Args: truths of the sits, (sit,)."""
        return np.tile(of_sits, self.judged.rows.minutes.shape[1])

    @functools.cached_property
    def still_mps(self) -> Any:
        """The slope wind at the middle of each row, uphill positive; 0 without a slope."""
        if self.slope is None:
            return 0.0
        rows = self.judged.hours
        return self.slope.in_hours(self.judged.at, rows.middle_s - self._hour_start_s)

    @property
    def _hour_start_s(self) -> Ints:
        return self.sits.found.hours.start_s[self.judged.at]

    @functools.cached_property
    def fade(self) -> Floats:
        """How much of the slope wind the general wind leaves in each row, 1 to 0."""
        fades_at_mps = self.sits.ground.air.slope_fades_at_mps
        return slopes.fade(self.judged.hours.speed_mps, fades_at_mps)


def rows_of(sits: Sits, stand: Stand) -> StandRows:
    """The rows of a stand. Args: the sits; the stand."""
    rows = sits.kept_for_anyone(("rows", stand), lambda: _rows_of(sits, stand))
    return rows if rows.sits is sits else dataclasses.replace(rows, sits=sits)


def _rows_of(sits: Sits, stand: Stand) -> StandRows:
    whole = sits.kept("whole rows", lambda: _whole(sits))
    if stand.downhill_deg is None or stand.grade_pct is None:
        return whole
    # stands on one slope have the same rows, but for the land that shades them
    lately = sits.kept("sloping rows", lambda: Lately(KEPT_SLOPES))
    where = None if sits.scene.heights is None else stand.at
    key = stand.downhill_deg, stand.grade_pct, where
    return lately.get(key, lambda: _sloping(sits, whole, stand))


def _sloping(sits: Sits, whole: StandRows, stand: Stand) -> StandRows:
    """The rows of a stand on a slope. Args: the sits; their whole rows; the stand."""
    own_land = land_at(sits.scene, stand)
    shade = None if own_land is None else own_land.shade
    slope = StandSlope(sits.clock, sits.found, stand, shade)
    turns = turns_of(sits.clock, sits.found, slope, sits.ground.air.turn_min)
    if not len(turns):
        return dataclasses.replace(whole, slope=slope)
    pieces = _pieces(whole, turns)
    rows = sits.clock.rows_of(pieces.start_s, pieces.end_s)
    at = sits.found.index_of(pieces.start_s, np.arange(len(sits))[:, None]).T.ravel()
    hours = dataclasses.replace(
        sits.found.hours.take(at),
        start_s=pieces.start_s.T.ravel(),
        end_s=pieces.end_s.T.ravel(),
    )
    judged = JudgedRows(rows, at, hours)
    return StandRows(sits, judged, pieces.kind.T.ravel(), pieces.span.T.ravel(), slope, turns)


def alike(sits: Sits, stand: Stand) -> tuple[Any, ...]:
    """What the air of a stand's rows depends on: stands that have the same have the same air.

    Args: the sits; the stand.
    """
    where = None if sits.scene.heights is None else stand.at
    slope = stand.downhill_deg, stand.grade_pct
    return *slope, where, stand.height_ft, stand.cover, stand.turns


def land_at(scene: Scene, stand: Stand) -> "StandLand | None":
    """The land about a stand; None without heights. Args: the scene; the stand."""
    if scene.heights is None:
        return None
    from core.sit.land.stand_land import land_of_stand  # what only heights need is loaded here

    return land_of_stand(scene, stand)


def _pieces(whole: StandRows, turns: Turns) -> Pieces:
    """The hours cut at both ends of each span, but where no wind is given, or leaves no slope
    wind."""
    missing = whole.judged.hours.weather.state == MISSING
    uncut = whole.judged.by_sit((whole.fade == 0.0) | missing)
    return cut_rows(whole.judged.rows.start_s, uncut, turns.sit, turns.start_s, turns.end_s)


def _whole(sits: Sits) -> StandRows:
    n = len(sits.judged.at)
    return StandRows(sits, sits.judged, np.full(n, WHOLE, np.int8), np.full(n, -1))
