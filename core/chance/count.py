"""The program's own count: of the sits that it gave so many of ten, how many held."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from core.keep.entries import AIR, AS_TOLD, SEEN, SIT, Entry

LEAST_CASES = 20  # common practice, no source: of fewer nothing is said


def own_count(entries: Iterable[Entry]) -> dict[int, tuple[int, int]]:
    """How often sits held, by what was said of them.

    A sit held where its air was felt as told and no deer winded the hunter. Sits of which
    neither was said afterwards are left out: a blank is no sit that held.
    Args: entries of the log. Returns: by tenths said, how many held, of how many.
    """
    entries = list(entries)
    felt: dict[str, list[bool]] = defaultdict(list)
    for entry in entries:
        if entry.kind == AIR and entry.of and entry.get("felt"):
            felt[entry.of].append(entry.get("felt") == AS_TOLD)
        if entry.kind == SEEN and entry.of and entry.get("winded"):
            felt[entry.of].append(False)
    found: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    for entry in entries:
        said = _said(entry)
        if said is not None and entry.id in felt:
            found[said][0] += all(felt[entry.id])
            found[said][1] += 1
    return {said: (held, n) for said, (held, n) in sorted(found.items(), reverse=True)}


def _said(entry: Entry) -> int | None:
    """The tenths of go that were told of a sit; None of any other entry."""
    told = entry.get("told") if entry.kind == SIT else None
    chance = told.get("chance") if isinstance(told, Mapping) else None
    tenths = chance.get("of_ten") if isinstance(chance, Mapping) else None
    go = told.get("group") == "go" if isinstance(told, Mapping) else False
    known = isinstance(tenths, list | tuple) and len(tenths) == 3 and isinstance(tenths[0], int)
    return int(tenths[0]) if go and known and tenths is not None else None
