"""How likely sits hold, in one run: python tests/bench/chances.py

40 stands x 60 places x 6 sits x 400 draws, ways in and out, slope wind: seconds of the
processor for the tables that are kept with the ground, for the shares once they are there
(the least of five: others at work add and never take away), and how large the tables are.
"""

import datetime
import sys
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "bench")]

from home import big_ground  # noqa: E402

from core.answer.one_sit import answer_sits  # noqa: E402
from core.chance.shares import with_chances  # noqa: E402
from core.sit.clock import HALVES, clocks  # noqa: E402
from core.sit.dates import dates_on  # noqa: E402
from core.sit.prepare import prepare_sits  # noqa: E402
from core.sit.scene import Scene  # noqa: E402
from core.weather.hours import Hours, make_hours  # noqa: E402

FIRST = datetime.datetime(2026, 11, 10, tzinfo=datetime.UTC)


def forecast() -> Hours:
    """Three days of a wind that wanders."""
    rng, n = np.random.default_rng(1), 100
    return make_hours(
        start_s=int(FIRST.timestamp()) + 3600 * np.arange(n),
        wind_from_deg=(300.0 + np.cumsum(rng.normal(0.0, 6.0, n))) % 360.0,
        half_width_deg=5.0,
        speed_mps=np.clip(3.0 + np.cumsum(rng.normal(0.0, 0.3, n)), 0.5, 9.0),
        cloud_frac=0.3,
        updated_s=int(FIRST.timestamp()) + 30 * 3600,  # so that all three days are near
    )


def kept_mb(scene: Scene) -> float:
    """The size of the tables kept with a ground."""
    tables = [v for k, v in scene._kept.items() if str(k[0]).startswith("kept ")]
    arrays = [v[0] if isinstance(v, tuple) else v for v in tables]
    return sum(a.nbytes for a in arrays if isinstance(a, np.ndarray)) / 1e6


def main() -> None:
    ground = big_ground()
    scene, weather = Scene(ground), forecast()
    dates = dates_on(ground, [FIRST.date() + datetime.timedelta(days=day) for day in range(3)])
    answers = []
    for half in HALVES:
        answers += answer_sits(prepare_sits(scene, weather, clocks(ground, dates, half)))
    seconds = []
    for _ in range(6):
        start = time.process_time()
        with_chances(answers, FIRST.timestamp())
        seconds.append(time.process_time() - start)
    print(f"{len(ground.stands)} stands x {len(answers)} sits x 400 draws")
    print(f"first, tables made: {seconds[0]:.2f} s; kept: {kept_mb(scene):.1f} MB")
    print(f"again: {min(seconds[1:]):.2f} s")


if __name__ == "__main__":
    main()
