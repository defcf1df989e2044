"""One more stand, one more way in, and what the saw would gain: spots tried in turn.

Spots along the corridors are judged as stands of their own in the same sits. A tree
may not stand there; the ground at a spot is taken to lie as the heights have it, without
them as at the nearest stand.
"""

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.ground.heights.slope_at import rounded_slope
from core.ground.layout import Property, Stand
from core.land.agreed import shown_slope
from core.season.gaps import sit_winds
from core.season.one_stand import stand_season
from core.season.review import SeasonAnswer, season_sits
from core.season.spot_place import spot_words
from core.season.spots import OFF_M, Spot, spots_for
from core.sit.prepare import COARSE_TABLE
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.units import M_PER_YD

NUDGE_M = 5.0 * M_PER_YD  # a spot that is taken is tried so much nearer and farther too
APART_M = 60.0 * M_PER_YD
MOST_FOUND = 10
MOST_SITS = 700  # of a longer history some years are tried, evenly apart
TREE = "a tree may not stand there"


@dataclass(frozen=True, eq=False)
class NextStand:
    """A spot with what it adds to the stands and the spots before it.

    `place` says where it lies by what is known there, `seat` what hangs there for the sums.
    """

    lonlat: tuple[float, float]
    corridor: str
    lane: str
    cut_yd: int
    adds_sits: int
    adds_share: float
    of_sits: int
    why: str
    place: str = ""
    seat: str = ""


def next_stands(answer: SeasonAnswer, most: int = MOST_FOUND, progress=None) -> list[NextStand]:
    """Spots for another stand by greedy choice: each adds most after those before it.

    Args: the answer; how many at most; told the share done, 0 to 1.
    Returns: none within 60 yards of another, nor nearer to a bed or to a seat that is there
    than the property's settings say; fewer where nothing more is added.
    """
    spots = list(spots_for(answer.scene, clear=True))
    first = [spot for spot, _, _ in _greedy(answer, spots, most, progress)]
    pool = [s for spot in first for s in (spot, *_nudged(answer.scene, spot))]
    return [_next(answer, *found) for found in _greedy(answer, pool, most)]


def _greedy(answer: SeasonAnswer, spots: list[Spot], most: int, progress=None):
    """Spots each of which adds most after those before it, none too near another.

    Returns: each with which of the sits tried it adds, and those sits' places among all.
    """
    if not spots:
        return []
    tries = Tries(answer, with_spots(answer.scene, spots), progress)
    covered = answer.serves[tries.picked].any(axis=1)
    places = np.array([s.at_m for s in spots])
    free = np.ones(len(spots), bool)
    found: list[tuple[Spot, npt.NDArray[np.bool_], npt.NDArray[np.int64]]] = []
    while len(found) < most:
        best = tries.most_added(covered, free)
        if best is None:
            break
        new = tries.go(best) & ~covered
        found.append((spots[best], new, tries.picked))
        covered |= new
        free &= np.hypot(*(places - places[best]).T) >= APART_M
    return found


def _nudged(scene: Scene, spot: Spot) -> Iterator[Spot]:
    """The same spot nearer to its trail and farther from it."""
    for off_m in (OFF_M - NUDGE_M, OFF_M + NUDGE_M):
        for other in spots_for(scene, off_m, spot.corridor, clear=True):
            if np.hypot(*(other.at_m - spot.at_m)) < 1.5 * NUDGE_M:
                yield other


def _next(answer: SeasonAnswer, spot: Spot, new, picked) -> NextStand:
    lon, lat = answer.scene.plane.to_lonlat(*spot.at_m)
    return NextStand(
        lonlat=(float(lon), float(lat)),
        place=spot_words(answer.scene, spot.at_m),
        seat=_seat_words(answer.scene, spot),
        corridor=spot.corridor,
        lane=spot.lane,
        cut_yd=round(spot.cut_m / M_PER_YD),
        adds_sits=int(new.sum()),
        adds_share=float(new.mean()),
        of_sits=len(new),
        why=_why(answer, picked[new]),
    )


def _seat_words(scene: Scene, spot: Spot) -> str:
    """What hangs at a spot for the sums. Args: the scene; the spot."""
    stand, near = _stand_at(scene, spot, "spot"), _nearest_stand(scene, spot)
    lies = f", the ground as at {near.name}" if near is not None else ""
    if _lies_by_heights(scene, stand) is not None:
        lies = ", the slope by the heights"
    return f"{stand.seat} {stand.height_ft:.0f} ft up{lies}"


def _nearest_stand(scene: Scene, spot: Spot) -> Stand | None:
    if not len(scene.stands_m):
        return None
    return scene.ground.stands[int(np.hypot(*(scene.stands_m - spot.at_m).T).argmin())]


