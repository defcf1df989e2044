"""Faults in sit exposure."""

from tests.mutants.placing import Fault

HELD = ("tests/core/sit/test_many_areas.py",)
ANCHORS = ("tests/core/test_anchors.py",)
PAIRS = ("tests/core/party/test_pairs.py",)
READINGS = ("tests/core/sit/test_readings.py",)
STILL = ("tests/core/sit/test_still_air.py",)
SEASON = ("tests/whole/season/test_review.py",)

SECOND = ("tests/whole/judge/test_rows_second_opinion.py",)

FAULTS = (
    Fault(
        "doubt-is-the-best-of-its-directions",
        "core/judge/doubt.py::_between",
        "np.where(unsure, CANT_CALL, worst)",
        "np.where(unsure, best, worst)",
        ("tests/core/judge/test_doubt.py",),
    ),
    Fault(
        "wrong-way-out-lets-a-sit-be-clean",
        "core/judge/stand.py::_group",
        "wrong_out & clean_air",
        "wrong_out & ~clean_air",
        ("tests/core/judge/test_way_out_and_order.py",),
    ),
    Fault(
        "watching-before-shots",
        "core/judge/order.py::after_shots",
        "word != WATCH",
        "word == WATCH",
        ("tests/core/judge/test_way_out_and_order.py",),
    ),
    Fault(
        "hours-at-a-stand-do-not-stray",
        "core/sit/stand_air.py::StandAir.doubt_deg",
        "return np.where(self.strays, wider, half)",
        "return half",
        STILL,
    ),
    Fault(
        "walks-do-not-stray",
        "core/sit/stand_air.py::air_on_foot",
        "hour_half_width_deg(half_width_deg, stability, steady)",
        "half_width_deg",
        ("tests/core/sit/test_ways.py",),
    ),
    Fault(
        "classes-of-air-mixed-up",
        "core/sit/strength.py::_strongest",
        "row = np.searchsorted(met, stability)",
        "row = np.zeros_like(stability)",
        HELD,
    ),
    Fault(
        "like-in-metres",
        "core/sit/strength.py::ByFormula.at_stand",
        "return Likes(equivalent_distance_m(c) / M_PER_YD)",
        "return Likes(equivalent_distance_m(c))",
        ANCHORS,
    ),
    Fault(
        "like-of-another-seat-in-metres",
        "core/sit/strength.py::likes_yd",
        "return equivalent_distance_m(c[:, 0, :]) / M_PER_YD",
        "return equivalent_distance_m(c[:, 0, :])",
        PAIRS,
    ),
    Fault(
        "weakest-for-worst-point",
        "core/sit/strength.py::_strongest",
        "np.maximum.reduceat(c, starts, axis=1)",
        "np.minimum.reduceat(c, starts, axis=1)",
        ANCHORS,
    ),
    Fault(
        "trail-counts-as-a-bed",
        "core/sit/trails.py::trails_verdict",
        "np.where(off, JUST_OFF, CLEAN)",
        "np.where(off, WRONG, CLEAN)",
        ("tests/core/test_anchors.py",),
    ),
    Fault(
        "light-wind-called",
        "core/judge/causes.py::causes_of_doubt",
        "weak = air.effective_mps < least_mps",
        "weak = air.effective_mps < 0.0",
        ("tests/core/test_anchors.py",),
    ),
    Fault(
        "stragglers-at-full-strength",
        "core/judge/row_verdicts.py::of_graded",
        "of_area = np.where(held,",
        "of_area = np.where(~held,",
        ("tests/core/test_anchors.py",),
    ),
    Fault(
        "season-limit-by-rounding",
        "core/judge/causes.py::causes_of_doubt",
        "cant_call_below_mps - 1e-9",
        "cant_call_below_mps",
        ("tests/whole/season/test_review.py",),
    ),
    Fault(
        "farther-is-no-thinner",
        "core/sit/strength.py::_thinned",
        "height_m) / points.distance_m",
        "height_m) * points.distance_m",
        ("tests/whole/test_sit_properties.py",),
    ),
    Fault(
        "either-swirl-will-do",
        "core/judge/causes.py::_swirls",
        "        holds &= speed_mps < known.under_mph * MPS_PER_MPH",
        "        holds |= speed_mps < known.under_mph * MPS_PER_MPH",
        READINGS,
    ),
    Fault(
        "swirls-of-the-seat-s-own-wind",
        "core/judge/causes.py::causes_of_doubt",
        "_swirls(stand, speed, air))",
        "_swirls(stand, air.carried_mps, air))",
        ("tests/core/sit/test_readings.py",),
    ),
    Fault(
        "swirls-by-a-point",
        "core/judge/causes.py::_swirls",
        "in_ranges(air.wind_from_deg, known.from_deg, air.half_width_deg)",
        "in_ranges(air.wind_from_deg, known.from_deg, 0.0)",
        READINGS,
    ),
    Fault(
        "bottom-in-knots",
        "core/judge/causes.py::BOTTOM_UNDER_MPS",
        "BOTTOM_UNDER_MPS = 3.6",
        "BOTTOM_UNDER_MPS = 3.6 * 0.5144",
        READINGS,
    ),
    Fault(
        "bottom-by-speed-alone",
        "core/judge/causes.py::causes_of_doubt",
        "(speed < BOTTOM_UNDER_MPS) | (air.stability >= CLASS_E))",
        "speed < BOTTOM_UNDER_MPS)",
        ("tests/core/sit/test_readings.py",),
    ),
    Fault(
        "stands-in-other-cover-share-their-air",
        "core/judge/stand_rows.py::alike",
        "stand.height_ft, stand.cover, stand.turns",
        "stand.height_ft, stand.turns",
        ("tests/core/judge/test_alike.py",),
    ),
    Fault(
        "an-uncalled-hour-has-no-distance",
        "core/judge/exposure.py::stand_hours",
        "sure = _asked(own, asked & (cause == SURE))",
        "sure = np.arange(len(cause))",
        ("tests/core/sit/test_readings.py",),
    ),
    Fault(
        "light-air-without-a-floor",
        "core/sit/strength.py::ByFormula._straight",
        "carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS),",
        "carried_mps=air.carried_mps,",
        STILL,
    ),
    Fault(
        "light-air-without-a-floor-for-another-seat",
        "core/sit/strength.py::likes_yd",
        "carried_mps=np.maximum(air.carried_mps, LEAST_CARRY_MPS)[:, None],",
        "carried_mps=air.carried_mps[:, None],",
        PAIRS,
    ),
    Fault(
        "still-air-in-doubt",
        "core/judge/still.py::_strengths",
        "half_width_deg=np.zeros(2 * n_classes),",
        "half_width_deg=np.full(2 * n_classes, 20.0),",
        ("tests/core/sit/test_still_air.py",),
    ),
)
