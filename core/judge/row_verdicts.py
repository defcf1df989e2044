"""What strengths make of rows: areas by their two limits, trails by theirs, and the hour."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.ground.layout import AirRules
from core.sit.strength import Reached
from core.sit.trails import TrailsInRange, trails_verdict
from core.sit.verdicts import CLEAN, milder

Floats = npt.NDArray[np.float64]
Ints8 = npt.NDArray[np.int8]


@dataclass(frozen=True, eq=False)
class Limits:
    """The two limits of each place, the areas and then the approaches. [yd], (place,)

    `n_areas`: how many of them are areas.
    """

    wrong_within_yd: Floats
    clean_beyond_yd: Floats
    n_areas: int
    trails: TrailsInRange


@dataclass(frozen=True, eq=False)
class Verdicts:
    """Verdicts of rows: by their areas alone, and with their trails; shapes (row,). That of
    each place, areas a step milder where deer do not hold them; shape (row, place)."""

    areas: Any
    hour: Any
    place: Any


def limits_of(rules: AirRules, n_areas: int, trails: TrailsInRange) -> Limits:
    """The limits of the places of a stand.

    Args: the property's rules; how many areas the source of strength has; the approaches.
    """
    n = len(trails.near_yd)
    return Limits(
        wrong_within_yd=np.append(np.full(n_areas, rules.wrong_within_yd), trails.near_yd),
        clean_beyond_yd=np.append(
            np.full(n_areas, rules.clean_beyond_yd), np.full(n, rules.wrong_within_yd)
        ),
        n_areas=n_areas,
        trails=trails,
    )


def row_verdicts(
    reached: Reached, held, counts, ends, limits: Limits, *, told: bool = True
) -> Verdicts:
    """Verdicts of rows from what reaches their places.

    The worst of the areas that count; the trails as `trails_verdict` has them.
    Args: what reaches areas and approaches, (row, place); whether areas are held and count,
    (row, area); which of `before.ENDS` deer come from, (row,); the limits; whether
    places are told of each for itself.
    """
    graded = reached.graded(limits.wrong_within_yd, limits.clean_beyond_yd)
    return of_graded(graded, held, counts, limits.trails.walked(ends), limits, told=told)


def of_graded(graded, held, counts, walked, limits: Limits, *, told: bool = True) -> Verdicts:
    """Verdicts of rows whose places are graded by their limits.

    Args: grades, (..., place); held and counts, (..., area); approaches walked, (...,
    approach); the limits; whether places are told of, none of them else.
    """
    n = limits.n_areas
    of_area = np.where(held, graded[..., :n], milder(graded[..., :n]))
    areas = np.where(counts, of_area, np.int8(CLEAN)).max(axis=-1, initial=CLEAN)
    trails = trails_verdict(graded[..., n:], walked, limits.trails.counts)
    place = np.concatenate([of_area, graded[..., n:]], axis=-1) if told else graded[..., :0]
    return Verdicts(areas, np.maximum(areas, trails), place)
