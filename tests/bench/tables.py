"""How often the tables of a season differ from the formulas: python tests/bench/tables.py

Every piece of every morning and evening of the first season in the typical year, at every
stand of the demo and of the hill ground of the tests. The demo is compared twice: without
heights, both ways of working alike; and with its heights, where formulas follow bent air
and tables go straight. Ends with 1 where alike they differ in 0.2 % or more.
"""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from core.ground.layout import Property  # noqa: E402
from core.ground.store import demo_path, open_property  # noqa: E402
from core.judge.stand import stand_sits  # noqa: E402
from core.land.kept import KeptLand, land_of  # noqa: E402
from core.season.review import dates_in  # noqa: E402
from core.sit.clock import HALVES, clocks  # noqa: E402
from core.sit.prepare import FORMULA, TABLE, prepare_sits  # noqa: E402
from core.sit.rows import origin_s  # noqa: E402
from core.sit.scene import Scene  # noqa: E402
from core.weather.files.typical import typical_year  # noqa: E402
from tests.hill_ground import hill_ground  # noqa: E402
from tests.years import laid_over  # noqa: E402

MOST_DIFFER = 0.002
YEARS = (2026, 2027)


def compare(ground: Property, heights: KeptLand | None = None) -> tuple[int, int, int, int]:
    """Pieces and sits: how many there are, and how many differ."""
    weather, counted = laid_over(typical_year(), YEARS), np.zeros(4, int)
    for sit in HALVES:
        scene = Scene(ground, heights)
        dates = dates_in(ground, weather, None, None)
        clock = clocks(ground, dates, sit, origin_s=origin_s(weather))
        both = [prepare_sits(scene, weather, clock, strengths=s) for s in (FORMULA, TABLE)]
        for stand in ground.stands:
            one, other = (stand_sits(sits, stand) for sits in both)
            differ = (one.hours.verdict != other.hours.verdict) & one.rows.inside
            groups = one.group != other.group
            counted += [one.rows.inside.sum(), differ.sum(), len(groups), groups.sum()]
    return tuple(counted.tolist())


def told(name: str, counted: tuple[int, int, int, int]) -> str:
    pieces, differ, sits, groups = counted
    return (
        f"{name}: {differ} of {pieces} pieces differ ({differ / pieces:.2%}), "
        f"{groups} of {sits} sits by group ({groups / sits:.2%})"
    )


def main() -> int:
    demo = open_property(demo_path())
    alike = {"demo without heights": demo.property, "hill": hill_ground()}
    most = 0.0
    for name, ground in alike.items():
        counted = compare(ground)
        most = max(most, counted[1] / counted[0])
        print(told(name, counted), flush=True)
    print(
        told("demo, bent by formula, straight by table", compare(demo.property, land_of(demo)[0]))
    )
    return 0 if most < MOST_DIFFER else 1


if __name__ == "__main__":
    sys.exit(main())
