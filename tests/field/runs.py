"""Runs of a field experiment, and what the program's own code says of each arc.

A file has one row a run and arc, with the columns of Project Prairie Grass as they are
read here; other columns are ignored, and any cell may be empty.
"""

import csv
import datetime
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from core.air.drift import equivalent_distance_m, plume, strength
from core.air.shelter import LOWEST_M, wind_at_height_mps, wind_at_hunter_mps
from core.air.slopes import LEAST_CARRY_MPS, LEAST_EFFECTIVE_MPS
from core.air.spread import OPEN_ROUGHNESS_M, narrowing, spread_rad, thinning_per_m
from core.air.stability import CLASSES, stability_class
from core.errors import StandWindError
from core.sky.daylight import clear_sky, sun_day

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

# O'Neill, Nebraska; the release and the samplers stood there (place from memory)
LAT_DEG, LON_DEG, ELEVATION_M = 42.49, -98.57, 600.0
ZONE, HOURS_WEST = "Etc/GMT+6", 6  # its clock: Central Standard Time
SITE_ROUGHNESS_M = 0.008  # of the mown grass, as fitted to the runs' wind profiles
CUT = "plume_cut_at_arc_end"
NEEDED = ("arc_m", "Q_g_s", "Cmax_obs_mg_m3")
RELEASE_M, SAMPLER_M = 0.46, 1.5  # [barad1958], where the columns are empty


@dataclass(frozen=True, eq=False)
class Runs:
    """The rows of a file as arrays of shape (row,); NaN and "" where a cell is empty."""

    run: list[str]
    arc_m: Floats
    observed: Floats  # arc maximum over release [s/m3]
    sigma_y_m: Floats
    cut: npt.NDArray[np.bool_]  # the arc ended before the plume did
    release_m: Floats
    sampler_m: Floats
    u2_mps: Floats
    u10_mps: Floats
    obukhov_m: Floats
    given_class: Ints  # as the file has it, -1 where it has none
    given_sky_class: Ints
    middle_s: Floats  # epoch seconds of the middle of the release

    def __len__(self) -> int:
        return len(self.arc_m)

    def only(self, keep) -> "Runs":
        """The rows picked by a mask."""
        picked = {
            name: [r for r, k in zip(value, keep, strict=True) if k]
            if isinstance(value, list)
            else value[keep]
            for name, value in vars(self).items()
        }
        return Runs(**picked)


def read_runs(path: Path) -> Runs:
    """The rows of a file.

    Raises: StandWindError where the file or a column that cannot be done without is
    missing.
    """
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except OSError as error:
        raise StandWindError(
            f"cannot be read ({error.strerror})", str(path), "Name a file of arcs."
        ) from error
    table = csv.DictReader(text.splitlines())
    missing = [name for name in NEEDED if name not in (table.fieldnames or [])]
    if missing:
        raise StandWindError(
            f"no column {', '.join(missing)}", str(path), f"It must have {', '.join(NEEDED)}."
        )
    rows = list(table)

    def column(*names: str) -> Floats:
        return np.array([_first([_number(row.get(name)) for name in names]) for row in rows])

    def words(name: str) -> list[str]:
        return [(row.get(name) or "").strip() for row in rows]

    return Runs(
        run=words("run"),
        arc_m=column("arc_m"),
        observed=column("Cmax_obs_mg_m3") / 1000.0 / column("Q_g_s"),
        sigma_y_m=column("sigma_y_recalc_m", "sigma_y_irwin_m"),
        cut=np.array([CUT in flags for flags in words("flags")], bool),
        release_m=_or(column("release_height_m"), RELEASE_M),
        sampler_m=_or(column("sampler_height_m"), SAMPLER_M),
        u2_mps=column("U2_m_s"),
        u10_mps=column("U10_est_m_s"),
        obukhov_m=column("L_m"),
        given_class=_classes(words("class_golder")),
        given_sky_class=_classes(words("class_pasquill_clear")),
        middle_s=np.array(
            [_middle_s(d, t) for d, t in zip(words("date"), words("time_cst"), strict=True)]
        ),
    )


def _number(cell: str | None) -> float:
    try:
        value = float(cell or "nan")
    except ValueError:
        return math.nan
    return value if math.isfinite(value) else math.nan


def _first(values: list[float]) -> float:
    return next((v for v in values if not math.isnan(v)), math.nan)


def _or(values: Floats, otherwise) -> Floats:
    return np.where(np.isnan(values), otherwise, values)


def _classes(letters: list[str]) -> Ints:
    known = {letter: i for i, letter in enumerate(CLASSES)}
    return np.array([known.get(x.upper(), -1) for x in letters], np.int64)


def _middle_s(date: str, span: str) -> float:
    """The middle of a release that is written 1956-07-06, 1700-1710; NaN if it is not."""
    try:
        start, end = (
            datetime.datetime.strptime(f"{date} {x}", "%Y-%m-%d %H%M")  # noqa: DTZ007
            for x in span.split("-")
        )
    except ValueError:
        return math.nan
    minutes = ((end - start).total_seconds() / 60.0) % 1440.0
    utc = start.replace(tzinfo=datetime.UTC) + datetime.timedelta(hours=HOURS_WEST)
    return utc.timestamp() + minutes * 30.0


# 1/L = a + b log10(z0), the middle of each class, A ... F. Golder D.: Relations among stability
# parameters in the surface layer. Boundary-Layer Meteorol. 3:47-58 (1972), as Seinfeld and Pandis,
# Atmospheric chemistry and physics (2006), p. 751, equation 16.83, print it (second-hand)
GOLDER_A = np.array([-0.096, -0.037, -0.002, 0.0, 0.004, 0.035])
GOLDER_B = np.array([0.029, 0.029, 0.018, 0.0, -0.018, -0.036])


