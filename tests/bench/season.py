"""The season in one run, as ratios: python tests/bench/season.py [years]

30 years of hours (262,800 rows), 40 stands x 60 places, ways in and out, slope wind,
groups: seconds and memory once the hours are read, the same for twice the years, and
the ratio to a loop over the same stand-hours with two shapely wedges and an STRtree.
Seconds are those of the processor, the least of three: others at work do not count.
"""

import math
import resource
import sys
import time
from pathlib import Path

import numpy as np
import shapely

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "bench")]

from home import big_ground  # noqa: E402

from core.ground.store import demo_path, open_property  # noqa: E402
from core.season.next_stand import next_stands  # noqa: E402
from core.season.review import judge_season  # noqa: E402
from core.sit.minutes import EVENING, MORNING  # noqa: E402
from core.sit.scene import Scene  # noqa: E402
from core.weather.files.typical import typical_year  # noqa: E402
from core.weather.hours import Hours, make_hours  # noqa: E402

LOOPED = 4000  # stand-hours that the loop is timed on


def history(years: int) -> Hours:
    """Made-up hours: a wind that wanders, reported in tens of degrees, some of it calm."""
    rng, n = np.random.default_rng(3), round(years * 8760)
    wander = np.cumsum(rng.normal(0.0, 12.0, n)) + 225.0
    speed = np.round(rng.gamma(2.2, 1.7, n), 1)
    start = int(np.datetime64("1991-01-01", "s").astype(int))
    return make_hours(
        start_s=start + 3600 * np.arange(n),
        wind_from_deg=np.round(wander / 10.0) * 10.0,
        half_width_deg=5.0,
        speed_mps=np.where(rng.random(n) < 0.12, 0.0, speed),
        cloud_frac=rng.choice([0.0, 0.3, 0.6, 1.0], n),
        kind="measured",
    )


def memory_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def wedges_s(scene: Scene, stand_hours: int) -> float:
    """Seconds for two wedges a stand-hour, looked up in a tree of the same places."""
    shapes = [*scene.polygons, *scene.corridor_lines.values()]
    tree = shapely.STRtree(shapes)
    rng = np.random.default_rng(1)
    start = time.process_time()
    for i in range(LOOPED):
        x, y = scene.stands_m[i % len(scene.stands_m)]
        middle = rng.uniform(0, 360)
        for half_deg, reach_m in ((20.0, 230.0), (30.0, 460.0)):
            angles = np.radians(np.linspace(middle - half_deg, middle + half_deg, 9))
            edge = [(x + reach_m * math.sin(a), y + reach_m * math.cos(a)) for a in angles]
            tree.query(shapely.Polygon([(x, y), *edge]), predicate="intersects")
    return (time.process_time() - start) / LOOPED * stand_hours


def timed(weather: Hours, ground, times: int = 1):
    """The least of some times, for a busy machine adds and never takes away; the answer."""
    seconds = []
    for _ in range(times):
        start = time.process_time()
        answer = judge_season(Scene(ground), weather)
        seconds.append(time.process_time() - start)
    return min(seconds), answer


def main() -> None:
    years = int(sys.argv[1]) if len(sys.argv) > 1 else 30
    ground = big_ground()
    timed(history(1), ground)  # the libraries are read in
    weather = history(years)
    before = memory_mb()
    seconds, answer = timed(weather, ground, 3)
    after = memory_mb()
    hours = sum(int((h.sits.clock.rows.minutes > 0).sum()) for h in answer.reviews)
    stand_hours = hours * len(ground.stands)
    loop = min(wedges_s(answer.scene, stand_hours) for _ in range(3))
    twice, _ = timed(history(2 * years), ground, 3)
    print(f"{years} years, {len(weather)} rows, {answer.n_sits} sits ({MORNING}s and {EVENING}s)")
    print(f"{len(ground.stands)} stands, {stand_hours} stand-hours in the windows")
    print(f"whole season: {seconds:.2f} s, {after:.0f} MB at most (before it: {before:.0f} MB)")
    print(f"twice the years: {twice / seconds:.2f} times the time")
    print(f"a loop with shapely wedges: {loop:.0f} s, {loop / seconds:.0f} times ours")
    demo = judge_season(Scene(open_property(demo_path()).property), typical_year())
    start = time.process_time()
    spots = len(next_stands(demo))
    print(f"next stands for the demo ({spots} found): {time.process_time() - start:.1f} s")
    further = (twice - seconds) / stand_hours
    print(f"each further stand-hour: {loop / stand_hours / further:.0f} times as fast as the loop")


if __name__ == "__main__":
    main()
