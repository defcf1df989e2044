"""How often the demo can be hunted: the balance of ground, defaults and rules.

    python tests/bench/balance.py [property file] [--sit evening] [--shares]

Judges every morning of the first season over the typical year that pvlib carries for
Greensboro, and prints the share of mornings on which each stand is go, the median
stand, how many of the mornings that calm air leaves callable have some stand on go,
and the mornings with none. Ends with 1 where the demo's mornings leave their bounds.

With --shares it prints instead what the rules before made, and what these make, of the
demo, a hill ground and ten grounds drawn by lot in many winds (`tests/bench/shares.py`);
some minutes.
"""

import argparse
import datetime
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from core.answer.one_sit import StandSit, answer_sits  # noqa: E402
from core.ground.layout import Property  # noqa: E402
from core.ground.store import Opened, open_property  # noqa: E402
from core.judge.causes import IS_CALM, IS_LIGHT, IS_MISSING, IS_VARIABLE  # noqa: E402
from core.land.kept import land_of  # noqa: E402
from core.sit.clock import clocks  # noqa: E402
from core.sit.dates import covers, dates_on  # noqa: E402
from core.sit.prepare import prepare_sits  # noqa: E402
from core.sit.rank import CANT_CALL_SHARE  # noqa: E402
from core.sit.rows import origin_s  # noqa: E402
from core.sit.scene import Scene  # noqa: E402
from core.sit.verdicts import GO  # noqa: E402
from core.weather.files.typical import typical_year  # noqa: E402
from tests.years import laid_over  # noqa: E402

MEDIAN_GO = (0.15, 0.50)
LEAST_SOME_GO = 0.80
RANDOM_GROUNDS = 10
FIRST_YEAR = 2026  # the year only says which days are Sundays


@dataclass(frozen=True, eq=False)
class Balance:
    """Go by day and stand, and whether calm air alone left the day callable."""

    stands: tuple[str, ...]
    go: np.ndarray  # (day, stand)
    callable_days: np.ndarray  # (day,)

    @property
    def median_stand(self) -> float:
        return float(np.median(self.go.mean(axis=0)))

    @property
    def some_go(self) -> float:
        """Share of the callable days on which some stand is go."""
        return float(self.go[self.callable_days].any(axis=1).mean())

    @property
    def days_with_none(self) -> int:
        return int((~self.go.any(axis=1)).sum())

    @property
    def in_bounds(self) -> bool:
        low, high = MEDIAN_GO
        return (
            low <= self.median_stand <= high
            and self.some_go >= LEAST_SOME_GO
            and self.days_with_none > 0
        )


def season_days(ground: Property) -> list[datetime.date]:
    """Every day of the first season, from its first day on."""
    season = ground.seasons[0]
    month, day = (int(x) for x in season.first.split("-"))
    first = datetime.date(FIRST_YEAR, month, day)
    days = (first + datetime.timedelta(days=i) for i in range(365))
    return [d for d in days if covers(season.first, season.last, d)]


def lost_to_calm(own: StandSit) -> bool:
    """Whether the wind's state and speed alone make a sit can't call at one stand."""
    rows, cause = own.rows, own.hours.cause
    still = np.isin(cause, (IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT))
    if rows.prime.any():
        return bool((still & rows.prime).any())
    return bool((rows.weight * still).sum() >= CANT_CALL_SHARE * rows.weight.sum() - 1e-9)


def measure(opened: Opened, sit_word: str = "morning") -> Balance:
    """Judges every day of the first season in the typical year, with the ground's heights."""
    ground = opened.property
    weather = laid_over(typical_year(), (FIRST_YEAR, FIRST_YEAR + 1))
    clock = clocks(
        ground, dates_on(ground, season_days(ground)), sit_word, origin_s=origin_s(weather)
    )
    answers = answer_sits(prepare_sits(Scene(ground, land_of(opened)[0]), weather, clock))
    go = np.array([answer.groups == GO for answer in answers])
    lost = [all(lost_to_calm(seat) for seat in answer.stands) for answer in answers]
    return Balance(tuple(s.name for s in ground.stands), go, ~np.array(lost))


def report(balance: Balance, sit_word: str) -> str:
    """What is printed."""
    days, left = len(balance.go), int(balance.callable_days.sum())
    shares = balance.go.mean(axis=0)
    lines = [f"{sit_word}s of the season, typical Greensboro year: {days}"]
    lines += [
        f"  {name:16} go on {share:4.0%}"
        for share, name in sorted(zip(shares, balance.stands, strict=True), reverse=True)
    ]
    return "\n".join(
        [
            *lines,
            f"median stand: go on {balance.median_stand:.0%} (bounds 15 to 50 %)",
            f"calm air leaves callable: {left} of {days}",
            f"some stand go on {balance.some_go:.0%} of those (at least 80 %)",
            f"{sit_word}s with no stand: {balance.days_with_none} (some)",
        ]
    )


def print_shares(demo: Opened) -> None:
    """The demo, the hill ground, and the grounds drawn by lot as one."""
    from tests.bench import shares
    from tests.hill_ground import hill_ground
    from tests.random_grounds import random_ground

    hill = hill_ground()
    for name, ground, heights in (
        ("demo", demo.property, land_of(demo)[0]),
        ("hill", hill, None),
    ):
        print("\n".join(shares.told(name, shares.count(ground, heights))), flush=True)
    drawn = [shares.count(random_ground(seed)) for seed in range(RANDOM_GROUNDS)]
    print("\n".join(shares.told(f"{RANDOM_GROUNDS} by lot", shares.together(drawn))))
    print("\n".join(shares.hill_evenings(hill)))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", nargs="?", default=str(ROOT / "demo_property.json"))
    parser.add_argument("--sit", choices=("morning", "evening"), default="morning")
    parser.add_argument("--shares", action="store_true", help="many winds on many grounds")
    asked = parser.parse_args()
    ground = open_property(asked.file)
    if asked.shares:
        print_shares(ground)
        return 0
    balance = measure(ground, asked.sit)
    print(report(balance, asked.sit))
    return 0 if balance.in_bounds or asked.sit != "morning" else 1


if __name__ == "__main__":
    sys.exit(main())
