"""What the rules make of many grounds: shares, trails, turns and the words of hill evenings.

Sixteen winds at four speeds, two dates, clear and overcast, mornings and evenings, over the
demo, a hill ground and grounds drawn by lot. Printed by `tests/bench/balance.py`.
"""

import datetime
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from core.angles import POINTS_16
from core.answer.one_sit import StandSit, answer_sit
from core.ground.layout import Property
from core.land.kept import KeptLand
from core.say.headline import head_of
from core.sit.minutes import SHORT_MIN, TURNING
from core.sit.prepare import Sit, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CANT_CALL, GO, STAY
from core.units import M_PER_YD
from core.weather.entry import parse_wind
from tests.bench.shares_before import MORE, SHARES
from tests.oracle import Ground, Slope

DATES = (datetime.date(2026, 10, 6), datetime.date(2026, 11, 8))
SPEEDS_MPH = (4, 6, 8, 14)
SKIES = {"clear": 0.0, "overcast": 1.0}
HALVES = ("morning", "evening")
A_TIME = re.compile(r"\b\d{1,2}:\d\d\b")


@dataclass
class Counted:
    """Counts of one ground, by half and speed."""

    heads: dict = field(default_factory=Counter)  # (half, mph, group): headlines
    stands: dict = field(default_factory=Counter)
    go: int = 0
    go_on_trail: int = 0  # every counting approach on it in an hour that is sat
    turning_min: dict = field(default_factory=Counter)  # mph: minutes
    turning_called_min: dict = field(default_factory=Counter)


def sits(
    ground: Property, halves=HALVES, speeds=SPEEDS_MPH, skies=tuple(SKIES), heights=None
) -> Iterator:
    """Every sit asked for: half, speed, sky, and the sit made ready."""
    scene = Scene(ground, heights)
    for half in halves:
        for date in DATES:
            for mph in speeds:
                for sky in skies:
                    for point in POINTS_16:
                        weather = parse_wind(f"{point} {mph}", SKIES[sky])
                        yield half, mph, sky, prepare_sit(scene, weather, date, half)


def count(ground: Property, heights: KeptLand | None = None) -> Counted:
    """Counts one ground, with its heights where it has some."""
    counted = Counted()
    minutes_of = Turns(ground).minutes if heights is None else turning_minutes
    for half, mph, sky, sit in sits(ground, heights=heights):
        answer = answer_sit(sit)
        head = answer.best
        counted.heads[half, mph, head.group] += 1
        for own in answer.stands:
            counted.stands[half, mph, own.group] += 1
            minutes = minutes_of(sit, own) if sky == "clear" else []
            counted.turning_min[mph] += len(minutes)
            called = sum(verdict_at(own, t) != CANT_CALL for t in minutes)
            counted.turning_called_min[mph] += called
        if head.group == GO:
            counted.go += 1
            counted.go_on_trail += every_approach_on_it(sit, head)
    return counted


def turning_minutes(_: Sit, own: StandSit) -> list[int]:
    """The turning minutes by the pieces themselves: land that shades a slope moves its turn."""
    found = []
    for row in np.flatnonzero(own.hours.kind == TURNING):
        found += range(int(own.rows.start_s[row]), int(own.rows.end_s[row]), 60)
    return found


class Turns:
    """The turning minutes of a stand in a sit's window, by the second opinion."""

    def __init__(self, ground: Property) -> None:
        self.ground, self.kept = Ground(ground), {}

    def minutes(self, sit: Sit, own: StandSit) -> list[int]:
        if own.stand.downhill_deg is None:
            return []
        key = (own.stand.id, sit.clock.date, sit.clock.sit)
        if key not in self.kept:
            self.kept[key] = self._minutes(sit, own)
        return self.kept[key]

    def _minutes(self, sit: Sit, own: StandSit) -> list[int]:
        slope = Slope(self.ground, own.stand, sit.clock.day)
        first, last = sit.clock.start_s, sit.clock.end_s
        start = first // 3600 * 3600 - 3600
        spans = slope.turnings(start, last + 3600, lambda _: 0.0)
        every = range(first, last, 60)
        return [t for t in every if any(a <= t < b for a, b in spans)]


