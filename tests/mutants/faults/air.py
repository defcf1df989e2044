"""Faults in air."""

from tests.mutants.placing import Fault

STABILITY = ("tests/reference/test_stability_tables.py",)
SPREAD = ("tests/reference/test_spread.py", "tests/reference/test_conservation.py")
PROFILE = ("tests/reference/test_power_law.py",)
ANCHORS = ("tests/core/test_anchors.py",)
REDRAWN = ("tests/whole/test_redrawn_grounds.py",)
SLOPES = ("tests/core/air/test_slopes.py",)
CHILL = ("tests/reference/test_wind_chill.py",)
WANDER = ("tests/reference/test_wander.py", "tests/whole/test_second_opinion.py")
TURNING = ("tests/core/air/test_turning.py",)
ARC = ("tests/core/air/test_arc.py",)

FAULTS = (
    Fault(
        "arc-one-way-round-only",
        "core/air/arc.py::swept_arc",
        "both = known & (ends[0] * ends[1] < 0)",
        "both = known & (ends[0] * ends[1] > 0)",
        ARC,
    ),
    Fault(
        "arc-without-its-other-end",
        "core/air/arc.py::_shares",
        "return case, at / steps[case]",
        "return case, at / (steps[case] + 1)",
        ARC,
    ),
    Fault(
        "chill-of-the-old-index",
        "core/air/chill.py::wind_chill_f",
        "35.75 * power",
        "35.0 * power",
        CHILL,
    ),
    Fault(
        "chill-in-any-air",
        "core/air/chill.py::wind_chill_f",
        "(t <= WARMEST_F) & (v > LEAST_MPH)",
        "(t <= WARMEST_F + 50) & (v > LEAST_MPH)",
        CHILL,
    ),
    Fault(
        "chill-in-no-wind",
        "core/air/chill.py::wind_chill_f",
        "(v > LEAST_MPH)",
        "(v > 0)",
        CHILL,
    ),
    Fault(
        "half-width-widens-the-miss",
        "core/air/drift.py::offset_rad",
        "np.maximum(0.0, turn - half_width_deg)",
        "np.maximum(0.0, turn + half_width_deg)",
        ANCHORS,
    ),
    Fault(
        "reference-in-knots",
        "core/air/drift.py::REFERENCE_MPS",
        "REFERENCE_MPS = 6.0 * MPS_PER_MPH",
        "REFERENCE_MPS = 6.0 * 1852.0 / 3600.0",
        ANCHORS,
    ),
    Fault(
        "one-way-to-turn",
        "core/air/drift.py::offset_rad",
        "turn = np.minimum(turn, np.abs(360.0 - turn))",
        "turn = np.maximum(0.0, np.mod(air_to_deg - bearing_deg + 180.0, 360.0) - 180.0)",
        REDRAWN,
    ),
    Fault(
        "a-turn-left-out",
        "core/air/drift.py::wrapped_normal_per_rad",
        "((2 * np.pi - offset) / sigma_rad) ** 2)",
        "((4 * np.pi - offset) / sigma_rad) ** 2)",
        ("tests/reference/test_wrapped_normal.py",),
    ),
    Fault(
        "profile-upside-down",
        "core/air/shelter.py::wind_at_height_mps",
        "ratio = np.asarray(height_m, float) / FORECAST_HEIGHT_M",
        "ratio = FORECAST_HEIGHT_M / np.asarray(height_m, float)",
        PROFILE,
    ),
    Fault(
        "air-from-to",
        "core/air/slopes.py::toward",
        "to = np.radians(np.asarray(wind_from_deg) + 180.0)",
        "to = np.radians(np.asarray(wind_from_deg))",
        ANCHORS,
    ),
    Fault(
        "air-sin-cos",
        "core/air/slopes.py::carried",
        "np.arctan2(east, north)",
        "np.arctan2(north, east)",
        ANCHORS,
    ),
    Fault(
        "uphill-downhill",
        "core/air/slopes.py::carried",
        "up = math.radians(downhill_deg + 180.0)",
        "up = math.radians(downhill_deg)",
        ANCHORS,
    ),
    Fault(
        "slope-never-fades",
        "core/air/slopes.py::fade",
        "return np.maximum(0.0, 1.0 - np.asarray(speed_10m_mps) / fades_at_mps)",
        "return np.ones_like(np.asarray(speed_10m_mps, float))",
        ANCHORS,
    ),
    Fault(
        "sun-cools-the-slope",
        "core/air/slopes.py::slope_speed_mps",
        "return (heat - downward * (1.0 - cloud))",
        "return (downward * (1.0 - cloud) - heat)",
        ANCHORS,
    ),
    Fault(
        "the-lesser-of-two-ramps",
        "core/air/slopes.py::downward_share",
        "np.maximum(falling, rising)",
        "np.minimum(falling, rising)",
        ("tests/core/air/test_slopes.py",),
    ),
    Fault(
        "a-cliff-blows-harder",
        "core/air/slopes.py::slope_speed_mps",
        "full_mps * min(1.0, grade_pct / FULL_GRADE_PCT)",
        "full_mps * (grade_pct / FULL_GRADE_PCT)",
        SLOPES,
    ),
    Fault(
        "no-cloud-told-is-clear-by-slope",
        "core/air/slopes.py::slope_speed_mps",
        "np.where(np.isnan(cloud_frac), CLOUD_UNKNOWN_FRAC, cloud_frac)",
        "np.where(np.isnan(cloud_frac), 0.0, cloud_frac)",
        SLOPES,
    ),
    Fault(
        "sigma-y-for-z",
        "core/air/spread.py::sigma_z_m",
        "SIGMA_Z_B[stability] * log + SIGMA_Z_G[stability] * log**2",
        "SIGMA_Y_POWER * log + SIGMA_Z_G[stability] * log**2",
        SPREAD,
    ),
    Fault(
        "meander-dropped",
        "core/air/spread.py::spread_rad",
        "air = np.maximum(SIGMA_B_RAD[stability], meander)",
        "air = np.minimum(SIGMA_B_RAD[stability], meander)",
        SPREAD,
    ),
    Fault(
        "meander-added",
        "core/air/spread.py::spread_rad",
        "air = np.maximum(SIGMA_B_RAD[stability], meander)",
        "air = np.hypot(SIGMA_B_RAD[stability], meander)",
        SPREAD,
    ),
    Fault(
        "narrowing-upside-down",
        "core/air/spread.py::narrowing",
        "** (SIGMA_Y_POWER - 1.0)",
        "** (1.0 - SIGMA_Y_POWER)",
        SPREAD,
    ),
    Fault(
        "near-depth-off-the-curve",
        "core/air/spread.py::sigma_z_m",
        "depth * np.minimum(1.0, x / CURVES_FROM_M)",
        "depth * np.maximum(1.0, x / CURVES_FROM_M)",
        SPREAD,
    ),
    Fault(
        "elevated-source-on-the-ground",
        "core/air/spread.py::column_per_m",
        "(receptor_m - source_m) / depth",
        "receptor_m / depth",
        ("tests/reference/test_plume.py",),
    ),
    Fault(
        "reflection-halved",
        "core/air/spread.py::column_per_m",
        "return 2.0 / (math.sqrt(2.0 * math.pi) * depth)",
        "return 1.0 / (math.sqrt(2.0 * math.pi) * depth)",
        SPREAD,
    ),
    Fault(
        "class-off-by-one",
        "core/air/stability.py::DAY_TABLE",
        "[D, B, A, A], [D, C, B, A]",
        "[D, C, B, A], [D, C, B, A]",
        STABILITY,
    ),
    Fault(
        "lower-edge-to-slower-bin",
        "core/air/stability.py::night_class",
        'row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="right")\n'
        "    column = np.where",
        'row = np.searchsorted(SPEED_EDGES_MPS, np.nan_to_num(speed_mps), side="left")\n'
        "    column = np.where",
        STABILITY,
    ),
    Fault(
        "night-an-hour-off",
        "core/air/stability.py::stability_class",
        "night = (since_rise <= HOUR_S)",
        "night = (since_rise <= 2 * HOUR_S)",
        STABILITY,
    ),
    Fault(
        "night-columns-swapped",
        "core/air/stability.py::night_class",
        "> OVERCAST_OVER_FRAC, 0, 1)",
        "> OVERCAST_OVER_FRAC, 1, 0)",
        STABILITY,
    ),
    Fault(
        "turn-out-of-stillness",
        "core/air/turning.py::turns",
        "(last >= 0) & (sign != 0) & (before != sign)",
        "(sign != 0) & (before != sign)",
        TURNING,
    ),
    Fault(
        "turns-that-overlap-kept-apart",
        "core/air/turning.py::turning_spans",
        "(np.diff(turn_s) > 2 * beside_s)",
        "(np.diff(turn_s) > beside_s)",
        ("tests/core/air/test_turning.py",),
    ),
    Fault(
        "wander-gusts-of-ten-minutes",
        "core/air/wander.py::HOUR_SIGMA_V_MPS",
        "HOUR_SIGMA_V_MPS = 0.5",
        "HOUR_SIGMA_V_MPS = 0.2",
        WANDER,
    ),
    Fault(
        "wander-counted-twice",
        "core/air/wander.py::wander_deg",
        "hour**2 - ten_minutes**2",
        "hour**2",
        WANDER,
    ),
)
