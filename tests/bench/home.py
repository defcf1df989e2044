"""The home case in one run, as ratios: python tests/bench/home.py

40 stands x 60 zones x 48 hours, with ways in, against the same stand-hours done
with shapely wedges and an STRtree. Seconds are those of the processor, the least of some:
others at work do not count.
"""

import datetime
import math
import sys
import time
from pathlib import Path

import numpy as np
import shapely

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from core.ground.layout import Area, Corridor, Lane, Property, Season, Stand
from core.ground.plan import Plane
from core.judge.exposure import stand_hours
from core.judge.stand_rows import rows_of
from core.sit.clock import clocks
from core.sit.dates import dates_on
from core.sit.prepare import prepare_sits
from core.sit.scene import Scene
from core.sit.ways import ways_in
from core.weather.entry import parse_wind

CENTER = (-79.7, 35.95)
WALK_M = np.array([[300, 0], [100, 60], [0, 0]])
N_STANDS, N_AREAS, N_CORRIDORS, HOURS = 40, 40, 20, 48
WINDS_DEG = np.full(4, 315.0)  # an all-day sit in November is twelve hours long


def big_ground(
    n_stands: int = N_STANDS,
    n_areas: int = N_AREAS,
    n_corridors: int = N_CORRIDORS,
    half_m: float = 800.0,
    apart_m: float = 0.0,
) -> Property:
    """A made-up ground, of the size of the home case where nothing else is said.

    Args: how many of each; half its width; how far off the middle corridors begin [m].
    """
    rng, plane = np.random.default_rng(7), Plane(CENTER)

    def places(points):
        lon, lat = plane.to_lonlat(points[:, 0], points[:, 1])
        return tuple(zip(map(float, lon), map(float, lat), strict=True))

    def box(x, y, half):
        return places(
            np.array(
                [
                    [x - half, y - half],
                    [x + half, y - half],
                    [x + half, y + half],
                    [x - half, y + half],
                ]
            )
        )

    at = rng.uniform(-half_m, half_m, (n_stands, 2))
    stands = tuple(
        Stand(f"s{i}", f"S{i}", places(p[None])[0], downhill_deg=90.0, grade_pct=10.0)
        for i, p in enumerate(at)
    )
    lanes = tuple(
        Lane(
            f"l{i}",
            f"L{i}",
            places(np.array([np.add(p, [300, 0]), np.add(p, [100, 60]), p])),
            (f"s{i}",),
        )
        for i, p in enumerate(at)
    )
    areas = tuple(
        Area(f"a{i}", f"A{i}", "bedding", box(*rng.uniform(-half_m - 100, half_m + 100, 2), 30))
        for i in range(n_areas)
    )
    starts = rng.uniform(-apart_m, apart_m, (n_corridors, 2)) - 300
    trails = tuple(
        Corridor(f"c{i}", f"C{i}", places(np.cumsum(rng.uniform(-80, 120, (6, 2)), axis=0) + start))
        for i, start in enumerate(starts)
    )
    return Property(
        uid="bench",
        name="Bench",
        timezone="America/New_York",
        center=CENTER,
        elevation_m=240,
        seasons=(Season("bow", "09-13", "01-01"),),
        stands=stands,
        lanes=lanes,
        corridors=trails,
        areas=areas,
    )


def ours(scene: Scene, weather) -> None:
    """Four whole days, twelve hours each, at every stand, with the ways in."""
    dates = [datetime.date(2026, 11, 10 + day) for day in range(4)]
    clock = clocks(scene.ground, dates_on(scene.ground, dates), "all-day")
    sits = prepare_sits(scene, weather, clock)
    for stand in scene.ground.stands:
        stand_hours(rows_of(sits, stand), stand)
        ways_in(sits, stand, clock.seated_s, np.arange(len(sits)))


def wedges(scene: Scene) -> None:
    """Two wedges a stand-hour, looked up in a tree of the same places."""
    shapes = [*scene.polygons, *scene.corridor_lines.values()]
    tree = shapely.STRtree(shapes)
    for x, y in scene.stands_m:
        for hour in range(HOURS):
            for half_deg, reach_m in ((20.0, 230.0), (30.0, 460.0)):
                middle = 135.0 + hour % 5
                angles = np.radians(np.linspace(middle - half_deg, middle + half_deg, 9))
                edge = [(x + reach_m * math.sin(a), y + reach_m * math.cos(a)) for a in angles]
                tree.query(shapely.Polygon([(x, y), *edge]), predicate="intersects")


def least_s(work, times: int = 7) -> float:
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def main() -> None:
    scene = Scene(big_ground())
    start = time.process_time()
    ours(scene, parse_wind("NW 8"))
    first = time.process_time() - start
    warm, loop = least_s(lambda: ours(scene, parse_wind("NW 8"))), least_s(lambda: wedges(scene))
    start = time.process_time()
    ours(scene, parse_wind("calm"))
    calm_first = time.process_time() - start
    calm = least_s(lambda: ours(scene, parse_wind("calm")))
    light = least_s(lambda: ours(scene, parse_wind("NW 5", 0.0)))
    print(f"{N_STANDS} stands x {N_AREAS + N_CORRIDORS} zones x {HOURS} h, ways in, slopes")
    print(f"first, ground made ready: {first:.3f} s")
    print(f"again: {warm:.3f} s; shapely wedges with an STRtree: {loop:.3f} s")
    print(f"ratio of the wedges to ours: {loop / warm:.2f}")
    print(f"clear, slopes that turn: {light:.3f} s; calm: {calm:.3f} s, the first {calm_first:.3f}")


if __name__ == "__main__":
    main()
