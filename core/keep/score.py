"""How often what was called came true: the program's own score, from what the log says.

A count is shown with an interval and never with fewer than five cases: of the program's
word, not of the hunter's skill.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from core.keep.entries import SEEN, SIT, Entry

LEAST = 5  # cases before anything is claimed
LEVEL = 0.8  # of the interval


@dataclass(frozen=True, slots=True)
class Score:
    """Sits of one kind, and on how many a deer was winded. The shares' ends are 0 to 1."""

    stand: str | None  # None: all of them
    verdict: str  # clean, just-off ... as the program had called the sit
    source: str  # of the wind; empty: all of them
    sits: int
    winded: int
    low: float
    high: float

    @property
    def claims(self) -> bool:
        """Whether there are cases enough to say anything."""
        return self.sits >= LEAST


def jeffreys(hits: int, cases: int, level: float = LEVEL) -> tuple[float, float]:
    """The interval of a share: Jeffreys', with its ends at 0 and 1 where all or none hit.

    Args: how many hit, of how many; the level, 0 to 1. No cases: (0, 1).
    Source: [brown2001], equal tails of Beta(hits + 1/2, misses + 1/2).
    """
    if not cases:
        return 0.0, 1.0
    from scipy.special import betaincinv  # scipy.stats takes a third of a second to load

    tail = (1.0 - level) / 2.0
    a, b = hits + 0.5, cases - hits + 0.5
    low = 0.0 if hits == 0 else float(betaincinv(a, b, tail))
    high = 1.0 if hits == cases else float(betaincinv(a, b, 1.0 - tail))
    return low, high


def scores(entries: Iterable[Entry]) -> list[Score]:
    """Winded or not, by verdict and stand, by verdict over all stands, and by wind's source.

    Args: entries of the log. Sits without a word of the program, plans, and sits of which
    nothing was said afterwards are left out: a blank is not a clean morning.
    """
    entries = list(entries)
    spoken = {e.of for e in entries if e.of}
    winded = {e.of for e in entries if e.kind == SEEN and e.get("winded")}
    counts: dict[tuple, list[int]] = defaultdict(lambda: [0, 0])
    for entry in entries:
        told = entry.get("told") or {}
        verdict = told.get("verdict")
        known = entry.id in spoken or entry.get("nothing_seen")
        if entry.kind != SIT or entry.get("planned") or not verdict or not known:
            continue
        source = str(told.get("source", ""))
        for key in {
            (entry.get("stand"), verdict, ""),
            (None, verdict, ""),
            (None, verdict, source),
        }:
            counts[key][0] += 1
            counts[key][1] += entry.id in winded
    return [
        Score(stand, verdict, source, n, hits, *jeffreys(hits, n))
        for (stand, verdict, source), (n, hits) in sorted(
            counts.items(), key=lambda item: tuple(str(part or "") for part in item[0])
        )
    ]
