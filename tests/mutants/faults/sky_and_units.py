"""Faults in sky, angles and units."""

from tests.mutants.placing import Fault

WIND = ("tests/reference/test_wind_components.py",)
UNITS = ("tests/reference/test_units.py",)
SUN = ("tests/reference/test_sun_usno.py", "tests/reference/test_sun_nrel.py")
MOON = ("tests/reference/test_moon.py",)
LIGHT = ("tests/core/test_daylight.py",)

FAULTS = (
    Fault(
        "wind-from-to",
        "core/angles.py::wind_from_components",
        "np.degrees(np.arctan2(-east, -north))",
        "np.degrees(np.arctan2(east, north))",
        WIND,
    ),
    Fault(
        "wind-sin-cos",
        "core/angles.py::components_mps",
        "np.asarray(speed_mps) * np.sin(theta), -np.asarray(speed_mps) * np.cos(theta)",
        "np.asarray(speed_mps) * np.cos(theta), -np.asarray(speed_mps) * np.sin(theta)",
        WIND,
    ),
    Fault(
        "sector-not-centred",
        "core/angles.py::point_index",
        "(direction_deg + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG",
        "direction_deg // POINT_WIDTH_DEG",
        WIND,
    ),
    Fault(
        "yards-for-metres",
        "core/units.py::M_PER_YD",
        "M_PER_YD = 0.9144",
        "M_PER_YD = 1.0",
        UNITS,
    ),
    Fault(
        "knots-for-mph",
        "core/units.py::MPS_PER_MPH",
        "MPS_PER_MPH = M_PER_MILE / 3600.0",
        "MPS_PER_MPH = M_PER_NAUTICAL_MILE / 3600.0",
        UNITS,
    ),
    Fault(
        "sunset-of-another-day",
        "core/sky/daylight.py::_mean_noon_s",
        "return noon_s - DAY_S * np.floor((noon_s - midnight_s) / DAY_S)",
        "return noon_s - DAY_S * np.floor((noon_s - midnight_s) / DAY_S) + DAY_S",
        SUN,
    ),
    Fault(
        "longitude-sign",
        "core/sky/sunpath.py::SunPath.__init__",
        "sidereal + lon_deg - right_ascension",
        "sidereal - lon_deg - right_ascension",
        SUN,
    ),
    Fault(
        "sun-s-disc-forgotten",
        "core/sky/daylight.py::RISE_SET_ALTITUDE_DEG",
        "RISE_SET_ALTITUDE_DEG = -0.8333",
        "RISE_SET_ALTITUDE_DEG = -0.5667",
        SUN,
    ),
    Fault(
        "moon-wrong-side",
        "core/sky/moon.py::moon_illuminated_frac",
        "return (1.0 + np.cos(phase)) / 2.0",
        "return (1.0 - np.cos(phase)) / 2.0",
        MOON,
    ),
    Fault(
        "cloud-exponent",
        "core/sky/daylight.py::cloud_factor",
        "0.75 * cloud**3.4",
        "0.75 * cloud**4.3",
        LIGHT,
    ),
    Fault(
        "kept-sun-may-be-changed",
        "core/sky/lately.py::for_all",
        "array.setflags(write=False)",
        "array.setflags(write=True)",
        LIGHT,
    ),
    Fault(
        "slope-facing-away",
        "core/sky/daylight.py::beam_cos",
        "return irradiance.aoi_projection(tilt_deg, facing_deg,",
        "return irradiance.aoi_projection(tilt_deg, facing_deg + 180,",
        ("tests/reference/test_sun_on_slopes.py",),
    ),
)
