"""Air on the trails in range: on it, beside it or clear, and what that makes of a row.

An approach is one trail from one end: the part that deer walk before the shot.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.ground.layout import AirRules, Stand
from core.ground.place import shapes
from core.sit.before import FOOD_END, FROM_BEDDING, FROM_BOTH, FROM_FOOD, Approach, reach_m
from core.sit.scene import Scene
from core.sit.verdicts import CLEAN, JUST_OFF, WRONG, grade
from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class TrailsInRange:
    """The approaches within a stand's own range, for one hunter; shapes (approach,).

    `near_yd`: air nearer than that, told as "like N yards", is on the trail. `counts`: those
    that this hunter can shoot to. `end`: `FROM_FOOD` or `FROM_BEDDING`.
    """

    approaches: tuple[Approach, ...]
    near_yd: Floats
    counts: Bools
    end: Ints

    def walked(self, ends) -> Bools:
        """Which approaches deer come by. Args: which of `before.ENDS`, (row,). (row, approach)"""
        ends = np.asarray(ends)[:, None]
        return (ends == FROM_BOTH) | (ends == self.end)


def trails_in_range(scene: Scene, stand: Stand, range_yd: float) -> TrailsInRange:
    """The approaches of a stand. Args: the scene; the stand; the hunter's range [yd]."""
    key = ("trails in range", stand.id, stand.range_yd, range_yd)
    return scene.kept(key, lambda: _in_range(scene, stand, range_yd))


def _in_range(scene: Scene, stand: Stand, range_yd: float) -> TrailsInRange:
    approaches = tuple(scene.approaches(stand))
    seat = shapely.Point(scene.stands_m[scene.index(stand)])
    lines = shapes(scene.corridor_lines[a.trail] for a in approaches)
    away_yd = shapely.distance(lines, seat) / M_PER_YD
    return TrailsInRange(
        approaches=approaches,
        near_yd=on_it_within_yd(away_yd, scene.ground.air),
        counts=counting(away_yd, range_yd),
        end=np.array([FROM_FOOD if a.end == FOOD_END else FROM_BEDDING for a in approaches], int),
    )


def on_it_within_yd(away_yd, rules: AirRules):
    """How near "like N yards" has to be for air to lie on a trail. [yd]  Elementwise.

    Args: how far the trail is from the stand [yd]; the property's rules.
    Source: common practice, no source: settings of the property.
    """
    near_yd = np.maximum(rules.trail_within_yd, rules.trail_shot_times * np.asarray(away_yd))
    return np.minimum(near_yd, rules.wrong_within_yd)


def approach_verdict(like_yd, away_yd, rules: AirRules):
    """Verdict on an approach: wrong where the air is on it, just-off beside it, else clean.

    Args (elementwise): how strongly the air reaches it, as "like N yards" [yd]; how far the
    trail is from the stand [yd]; the property's rules.
    Missing: NaN (no air known) is clean; callers say can't call themselves.
    Source: common practice, no source: settings of the property.
    """
    return grade(like_yd, on_it_within_yd(away_yd, rules), rules.wrong_within_yd)


def counting(away_yd, range_yd: float):
    """Which of the trails within a stand's own range count for a hunter. Shape (approach,).

    Args: how far each is from the stand, shape (approach,) [yd]; the hunter's range [yd].

    Those within the hunter's range, distances to the whole yard; where none is, the
    nearest: so a shorter range never frees an hour.
    """
    away_yd = np.asarray(away_yd, float)
    within = away_yd * M_PER_YD <= reach_m(range_yd)
    return within | (~within.any() & (away_yd <= away_yd.min(initial=np.inf)))


def trails_verdict(verdict, walked, counts):
    """What the approaches make of rows.

    Args: their verdicts, wrong where the air is on one, just-off beside it, shape
    (row, approach); which of them deer come by, that shape; which count, (approach,).

    Returns: shape (row,). Wrong where the air is on every approach that deer come by and
    that counts, and there is one; just-off where it is on or beside any; else clean.
    """
    asked = walked & counts
    on_all = ((verdict == WRONG) | ~asked).all(axis=-1) & asked.any(axis=-1)
    off = (walked & (verdict != CLEAN)).any(axis=-1)
    return np.where(on_all, WRONG, np.where(off, JUST_OFF, CLEAN)).astype(np.int8)
