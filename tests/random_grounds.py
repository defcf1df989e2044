"""Grounds drawn by lot, as an owner might: beds, food, trails between, stands beside them.

A seed gives the same ground everywhere. Nothing is tuned to give a stand its wind.
"""

import math

import numpy as np

from core.ground.layout import Area, Corridor, Lane, Person, Property, Season, Stand, Wanted
from tests.grounds import at

CENTERS = (
    ((-92.3, 42.1), "America/Chicago"),
    ((-79.9, 36.1), "America/New_York"),
    ((-85.6, 44.2), "America/Detroit"),
    ((-93.7, 38.4), "America/Chicago"),
)


class _Drawn:
    """Draws by lot, in yards east and north of the middle."""

    def __init__(self, seed: int) -> None:
        self.lot = np.random.default_rng(seed)
        self.center, self.zone = CENTERS[seed % len(CENTERS)]

    def lonlat(self, point):
        east, north = point
        return at(self.center, math.degrees(math.atan2(east, north)), math.hypot(east, north))

    def spots(self, count: int, apart_yd: float, half_yd: float):
        """Places by lot, none too near another."""
        found: list[np.ndarray] = []
        while len(found) < count:
            spot = self.lot.uniform(-half_yd, half_yd, 2)
            if all(np.hypot(*(spot - other)) >= apart_yd for other in found):
                found.append(spot)
        return found

    def area(self, id_: str, kind: str, middle) -> Area:
        wide, deep = self.lot.uniform(25, 60, 2)
        corners = ((1, 1), (-1, 1), (-1, -1), (1, -1))
        ring = tuple(self.lonlat(middle + np.array([x * wide, y * deep])) for x, y in corners)
        return Area(id_, id_.title(), kind, ring, held="night" if kind == "food" else "day")

    def trail(self, start, end) -> np.ndarray:
        """A bent line from a bed to food."""
        along = np.linspace(0.0, 1.0, 5)[:, None]
        bends = self.lot.uniform(-45, 45, (5, 2)) * np.array([[0], [1], [1], [1], [0]])
        return start + along * (end - start) + bends

    def beside(self, trail: np.ndarray, beds) -> np.ndarray:
        """A place 14 to 27 yd to a side of a trail, not in a bed."""
        while True:
            leg = int(self.lot.integers(0, len(trail) - 1))
            a, b = trail[leg], trail[leg + 1]
            along = (b - a) / np.hypot(*(b - a))
            side = np.array([along[1], -along[0]]) * self.lot.choice([-1, 1])
            where = a + (b - a) * self.lot.uniform(0, 1) + side * self.lot.uniform(14, 27)
            if all(np.hypot(*(where - bed)) >= 120 for bed in beds):
                return where

    def stand(self, number: int, trail: np.ndarray, beds) -> tuple[Stand, np.ndarray]:
        """A stand beside a trail; three in five lie on a slope."""
        where = self.beside(trail, beds)
        slope = {}
        if self.lot.uniform() < 0.6:
            slope = {
                "downhill_deg": float(self.lot.integers(0, 360)),
                "grade_pct": float(self.lot.integers(8, 31)),
            }
        wanted = ("best", "good", "watch", None)
        stand = Stand(
            f"stand-{number}",
            f"Stand {number}",
            self.lonlat(where),
            cover=str(self.lot.choice(["timber", "timber", "edge", "open"])),
            height_ft=float(self.lot.integers(10, 23)),
            wanted=Wanted(*(wanted[i] for i in self.lot.integers(0, 4, 2))),
            **slope,
        )
        return stand, where

    def lane(self, stand: Stand, where) -> Lane:
        """A way in from beyond the edge on the stand's own side."""
        far = where / np.hypot(*where) * 750 + self.lot.uniform(-150, 150, 2)
        middle = (far + where) / 2 + self.lot.uniform(-60, 60, 2)
        line = tuple(self.lonlat(p) for p in (far, middle, where + (far - where) * 0.01))
        return Lane(f"lane-{stand.id}", f"Lane to {stand.name}", line, (stand.id,))


def random_ground(seed: int) -> Property:
    """A ground of four to six stands. Args: what the lots are drawn by."""
    drawn = _Drawn(seed)
    n_bed, n_food = int(drawn.lot.integers(2, 4)), int(drawn.lot.integers(1, 3))
    spots = drawn.spots(n_bed + n_food, 260.0, 450.0)
    beds, foods = spots[:n_bed], spots[n_bed:]
    lines = [drawn.trail(bed, food) for bed in beds for food in foods]
    trails = tuple(
        Corridor(f"trail-{i}", f"Trail {i}", tuple(drawn.lonlat(p) for p in line))
        for i, line in enumerate(lines, 1)
    )
    picked = [lines[int(drawn.lot.integers(len(lines)))] for _ in range(drawn.lot.integers(4, 7))]
    stands = [drawn.stand(i, line, beds) for i, line in enumerate(picked, 1)]
    return Property(
        uid=f"random-{seed}",
        name=f"Random ground {seed}",
        timezone=drawn.zone,
        center=drawn.center,
        elevation_m=200.0,
        corridors=trails,
        seasons=(Season(weapon="bow", first="09-20", last="01-10"),),
        people=(Person("Guest", 20.0),),
        stands=tuple(s for s, _ in stands),
        lanes=tuple(drawn.lane(s, where) for s, where in stands),
        areas=(
            *(drawn.area(f"bed-{i}", "bedding", p) for i, p in enumerate(beds, 1)),
            *(drawn.area(f"food-{i}", "food", p) for i, p in enumerate(foods, 1)),
        ),
    )