def _why(answer: SeasonAnswer, sits) -> str:
    """The wind that most of some sits have, in words. Args: their places, mornings first."""
    direction, _ = sit_winds(answer)
    kinds = np.concatenate([[h.sit] * len(h.sits) for h in answer.reviews])
    known = sits[~np.isnan(direction[sits])]
    if not len(known):
        return "mostly calm or variable wind"
    point = ((direction[known] + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG).astype(int) % 16
    most = int(np.bincount(point, minlength=16).argmax())
    words, counts = np.unique(kinds[known[point == most]], return_counts=True)
    return f"most in {POINTS_16[most]} wind, {words[counts.argmax()]}s"


def some_sits(answer: SeasonAnswer):
    """The sits that spots are tried in: whole years, evenly apart.

    Args: the answer. Returns: for each half the dates of its sits; and their places
    among all sits, mornings first.
    """
    years = np.unique(np.concatenate([h.year for h in answer.reviews]))
    keep = max(1, math.floor(MOST_SITS * len(years) / max(1, answer.n_sits)))
    chosen = years[np.unique(np.linspace(0, len(years) - 1, min(keep, len(years))).astype(int))]
    masks = [np.isin(h.year, chosen) for h in answer.reviews]
    at = [h.sits.clock.at[m] for h, m in zip(answer.reviews, masks, strict=True)]
    return at, np.flatnonzero(np.concatenate(masks))


class Tries:
    """Other stands tried in some sits: first by their air, the walks where it matters.

    Args: the answer; a property whose stands are those to try; told the share done.
    `picked` are the sits' places among all, mornings first.
    """

    def __init__(self, answer: SeasonAnswer, ground: Property, progress=None) -> None:
        scene = Scene(ground, answer.scene.heights)
        sample, self.picked = some_sits(answer)
        self.stands = scene.ground.stands
        self.reviews = [
            season_sits(scene, answer.weather, own.sits.clock.dates, own.sit, at, COARSE_TABLE)
            for own, at in zip(answer.reviews, sample, strict=True)
        ]
        self._go: dict[int, npt.NDArray[np.bool_]] = {}
        columns = []
        for i in range(len(self.stands)):
            columns.append(self._judged(i, False))
            if progress:
                progress((i + 1) / len(self.stands))
        self.by_air = np.stack(columns, axis=1)

    def _judged(self, index: int, walks: bool):
        stand = self.stands[index]
        return np.concatenate([stand_season(h, stand, walks).group == GO for h in self.reviews])

    def go(self, index: int):
        """Whether a spot is go in each sit, walks and all. Shape (sit,)."""
        if index not in self._go:
            self._go[index] = self._judged(index, True)
        return self._go[index]

    def most_added(self, covered, free) -> int | None:
        """The free spot that adds most to the sits covered; None where none adds any.

        Walks never add a sit, so a spot is walked to only while its air could win.
        """
        could = (self.by_air & ~covered[:, None]).sum(axis=0) * free
        best, most = None, 0
        for i in np.argsort(-could, kind="stable"):
            if could[i] <= most:
                break
            adds = int((self.go(int(i)) & ~covered).sum())
            if adds > most:
                best, most = int(i), adds
        return best


def with_spots(scene: Scene, spots: list[Spot]) -> Property:
    """The property with a stand at each spot, and the lanes to reach them. Args: scene; spots."""
    ground = scene.ground
    stands = tuple(_stand_at(scene, spot, f"spot-{i}") for i, spot in enumerate(spots))
    ids: dict[str, list[str]] = {}
    for stand, spot in zip(stands, spots, strict=True):
        ids.setdefault(spot.lane, []).append(stand.id)
    lanes = tuple(
        dataclasses.replace(lane, stands=tuple(ids[lane.id]))
        for lane in ground.lanes
        if lane.id in ids
    )
    return dataclasses.replace(ground, stands=stands, lanes=lanes)


def _stand_at(scene: Scene, spot: Spot, name: str) -> Stand:
    """A stand at a spot under the nearest one's cover; it lies as the heights have it, without
    them as the nearest one does."""
    lon, lat = scene.plane.to_lonlat(*spot.at_m)
    at = (float(lon), float(lat))
    near = _nearest_stand(scene, spot)
    stand = Stand(name, name, at)
    if near is not None:
        same = ("cover", "lies", "downhill_deg", "grade_pct")
        stand = dataclasses.replace(stand, **{n: getattr(near, n) for n in same})
    return dataclasses.replace(stand, **(_lies_by_heights(scene, stand) or {}))


def _lies_by_heights(scene: Scene, stand: Stand) -> dict[str, Any] | None:
    """How a stand lies, and its slope; None without heights of the ground there."""
    if scene.heights is None:
        return None
    # what only heights need is loaded here
    from core.land.derived import follows_the_ground, land_on
    from core.land.lies import suggested_lies

    if not follows_the_ground(scene.heights, scene.ground):
        return None
    shown = shown_slope(scene.heights, stand)
    if shown is None:
        return None
    downhill, grade = rounded_slope(shown) or (None, None)
    lies = suggested_lies(land_on(scene.heights, scene.ground), stand.at) or "flat"
    return {"lies": lies, "downhill_deg": downhill, "grade_pct": grade}
