"""Faults in sit exposure."""

from tests.mutants.placing import Fault

HELD = ("tests/core/sit/test_many_areas.py",)
ANCHORS = ("tests/core/test_anchors.py",)
READINGS = ("tests/core/sit/test_readings.py",)
STILL = ("tests/core/sit/test_still_air.py",)
SEASON = ("tests/core/season/test_review.py",)

FAULTS = (
    Fault(
        "hours-at-a-stand-do-not-stray",
        "core/sit/rows.py::stand_air",
        "doubt_deg=hour_half_width_deg(rows.weather.half_width_deg, rows.stability, effective)",
        "doubt_deg=rows.weather.half_width_deg",
        STILL,
    ),
    Fault(
        "walks-do-not-stray",
        "core/sit/strength.py::ByFormula.on_walk",
        "half_width_deg=hour_half_width_deg(",
        "half_width_deg=(lambda half, *_: half)(",
        ("tests/core/sit/test_ways.py",),
    ),
    Fault(
        "classes-of-air-mixed-up",
        "core/sit/strength.py::zone_strengths",
        "row = np.searchsorted(met, stability)",
        "row = np.zeros_like(stability)",
        HELD,
    ),
    Fault(
        "like-in-metres",
        "core/sit/strength.py::likes_yd",
        "return equivalent_distance_m(c[:, 0, :]) / M_PER_YD",
        "return equivalent_distance_m(c[:, 0, :])",
        ANCHORS,
    ),
    Fault(
        "weakest-for-worst-point",
        "core/sit/strength.py::zone_strengths",
        "np.maximum.reduceat(c, starts, axis=1)",
        "np.minimum.reduceat(c, starts, axis=1)",
        ANCHORS,
    ),
    Fault(
        "trail-counts-as-a-bed",
        "core/sit/exposure.py::row_verdicts",
        "np.where(on_trail, np.int8(JUST_OFF), np.int8(CLEAN))",
        "np.where(on_trail, np.int8(WRONG), np.int8(CLEAN))",
        ANCHORS,
    ),
    Fault(
        "light-wind-called",
        "core/sit/exposure.py::cant_call_cause",
        "air.effective_mps < rows.ground.air.cant_call_below_mps",
        "air.effective_mps < 0.0",
        ANCHORS,
    ),
    Fault(
        "stragglers-at-full-strength",
        "core/sit/exposure.py::row_verdicts",
        "of_area = np.where(held,",
        "of_area = np.where(~held,",
        ANCHORS,
    ),
    Fault(
        "season-limit-by-rounding",
        "core/sit/exposure.py::cant_call_cause",
        "cant_call_below_mps - 1e-9",
        "cant_call_below_mps",
        SEASON,
    ),
    Fault(
        "farther-is-no-thinner",
        "core/sit/strength.py::zone_strengths",
        "by_class = by_class / points.distance_m  # (class, point)",
        "by_class = by_class * points.distance_m",
        ("tests/core/test_sit_properties.py",),
    ),
    Fault(
        "either-swirl-will-do",
        "core/sit/exposure.py::_swirls",
        "        holds &= speed_mps < known.under_mph * MPS_PER_MPH",
        "        holds |= speed_mps < known.under_mph * MPS_PER_MPH",
        READINGS,
    ),
    Fault(
        "swirls-of-the-seat-s-own-wind",
        "core/sit/exposure.py::cant_call_cause",
        "_swirls(stand, speed, air))",
        "_swirls(stand, air.carried_mps, air))",
        READINGS,
    ),
    Fault(
        "swirls-by-a-point",
        "core/sit/exposure.py::_swirls",
        "in_ranges(air.wind_from_deg, known.from_deg, air.half_width_deg)",
        "in_ranges(air.wind_from_deg, known.from_deg, 0.0)",
        READINGS,
    ),
    Fault(
        "bottom-in-knots",
        "core/sit/exposure.py::BOTTOM_UNDER_MPS",
        "BOTTOM_UNDER_MPS = 3.6",
        "BOTTOM_UNDER_MPS = 3.6 * 0.5144",
        READINGS,
    ),
    Fault(
        "bottom-by-speed-alone",
        "core/sit/exposure.py::cant_call_cause",
        "(speed < BOTTOM_UNDER_MPS) | (air.stability >= CLASS_E))",
        "speed < BOTTOM_UNDER_MPS)",
        READINGS,
    ),
    Fault(
        "an-uncalled-hour-has-no-distance",
        "core/sit/exposure.py::StandHours.equivalent_yd",
        "return self.reached.like_yd",
        "return np.where(self.cause[:, None] > 0, np.nan, self.reached.like_yd)",
        READINGS,
    ),
    Fault(
        "light-air-without-a-floor",
        "core/sit/strength.py::likes_yd",
        "carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],",
        "carried_mps=air.carried_mps[:, None],",
        STILL,
    ),
    Fault(
        "still-air-in-doubt",
        "core/sit/exposure.py::_still_strengths",
        "half_width_deg=np.zeros((2 * n_classes, 1)),",
        "half_width_deg=np.full((2 * n_classes, 1), 20.0),",
        STILL,
    ),
)
