"""Faults in what heights do to the air of a stand."""

from tests.mutants.placing import Fault

LAND_AIR = ("tests/core/sit/test_land_air.py",)
SHADE = ("tests/reference/test_land_shade.py",)
OVER_LAND = ("tests/core/say/test_over_land.py",)

FAULTS = (
    Fault(
        "bent-air-takes-away-doubt",
        "core/sit/land/bent.py::bent_strengths",
        "own.doubt_deg[:, None] + turned / 2.0",
        "own.doubt_deg[:, None] - turned / 2.0",
        LAND_AIR,
    ),
    Fault(
        "bent-air-goes-straight",
        "core/sit/land/bent.py::bent_strengths",
        "return rows[bends], found[bends]",
        "return rows[bends & False], found[bends & False]",
        LAND_AIR,
    ),
    Fault(
        "wind-is-turned-by-any-hump",
        "core/sit/land/stand_land.py::StandLand.is_on_hills",
        "self._hill_m >= LEAST_RELIEF_M",
        "self._hill_m >= 0.0",
        LAND_AIR,
    ),
    Fault(
        "a-hill-beside-the-way-turns-it-to-the-other-side",
        "core/land/air_ways.py::Drive.of",
        "2.0 + 1j * c.xy",
        "2.0 - 1j * c.xy",
        LAND_AIR,
    ),
    Fault(
        "a-way-takes-the-heading-where-a-step-begins",
        "core/land/air_ways.py::air_ways",
        "goes = heading(here + first * (step_m / 2.0), first)",
        "goes = first",
        LAND_AIR,
    ),
    Fault(
        "a-pool-reaches-nobody",
        "core/sit/land/bent.py::_still",
        "if pooled.any():",
        "if not pooled.any():",
        LAND_AIR,
    ),
    Fault(
        "slope-air-runs-up-the-fall",
        "core/land/air_ways.py::air_ways",
        "air = full_slope_mps * uphill",
        "air = -full_slope_mps * uphill",
        LAND_AIR,
    ),
    Fault(
        "a-way-is-as-long-as-it-is-far",
        "core/land/air_ways.py::ways_by_range",
        "along.take(on_point) + share * length.take(on_step)",
        "np.broadcast_to(wanted, x.shape)",
        LAND_AIR,
    ),
    Fault(
        "any-slope-is-led-over-the-land",
        "core/land/agreed.py::agrees",
        "return bool(shown.grade_pct >= FLAT_PCT and float(apart) <= ODD_DEG)",
        "return True",
        LAND_AIR,
    ),
    Fault(
        "settled-air-rolls-back-too",
        "core/land/lee.py::rolls_back",
        "& (np.asarray(stability) <= D)",
        "& (np.asarray(stability) <= D + 2)",
        (*LAND_AIR, "tests/reference/test_land_ways.py"),
    ),
    Fault(
        "a-lee-stands-above-the-owners-word",
        "core/judge/causes.py::causes_of_doubt",
        "because(IS_SWIRL, _swirls(stand, speed, air))",
        "because(IS_SWIRL, _swirls(stand, speed, air) & (cause != IS_LEE))",
        LAND_AIR,
    ),
    Fault(
        "hills-slow-where-they-should-speed",
        "core/land/linear_wind.py::along_itself",
        "np.where(gained < 0, 1.0 / times, times)",
        "np.where(gained < 0, 1.0 / times, 2.0 - times)",
        LAND_AIR,
    ),
    Fault(
        "the-suns-middle-clears-the-land",
        "core/land/shade.py::light_on",
        "np.radians(90.0 - zenith + SUN_HALF_DEG - land)",
        "np.radians(90.0 - zenith - 10.0 * SUN_HALF_DEG - land)",
        SHADE,
    ),
    Fault(
        "still-air-slides-at-once",
        "core/say/why/land.py::of_land",
        "None if cases[0] == 0 else int(seat.rows.start_s[cases[0]])",
        "None",
        OVER_LAND,
    ),
    Fault(
        "hills-quicken-the-wind-at-the-stand-alone",
        "core/land/air_ways.py::air_ways",
        "if change:",
        "if not change:",
        LAND_AIR,
    ),
    Fault(
        "hills-turn-wind-to-the-other-side",
        "core/land/air_ways.py::air_ways",
        "air += wind_mps * gain",
        "air += wind_mps * np.conj(gain)",
        LAND_AIR,
    ),
    Fault(
        "a-lee-has-one-steepness-everywhere",
        "core/sit/land/stand_land.py::StandLand.in_lee",
        "self.lee_deg if lee_deg is None else lee_deg",
        "LEE_DEG if lee_deg is None else lee_deg",
        LAND_AIR,
    ),
    Fault(
        "no-caution-behind-woods",
        "core/say/cautions.py::_of_the_land",
        'stand.cover != "timber"',
        'stand.cover == "timber"',
        LAND_AIR,
    ),
)
