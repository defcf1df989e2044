"""Sits in the winds that may come instead of the forecast's: each many times over."""

import dataclasses

import numpy as np
import numpy.typing as npt

from core.answer.chances import Misses
from core.chance.law import DRAWS, MOST_DRAWS, drawn_winds
from core.sit.prepare import KEPT_TABLE, Sits
from core.sit.rows import Blocks, rows_in
from core.sit.tables.by_kept_table import HALF_WIDTH_DEG
from core.units import SECONDS_PER_HOUR
from core.weather.hours import CALM, DIRECTED, Hours

Ints = npt.NDArray[np.int64]

# of each run of a model so many draws, and by how much less they miss about it: fitted on runs
# of 3 to 12 h, where 0.7 to 0.85 were best [harp2019]
PER_RUN, OF_RUNS_Q = 8, 0.8
MOST_RUNS = MOST_DRAWS // PER_RUN


def drawn_sits(sits: Sits, issued_s: float, misses: Misses) -> Sits:
    """Some sits, each as many times as winds are drawn for it, one sit's behind another's.

    Cloud, gusts and rain stay as forecast; so do hours that are variable or missing. Each
    draw is judged as a station's report of it would be.

    Args: the sits, in one table of weather; when the forecast was made [epoch s]; how far
    forecasts miss here: with runs of a model, winds are drawn around each of them.
    """
    found, n_sits = sits.found, len(sits)
    came = [_winds(found, i, issued_s, misses) for i in range(n_sits)]
    speed, came_from = (np.concatenate(x).ravel() for x in zip(*came, strict=True))
    n = len(came[0][0])
    block = np.arange(n_sits * found.length).reshape(n_sits, 1, found.length)
    at = np.broadcast_to(block, (n_sits, n, found.length)).ravel()
    hours = found.hours.take(at)
    weather = _in_winds(hours.weather, speed, came_from)
    light_wm2 = found.sun.ghi_wm2[1][found.sun_at[at]]
    drawn = rows_in(sits.ground, weather, hours.day, hours.month, light_wm2)
    clock = sits.clock.take(np.repeat(np.arange(n_sits), n))
    return dataclasses.replace(
        sits,
        clock=clock,
        found=dataclasses.replace(found, hours=drawn, sun_at=found.sun_at[at]),
        strengths=KEPT_TABLE,
        worked_out={},
        of_anyone={},
    )


def hours_of(found: Blocks, sit: int) -> tuple[Ints, Hours]:
    """The hours of one sit: their starts [epoch s] and their weather. Args: blocks; the sit."""
    here = slice(sit * found.length, (sit + 1) * found.length)
    return found.hours.start_s[here], found.hours.weather.take(here)


def _winds(found: Blocks, sit: int, issued_s: float, misses: Misses):
    """Speeds and directions drawn for the hours of one sit; shapes (draw, hour)."""
    start_s, weather = hours_of(found, sit)
    speed, came_from, q, n = weather.speed_mps, weather.wind_from_deg, misses.q, DRAWS
    if misses.runs is not None:
        both = misses.runs.moved_onto(start_s, speed, came_from)
        speed, came_from = (np.repeat(x[:MOST_RUNS], PER_RUN, axis=0) for x in both)
        q, n = OF_RUNS_Q * q, len(speed)
    lead_h = (start_s - issued_s) / SECONDS_PER_HOUR
    drawn = drawn_winds(start_s, speed, came_from, lead_h, q, n)
    return drawn.speed_mps, drawn.wind_from_deg


def _in_winds(weather: Hours, speed_mps, wind_from_deg) -> Hours:
    """The same hours in winds that were drawn, where they can be: shapes (row,)."""
    known = (weather.state == DIRECTED) | (weather.state == CALM)
    moving = known & (speed_mps > 0.0)
    return dataclasses.replace(
        weather,
        state=np.where(known, np.where(moving, DIRECTED, CALM), weather.state).astype(np.int8),
        speed_mps=np.where(known, speed_mps, weather.speed_mps),
        wind_from_deg=np.where(moving, wind_from_deg, np.nan),
        half_width_deg=np.where(moving, HALF_WIDTH_DEG, np.nan),
    )
