"""A ground of a thousand stands beside the demo: python tests/bench/thousand.py

1,000 stands, each with its lane, 200 corridors and 60 beds. Processor time, so that
other work on the machine counts less; the demo in the same run tells how fast it is.
"""

import datetime
import resource
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from core.answer.one_sit import answer_sit
from core.ground.layout import Property
from core.ground.store import demo_path, open_property
from core.say.answer_lines import sit_lines
from core.show.map import property_map, sit_map
from core.show.take_along.days import pocket_days
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.weather.entry import parse_wind
from tests.bench.home import big_ground

DATE = datetime.date(2026, 11, 10)
TIMES = 3


def cpu_s(work) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def run(ground: Property) -> dict[str, float]:
    """Seconds of each step, with a scene made anew."""
    scene, found = Scene(ground), []

    def asked(wind: str) -> None:
        found.append(answer_sit(prepare_sit(scene, parse_wind(wind), DATE, "morning")))

    return {
        "first answer": cpu_s(lambda: asked("NW 8")),
        "another wind": cpu_s(lambda: asked("S 12")),
        "all in words": cpu_s(lambda: sit_lines(found[0], None, None)),
        "map of the sit": cpu_s(lambda: sit_map(found[0].sit, found[0].best)),
        "map of the ground": cpu_s(lambda: property_map(scene)),
    }


def pocket_s(ground: Property) -> tuple[float, float]:
    """Seconds of the pocket page where the ground is new, and where it is known."""
    scene = Scene(ground)

    def page(wind: str) -> None:
        pocket_days(scene, parse_wind(wind), DATE, 1, 0.0)

    return cpu_s(lambda: page("NW 8")), cpu_s(lambda: page("S 12"))


def measured(ground: Property) -> dict[str, float]:
    """Medians of some runs."""
    runs = [run(ground) for _ in range(TIMES)]
    return {name: statistics.median(taken[name] for taken in runs) for name in runs[0]}


def main() -> None:
    demo = open_property(demo_path()).property
    measured(demo)  # imports
    small = measured(demo)
    before_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    thousand = big_ground(1000, 60, 200, half_m=2500.0, apart_m=2500.0)
    large = measured(thousand)
    grown_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before_kb) / 1024
    print(f"processor seconds, medians of {TIMES}: a thousand stands, the demo, their ratio")
    for name, taken in large.items():
        print(f"{name}: {taken:.3f}, {small[name]:.3f}, {taken / max(small[name], 1e-4):.0f}")
    pocket_s(demo)  # imports
    for name, ground in (("a thousand stands", thousand), ("the demo", demo)):
        new, known = pocket_s(ground)
        print(f"pocket page of {name}: {new:.2f} where the ground is new, {known:.2f} where known")
    print(f"memory over the demo's: {grown_mb:.0f} MB at most")


if __name__ == "__main__":
    main()
