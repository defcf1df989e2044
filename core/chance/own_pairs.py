"""What came here against what was forecast: kept forecasts with reports, and felt winds."""

import dataclasses
import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt

from core.answer.chances import Misses
from core.chance.law import FARTHEST_LEAD_H
from core.chance.misses import LEAST_PAIRS, moved, usual_misses
from core.ground.layout import Property
from core.keep.entries import AIR, AS_TOLD, OTHERWISE, SIT, Entry
from core.units import MPS_PER_MPH
from core.weather.hours import CALM, DIRECTED, ROW_S, Hours
from core.weather.services.archive import all_kept, reported
from core.weather.services.kept import Kept, kept_files
from core.weather.services.runs import kept_runs
from core.weather.services.sources import Place, rounded

Floats = npt.NDArray[np.float64]

LEAD_BINS = 2  # a report tells once of a forecast of the same day, once of one a day ahead


@dataclasses.dataclass(frozen=True, eq=False)
class Pairs:
    """Hours of which a forecast and what came are known. Shapes (pair,).

    `cross_mps`: how far the wind that came lay across the forecast's way.
    """

    cross_mps: Floats
    speed_mps: Floats
    lead_h: Floats

    def __len__(self) -> int:
        return len(self.cross_mps)


def from_reports(kept: Sequence[Kept], measured: Hours, format_: str) -> Pairs:
    """Kept forecasts of one source against reports of the wind.

    Args: forecasts; hours of measured wind; the format of the forecast in hand.
    Missing: hours that either lacks, and reports of a variable wind, are left out; a calm
    lay across by nothing. A report counts once a day of lead, by the newest forecast.
    """
    found: dict[tuple[int, int], tuple[float, float, float]] = {}
    for one in sorted(kept, key=lambda each: each.fetched_s):
        if one.hours.format != format_:
            continue
        _, rows, theirs = np.intersect1d(
            one.hours.start_s, measured.start_s, assume_unique=True, return_indices=True
        )
        made_s = one.updated_s if one.updated_s is not None else one.fetched_s
        for row, other in zip(rows.tolist(), theirs.tolist(), strict=True):
            lead = (float(one.hours.start_s[row]) - made_s) / ROW_S
            cross = _cross_mps(one.hours, row, measured, other)
            if -1.0 <= lead <= FARTHEST_LEAD_H and not math.isnan(cross):
                key = int(measured.start_s[other]), int(max(lead, 0.0) * LEAD_BINS // 48.001)
                found[key] = cross, float(one.hours.speed_mps[row]), lead
    return _pairs(list(found.values()))


def _cross_mps(forecast: Hours, row: int, measured: Hours, other: int) -> float:
    if forecast.state[row] != DIRECTED:
        return math.nan
    if measured.state[other] == CALM:
        return 0.0
    turn = math.radians(float(measured.wind_from_deg[other] - forecast.wind_from_deg[row]))
    return float(measured.speed_mps[other]) * math.sin(turn)


def from_felt(entries: Iterable[Entry]) -> Pairs:
    """Winds felt at stands against the forecast that a sit was planned on.

    Nobody feels a speed to a number: the forecast's is taken. A wind from behind counts as
    one from the side.
    Args: entries of the log. Missing: sits that were not planned on a forecast, and air
    that went round, are left out.
    """
    entries = list(entries)
    sits = {e.id: e for e in entries if e.kind == SIT}
    found = []
    for entry in entries:
        sit = sits.get(entry.of or "")
        if entry.kind != AIR or sit is None or entry.get("felt") not in (AS_TOLD, OTHERWISE):
            continue
        told = _told_hour(sit, entry.get("at"))
        felt = entry.get("from_deg")
        if told is None or (felt is None and entry.get("felt") != AS_TOLD):
            continue
        from_deg, speed_mps, lead_h = told
        off = 0.0 if felt is None else abs((float(felt) - from_deg + 180.0) % 360.0 - 180.0)
        found.append((speed_mps * math.sin(math.radians(min(off, 90.0))), speed_mps, lead_h))
    return _pairs(found)


def _told_hour(sit: Entry, at: str | None) -> tuple[float, float, float] | None:
    """Wind from [deg], speed [m/s] and lead [h] of the hour of a sit nearest to an instant."""
    told = sit.get("told")
    chance = told.get("chance") if isinstance(told, Mapping) else None
    if not isinstance(told, Mapping) or not isinstance(chance, Mapping):
        return None
    hours = [
        (datetime.datetime.fromisoformat(h["start"]), h)
        for h in told.get("hours", ())
        if isinstance(h, Mapping) and h.get("wind_from_deg") is not None and h.get("start")
    ]
    if not hours or not isinstance(chance.get("lead_h"), int | float):
        return None
    then = datetime.datetime.fromisoformat(at) if at else hours[0][0]
    _, hour = min(hours, key=lambda pair: abs((pair[0] - then).total_seconds() + ROW_S / 2))
    speed = hour.get("wind_speed_mph")
    if not isinstance(speed, int | float):
        return None
    return float(hour["wind_from_deg"]), speed * MPS_PER_MPH, float(chance["lead_h"])


def _pairs(rows: list[tuple[float, float, float]]) -> Pairs:
    return Pairs(*np.array(rows, float).reshape(-1, 3).T)


def misses_here(
    weather: Hours,
    ground: Property,
    folder: Path,
    entries: Iterable[Entry] = (),
    *,
    now_s: float,
) -> Misses:
    """How far forecasts miss on this ground: the usual, moved by what came; and the runs of a
    model that are kept.

    Args: the forecast in hand; the property; the user's folder; entries of the log; the clock
    [epoch s]. Reads kept forecasts only where there are enough of them to move anything.
    """
    place = rounded(ground.center)
    own = _own_misses(weather, ground, folder, place, entries)
    return dataclasses.replace(own, runs=kept_runs(folder, place, now_s))


def _own_misses(
    weather: Hours, ground: Property, folder: Path, place: Place, entries: Iterable[Entry]
) -> Misses:
    usual, felt = usual_misses(weather, ground), from_felt(entries)
    if LEAD_BINS * len(kept_files(folder, place)) + len(felt) < LEAST_PAIRS:
        return usual
    kept = all_kept(folder, place)
    both = [from_reports(kept, reported(kept), weather.format), felt]
    joined = (np.concatenate([getattr(p, n) for p in both]) for n in Pairs.__dataclass_fields__)
    return moved(usual, *joined)
