"""The faults of `tests/mutants.py`: sound text, faulty text, the tests that notice."""

from dataclasses import dataclass

WIND = ("tests/reference/test_wind_components.py",)
UNITS = ("tests/reference/test_units.py",)
PLANE = ("tests/reference/test_geodesy.py",)
STABILITY = ("tests/reference/test_stability_tables.py",)
SPREAD = ("tests/reference/test_briggs.py", "tests/reference/test_conservation.py")
PROFILE = ("tests/reference/test_power_law.py",)
SUN = ("tests/reference/test_sun_usno.py", "tests/reference/test_sun_nrel.py")
MOON = ("tests/reference/test_moon.py",)
LIGHT = ("tests/core/test_daylight.py",)


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
        "return SIGMA_Z_B[stability] * x *",
        "return SIGMA_Y_A[stability] * x *",
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
        "reflection-halved",
        "core/air/spread.py",
        "return math.sqrt(2.0 / math.pi) / depth_m",
        "return math.sqrt(0.5 / math.pi) / depth_m",
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
)