def verdict_at(own: StandSit, time_s: int) -> int:
    """What the row of a stand is at an instant."""
    row = int(np.searchsorted(own.rows.start_s, time_s, side="right")) - 1
    return int(own.hours.verdict[row])


def every_approach_on_it(sit: Sit, own: StandSit) -> bool:
    """Whether a deciding hour that is sat has the air on every trail in range."""
    if not own.corridors:
        return False
    rules, n = sit.scene.ground.air, len(sit.scene.areas)
    places = sit.scene.places(own.stand)
    yards = np.array([places[a.trail].distance_m / M_PER_YD for a in own.hours.approaches])
    limit = np.minimum(np.maximum(75.0, 3.5 * yards), rules.wrong_within_yd)
    walked = own.hours.counts[:, n:]
    on_it = ((own.hours.equivalent_yd[:, n:] < limit) | ~walked).all(axis=1) & walked.any(axis=1)
    sat = own.judged.stretch[0] & (own.rows.minutes >= SHORT_MIN)
    one_way = own.hours.kind != TURNING
    return bool((on_it & sat & one_way).any())


def _share(counts: Counter, half: str, mph: int) -> str:
    total = sum(counts[half, mph, g] for g in (GO, CANT, STAY))
    return "/".join(f"{counts[half, mph, g] / total:.0%}" for g in (GO, CANT, STAY))


def told(name: str, counted: Counted) -> list[str]:
    """One ground's lines: go / can't call / stay out, before and after."""
    before, more = SHARES.get(name, {}), MORE.get(name, ())
    lines = [f"{name}: headlines; stands (go/can't call/stay out), before -> after"]
    for half in HALVES:
        for mph in SPEEDS_MPH:
            old = before.get((half, mph), ("not known", "not known"))
            new = [_share(c, half, mph) for c in (counted.heads, counted.stands)]
            pairs = [f"{a} -> {b}" for a, b in zip(old, new, strict=True)]
            lines.append(f"  {half:8} {mph:2} mph   {pairs[0]:28} {pairs[1]}")
    lines += [f"  before: {one}" for one in more]
    lines.append(f"  go with every counting approach on it: {counted.go_on_trail} of {counted.go}")
    light = [m for m in SPEEDS_MPH if counted.turning_min[m]]
    called = {m: counted.turning_called_min[m] / counted.turning_min[m] for m in light}
    if called:
        each = ", ".join(f"{m} mph {share:.0%}" for m, share in called.items())
        whole = sum(counted.turning_called_min.values()) / sum(counted.turning_min.values())
        lines.append(f"  turning minutes called: {whole:.0%} ({each})")
    return lines


def together(all_counted: list[Counted]) -> Counted:
    """Counts of several grounds as one."""
    whole = Counted()
    for counted in all_counted:
        for name in ("heads", "stands", "turning_min", "turning_called_min"):
            getattr(whole, name).update(getattr(counted, name))
        whole.go += counted.go
        whole.go_on_trail += counted.go_on_trail
    return whole


def hill_evenings(ground: Property) -> list[str]:
    """Clear evenings at 4 to 6 mph: headlines that can't be called, and which say a time."""
    cant, timed, n, examples = 0, 0, 0, []
    for _, mph, _, sit in sits(ground, ("evening",), (4, 5, 6), ("clear",)):
        best = answer_sit(sit).best
        head = head_of(sit, best)
        text = f"{head.heading}. {head.summary} {head.trouble} {head.slope}".strip()
        n, cant = n + 1, cant + (best.group == CANT)
        timed += bool(A_TIME.search(text))
        if mph == 5 and sit.clock.date == DATES[0]:
            examples.append(f"    {_wind(sit)}: {head.title}. {text}")
    return [
        f"hill evenings, clear, 4 to 6 mph: can't call in {cant / n:.0%} of {n}; "
        f"{timed / n:.0%} say a time",
        *examples,
    ]


def _wind(sit: Sit) -> str:
    return POINTS_16[round(sit.mean_wind_deg / 22.5) % 16]