def class_of_obukhov(length_m, roughness_m):
    """Class of the air from its measured Obukhov length. Elementwise.

    Args: Obukhov length [m], negative by day; roughness length of the ground [m].
    Missing: NaN gives -1. An infinite length is neutral, D.
    The nearest of Golder's lines.
    """
    length = np.asarray(length_m, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        inverse = np.where(np.isinf(length), 0.0, 1.0 / length)
    lines = GOLDER_A + GOLDER_B * np.log10(roughness_m)
    nearest = np.searchsorted((lines[:-1] + lines[1:]) / 2.0, inverse)
    return np.where(np.isnan(length), -1, nearest)


def measured_class(runs: Runs) -> Ints:
    """What the air was: class from the Obukhov length, else the file's; -1 for none."""
    own = class_of_obukhov(runs.obukhov_m, SITE_ROUGHNESS_M)
    return np.where(own < 0, runs.given_class, own)


def forecast_speed_mps(runs: Runs) -> Floats:
    """The 10 m wind; from the 2 m wind by the neutral profile where it is not given."""
    up = runs.u2_mps / wind_at_height_mps(1.0, LOWEST_M, CLASSES.index("D"))
    return _or(runs.u10_mps, up)


def sky_class(runs: Runs) -> Ints:
    """What a forecast lets us know: class from wind, sun and a clear sky; -1 for none."""
    found = runs.given_sky_class.copy()
    speed = forecast_speed_mps(runs)
    for i in np.flatnonzero(~np.isnan(runs.middle_s) & ~np.isnan(speed)):
        at = runs.middle_s[i]
        local = datetime.datetime.fromtimestamp(at - HOURS_WEST * 3600, datetime.UTC)
        day = sun_day(LAT_DEG, LON_DEG, ZONE, local.date())
        found[i] = stability_class(
            time_s=at,
            sunrise_s=day.sunrise_s,
            sunset_s=day.sunset_s,
            speed_mps=speed[i],
            cloud_frac=0.0,
            radiation_wm2=clear_sky(LAT_DEG, LON_DEG, ELEVATION_M, [at]).ghi_wm2[0],
        )
    return found


@dataclass(frozen=True, eq=False)
class Air:
    """The air of each row as one way of knowing it has it. Shapes (row,)."""

    stability: Ints  # -1 where it is not known
    carried_mps: Floats
    effective_mps: Floats
    roughness_m: float


def measured_air(runs: Runs, roughness_m: float = SITE_ROUGHNESS_M) -> Air:
    """The air as it was measured: class by Obukhov length, wind at 2 m.

    Args: the runs; the roughness that the upward spread is worked out for [m].
    """
    stability = measured_class(runs)
    by_profile = wind_at_hunter_mps(runs.u10_mps, runs.release_m, stability, "open")
    up = runs.u2_mps / wind_at_height_mps(1.0, LOWEST_M, stability)
    return _air(stability, _or(runs.u2_mps, by_profile), _or(runs.u10_mps, up), roughness_m)


def forecast_air(runs: Runs) -> Air:
    """The air as the program would have it from a forecast: clear sky, wind at 10 m."""
    stability, speed = sky_class(runs), forecast_speed_mps(runs)
    wind = wind_at_hunter_mps(speed, runs.release_m, stability, "open")
    return _air(stability, wind, speed, OPEN_ROUGHNESS_M)


def _air(stability, carried, effective, roughness_m) -> Air:
    return Air(
        stability=np.where(np.isnan(carried), -1, stability),
        carried_mps=np.maximum(carried, LEAST_CARRY_MPS),
        effective_mps=np.maximum(effective, LEAST_EFFECTIVE_MPS),
        roughness_m=roughness_m,
    )


def arc_maximum(runs: Runs, air: Air) -> Floats:
    """Straight downwind at the samplers, for a release of 1. [s/m3]  NaN where unknown."""
    known = air.stability >= 0
    stability = np.where(known, air.stability, 0)
    thin = thinning_per_m(
        stability,
        runs.arc_m,
        runs.release_m,
        receptor_m=runs.sampler_m,
        roughness_m=air.roughness_m,
    )
    sigma = spread_rad(stability, air.effective_mps) * narrowing(runs.arc_m)
    return np.where(known, plume(thin, air.carried_mps, runs.arc_m, 0.0, sigma), np.nan)


def arc_width_m(runs: Runs, air: Air) -> Floats:
    """Sideways spread on the arc. [m]  NaN where unknown."""
    known = air.stability >= 0
    sigma = spread_rad(np.where(known, air.stability, 0), air.effective_mps)
    return np.where(known, sigma * narrowing(runs.arc_m) * runs.arc_m, np.nan)


def like_factor(runs: Runs, air: Air) -> Floats:
    """ "Like N yards" as the air was, over N as the program says. NaN where unknown."""
    known = air.stability >= 0
    stability = np.where(known, air.stability, 0)
    said = strength(
        distance_m=runs.arc_m,
        offset_rad=0.0,
        stability=stability,
        carried_mps=air.carried_mps,
        sigma_rad=spread_rad(stability, air.effective_mps),
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(runs.observed > 0, runs.observed / arc_maximum(runs, air), np.nan)
    return equivalent_distance_m(said * ratio) / equivalent_distance_m(said)
