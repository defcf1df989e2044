"""The faults of `tests/mutants.py`: sound text, faulty text, the tests that notice."""

from dataclasses import dataclass

WIND = ("tests/reference/test_wind_components.py",)
UNITS = ("tests/reference/test_units.py",)
PLANE = ("tests/reference/test_geodesy.py",)
STABILITY = ("tests/reference/test_stability_tables.py",)
SPREAD = ("tests/reference/test_spread.py", "tests/reference/test_conservation.py")
PROFILE = ("tests/reference/test_power_law.py",)
SUN = ("tests/reference/test_sun_usno.py", "tests/reference/test_sun_nrel.py")
MOON = ("tests/reference/test_moon.py",)
ANCHORS = ("tests/core/test_anchors.py",)
LIGHT = ("tests/core/test_daylight.py",)
HISTORY = ("tests/core/weather/test_history.py", "tests/traps/test_history_traps.py")


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: where, what stands there, what is put there, the tests that must see it."""

    name: str
    file: str
    sound: str
    faulty: str
    tests: tuple[str, ...]


FAULTS = (
    Fault(
        "typed-knots-for-mph",
        "core/weather/entry.py",
        '"mph": MPS_PER_MPH,',
        '"mph": MPS_PER_KNOT,',
        ("tests/core/weather/test_entry.py",),
    ),
    Fault(
        "hour-ending-not-moved",
        "core/weather/typical.py",
        "picked.append(index * 24 + np.arange(24))",
        "picked.append(index * 24 + np.arange(24) - 1)",
        ("tests/core/weather/test_forecasts.py",),
    ),
    Fault(
        "wind-from-to",
        "core/angles.py",
        "np.degrees(np.arctan2(-east, -north))",
        "np.degrees(np.arctan2(east, north))",
        WIND,
    ),
    Fault(
        "wind-sin-cos",
        "core/angles.py",
        "np.asarray(speed_mps) * np.sin(theta), -np.asarray(speed_mps) * np.cos(theta)",
        "np.asarray(speed_mps) * np.cos(theta), -np.asarray(speed_mps) * np.sin(theta)",
        WIND,
    ),
    Fault(
        "sector-not-centred",
        "core/angles.py",
        "(direction_deg + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG",
        "direction_deg // POINT_WIDTH_DEG",
        WIND,
    ),
    Fault(
        "cos-lat-dropped",
        "core/ground/plan.py",
        "math.radians(normal_m * math.cos(phi))",
        "math.radians(normal_m)",
        PLANE,
    ),
    Fault(
        "lat-lon-swapped",
        "core/ground/plan.py",
        "self.lon_deg, self.lat_deg = center",
        "self.lat_deg, self.lon_deg = center",
        PLANE,
    ),
    Fault(
        "bearing-sin-cos",
        "core/ground/plan.py",
        "np.arctan2(delta[..., 0], delta[..., 1])",
        "np.arctan2(delta[..., 1], delta[..., 0])",
        PLANE,
    ),
    Fault("yards-for-metres", "core/units.py", "M_PER_YD = 0.9144", "M_PER_YD = 1.0", UNITS),
    Fault(
        "knots-for-mph",
        "core/units.py",
        "MPS_PER_MPH = M_PER_MILE / 3600.0",
        "MPS_PER_MPH = M_PER_NAUTICAL_MILE / 3600.0",
        UNITS,
    ),
    Fault(
        "class-off-by-one",
        "core/air/stability.py",
        "[D, B, A, A], [D, C, B, A]",
        "[D, C, B, A], [D, C, B, A]",
        STABILITY,
    ),
    Fault(
        "lower-edge-to-slower-bin",
        "core/air/stability.py",
        'row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="right")\n'
        "    column = np.where",
        'row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="left")\n'
        "    column = np.where",
        STABILITY,
    ),
    Fault(
        "night-an-hour-off",
        "core/air/stability.py",
        "night = (since_rise <= HOUR_S)",
        "night = (since_rise <= 2 * HOUR_S)",
        STABILITY,
    ),
    Fault(
        "night-columns-swapped",
        "core/air/stability.py",
        "> OVERCAST_OVER_FRAC, 0, 1)",
        "> OVERCAST_OVER_FRAC, 1, 0)",
        STABILITY,
    ),
    Fault(
        "sigma-y-for-z",
        "core/air/spread.py",
        "SIGMA_Z_B[stability] * log + SIGMA_Z_G[stability] * log**2",
        "SIGMA_Y_POWER * log + SIGMA_Z_G[stability] * log**2",
        SPREAD,
    ),
    Fault(
        "meander-dropped",
        "core/air/spread.py",
        "air = np.maximum(SIGMA_B_RAD[stability], meander)",
        "air = np.minimum(SIGMA_B_RAD[stability], meander)",
        SPREAD,
    ),
    Fault(
        "meander-added",
        "core/air/spread.py",
        "air = np.maximum(SIGMA_B_RAD[stability], meander)",
        "air = np.hypot(SIGMA_B_RAD[stability], meander)",
        SPREAD,
    ),
    Fault(
        "narrowing-upside-down",
        "core/air/spread.py",
        "** (SIGMA_Y_POWER - 1.0)",
        "** (1.0 - SIGMA_Y_POWER)",
        SPREAD,
    ),
    Fault(
        "near-depth-off-the-curve",
        "core/air/spread.py",
        "depth * np.minimum(1.0, x / CURVES_FROM_M)",
        "depth * np.maximum(1.0, x / CURVES_FROM_M)",
        SPREAD,
    ),
    Fault(
        "elevated-source-on-the-ground",
        "core/air/spread.py",
        "(receptor_m - source_m) / depth",
        "receptor_m / depth",
        ("tests/reference/test_plume.py",),
    ),
    Fault(
        "reflection-halved",
        "core/air/spread.py",
        "return (down + up) / (math.sqrt(2.0 * math.pi) * depth)",
        "return down / (math.sqrt(2.0 * math.pi) * depth)",
        SPREAD,
    ),
    Fault(
        "profile-upside-down",
        "core/air/shelter.py",
        "ratio = np.asarray(height_m, float) / FORECAST_HEIGHT_M",
        "ratio = FORECAST_HEIGHT_M / np.asarray(height_m, float)",
        PROFILE,
    ),
    Fault(
        "sunset-of-another-day",
        "core/sky/daylight.py",
        "return noon_s - DAY_S * np.floor((noon_s - midnight_s) / DAY_S)",
        "return noon_s - DAY_S * np.floor((noon_s - midnight_s) / DAY_S) + DAY_S",
        SUN,
    ),
    Fault(
        "longitude-sign",
        "core/sky/sunpath.py",
        "sidereal + lon_deg - right_ascension",
        "sidereal - lon_deg - right_ascension",
        SUN,
    ),
    Fault(
        "sun-s-disc-forgotten",
        "core/sky/daylight.py",
        "RISE_SET_ALTITUDE_DEG = -0.8333",
        "RISE_SET_ALTITUDE_DEG = -0.5667",
        SUN,
    ),
    Fault(
        "moon-wrong-side",
        "core/sky/moon.py",
        "return (1.0 + np.cos(phase)) / 2.0",
        "return (1.0 - np.cos(phase)) / 2.0",
        MOON,
    ),
    Fault(
        "cloud-exponent",
        "core/sky/daylight.py",
        "0.75 * cloud**3.4",
        "0.75 * cloud**4.3",
        LIGHT,
    ),
    Fault(
        "air-from-to",
        "core/air/slopes.py",
        "to = np.radians(np.asarray(wind_from_deg) + 180.0)",
        "to = np.radians(np.asarray(wind_from_deg))",
        ANCHORS,
    ),
    Fault(
        "air-sin-cos",
        "core/air/slopes.py",
        "np.arctan2(east, north)",
        "np.arctan2(north, east)",
        ANCHORS,
    ),
    Fault(
        "uphill-downhill",
        "core/air/slopes.py",
        "up = np.radians(downhill_deg + 180.0)",
        "up = np.radians(downhill_deg)",
        ANCHORS,
    ),
    Fault(
        "slope-never-fades",
        "core/air/slopes.py",
        "return np.maximum(0.0, 1.0 - np.asarray(speed_10m_mps) / fades_at_mps)",
        "return np.ones_like(np.asarray(speed_10m_mps, float))",
        ANCHORS,
    ),
    Fault(
        "sun-cools-the-slope",
        "core/air/slopes.py",
        "return (heat - downward * (1.0 - cloud))",
        "return (downward * (1.0 - cloud) - heat)",
        ANCHORS,
    ),
    Fault(
        "half-width-widens-the-miss",
        "core/air/drift.py",
        "np.maximum(0.0, turn - half_width_deg)",
        "np.maximum(0.0, turn + half_width_deg)",
        ANCHORS,
    ),
    Fault(
        "reference-in-knots",
        "core/air/drift.py",
        "REFERENCE_MPS = 6.0 * MPS_PER_MPH",
        "REFERENCE_MPS = 6.0 * 1852.0 / 3600.0",
        ANCHORS,
    ),
    Fault(
        "walk-from-to",
        "core/sits/ways.py",
        "air_to_deg=np.mod(wind + 180.0, 360.0)",
        "air_to_deg=np.mod(wind, 360.0)",
        ANCHORS,
    ),
    Fault(
        "like-in-metres",
        "core/sits/exposure.py",
        "return equivalent_distance_m(c[:, 0, :n_zones]) / M_PER_YD",
        "return equivalent_distance_m(c[:, 0, :n_zones])",
        ANCHORS,
    ),
    Fault(
        "weakest-for-worst-point",
        "core/sits/exposure.py",
        "np.maximum.reduceat(c, starts, axis=1)",
        "np.minimum.reduceat(c, starts, axis=1)",
        ANCHORS,
    ),
    Fault(
        "trail-counts-as-a-bed",
        "core/sits/exposure.py",
        "np.where(trail, JUST_OFF, CLEAN))",
        "np.where(trail, WRONG, CLEAN))",
        ANCHORS,
    ),
    Fault(
        "light-wind-called",
        "core/sits/exposure.py",
        "air.effective_mps < rows.ground.air.cant_call_below_mps",
        "air.effective_mps < 0.0",
        ANCHORS,
    ),
    Fault(
        "corridor-ends-swapped",
        "core/sits/before.py",
        "line_m[::-1] if from_end == FOOD_END else line_m",
        "line_m if from_end == FOOD_END else line_m[::-1]",
        ANCHORS,
    ),
    Fault(
        "range-in-metres",
        "core/sits/before.py",
        "return (range_yd + 0.5) * M_PER_YD - TOUCH_M",
        "return (range_yd + 0.5) - TOUCH_M",
        ANCHORS,
    ),
    Fault(
        "sit-ends-swapped",
        "core/sits/prepare.py",
        "return (FOOD_END,) if self.clock.sit == MORNING else (BEDDING_END,)",
        "return (BEDDING_END,) if self.clock.sit == MORNING else (FOOD_END,)",
        ANCHORS,
    ),
    Fault(
        "walk-minutes-doubled",
        "core/sits/answer.py",
        "start = seated - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)",
        "start = seated - SECONDS_PER_MINUTE * (2 * way.minutes + stand.set_up_min)",
        ANCHORS,
    ),
    Fault(
        "owner-s-minutes-ignored",
        "core/sits/scene.py",
        "if lane.minutes is None:",
        "if lane.minutes is not None or lane_m:",
        ANCHORS,
    ),
    Fault(
        "held-sets-swapped",
        "core/sits/held.py",
        'if held == "day":',
        'if held == "night":',
        ANCHORS,
    ),
    Fault(
        "months-off-by-one",
        "core/sits/held.py",
        "month not in area.months",
        "month + 1 not in area.months",
        ANCHORS,
    ),
    Fault(
        "stragglers-at-full-strength",
        "core/sits/exposure.py",
        "areas = np.where(held, verdict_of[:, :n_areas], milder(verdict_of[:, :n_areas]))\n"
        "    zone_verdict",
        "areas = np.where(~held, verdict_of[:, :n_areas], milder(verdict_of[:, :n_areas]))\n"
        "    zone_verdict",
        ANCHORS,
    ),
    Fault(
        "legal-light-rounded-outwards",
        "core/sits/clock.py",
        "start = math.ceil((",
        "start = math.floor((",
        ANCHORS,
    ),
    Fault(
        "settle-after-light",
        "core/sits/clock.py",
        "seated = first - round(ground.sit.settle_min",
        "seated = first + round(ground.sit.settle_min",
        ANCHORS,
    ),
    Fault(
        "leave-by-after",
        "core/sits/rank.py",
        "return int(clock.row_start_s[row]) - LEAVE_BEFORE_S",
        "return int(clock.row_start_s[row]) + LEAVE_BEFORE_S",
        ANCHORS,
    ),
    Fault(
        "not-before-an-hour-early",
        "core/sits/rank.py",
        "return int(clock.row_start_s[row]) + SECONDS_PER_HOUR",
        "return int(clock.row_start_s[row])",
        ANCHORS,
    ),
    Fault(
        "worst-way-for-best",
        "core/sits/ways.py",
        "return min(judged, key=order, default=None)",
        "return max(judged, key=order, default=None)",
        ANCHORS,
    ),
    Fault(
        "worst-stand-first",
        "core/sits/rank.py",
        "key=lambda s: (-s[0], s[3], s[4])",
        "key=lambda s: (s[0], s[3], s[4])",
        ANCHORS,
    ),
    Fault(
        "spare-left-right-swapped",
        "core/sits/change.py",
        "left, right = max(0.0, into), max(0.0, span - into)",
        "right, left = max(0.0, into), max(0.0, span - into)",
        ANCHORS,
    ),
    Fault(
        "history-hour-not-nearest",
        "core/weather/observations.py",
        "hour = (at + ROW_S // 2) // ROW_S * ROW_S",
        "hour = at // ROW_S * ROW_S",
        HISTORY,
    ),
    Fault(
        "history-special-like-routine",
        "core/weather/observations.py",
        "np.lexsort((np.abs(at - hour), reports.special, windless, hour))",
        "np.lexsort((np.abs(at - hour), windless, hour))",
        HISTORY,
    ),
    Fault(
        "history-0-with-wind-is-north",
        "core/weather/observations.py",
        "(reports.wind_from_deg == 0) & (speed > 0) & reports.north_is_360",
        "(reports.wind_from_deg == 0) & (speed > 0) & False",
        HISTORY,
    ),
    Fault(
        "history-stations-mixed",
        "core/weather/history.py",
        "if other.station != named[0].station:",
        "if other.station is None:",
        HISTORY,
    ),
    Fault(
        "isd-lite-not-in-tenths",
        "core/weather/readers/isd_lite.py",
        "speed_mps=values[:, 8] / 10",
        "speed_mps=values[:, 8]",
        HISTORY,
    ),
    Fault(
        "asos-knots-as-mps",
        "core/weather/readers/asos.py",
        'speed_mps=columns["sknt"] * MPS_PER_KNOT',
        'speed_mps=columns["sknt"] * 1.0',
        HISTORY,
    ),
    Fault(
        "global-hourly-quality-7-kept",
        "core/weather/readers/global_hourly.py",
        'ERRONEOUS = (ord("3"), ord("7"))',
        'ERRONEOUS = (ord("3"),)',
        HISTORY,
    ),
    Fault(
        "tmy3-hour-ending-kept",
        "core/weather/readers/tmy3.py",
        "dtype=np.int64) - 1) * 3600",
        "dtype=np.int64) - 0) * 3600",
        ("tests/core/weather/test_encodings.py",),
    ),
    Fault(
        "epw-hour-ending-kept",
        "core/weather/readers/epw.py",
        "dtype=np.int64) - 1) * 3600",
        "dtype=np.int64) - 0) * 3600",
        ("tests/core/weather/test_encodings.py",),
    ),
    Fault(
        "point-in-arc",
        "core/weather/statistics.py",
        "np.maximum(reach, 0) / np.where(half > 0, 2 * half, 1)",
        "(reach >= half)",
        ("tests/core/weather/test_statistics.py",),
    ),
    Fault(
        "coverage-not-by-area",
        "core/weather/statistics.py",
        "np.maximum(top**2 - bottom**2, 0) / (high**2 - low**2)",
        "np.maximum(top - bottom, 0) / (high - low)",
        ("tests/reference/test_faa_coverage.py",),
    ),
)
