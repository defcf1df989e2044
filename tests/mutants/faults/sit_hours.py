"""Faults in sit hours."""

from tests.mutants.placing import Fault

ANCHORS = ("tests/core/test_anchors.py",)
CLOCK = ("tests/core/sit/test_clock.py",)
CAUSES = ("tests/core/say/test_causes.py",)
STILL = ("tests/core/sit/test_still_air.py",)
SEASON = ("tests/whole/season/test_review.py",)
MINUTES = ("tests/core/sit/test_minutes.py",)
PIECES = ("tests/core/sit/test_pieces.py",)

FAULTS = (
    Fault(
        "sit-ends-swapped",
        "core/sit/prepare.py::Sits.ends_at",
        "FROM_FOOD if clock.sit == MORNING else FROM_BEDDING",
        "FROM_BEDDING if clock.sit == MORNING else FROM_FOOD",
        ANCHORS,
    ),
    Fault(
        "legal-light-rounded-outwards",
        "core/sit/dates.py::legal_light_s",
        "start = np.ceil((",
        "start = np.floor((",
        ANCHORS,
    ),
    Fault(
        "settle-after-light",
        "core/sit/clock.py::_pieces",
        "seated = start - settle_s",
        "seated = start + settle_s",
        ANCHORS,
    ),
    Fault(
        "minute-by-its-start",
        "core/sit/minutes.py::RowsIn._before",
        "/ SECONDS_PER_MINUTE - 0.5)",
        "/ SECONDS_PER_MINUTE)",
        MINUTES,
    ),
    Fault(
        "short-day-weighed-twice",
        "core/sit/minutes.py::RowsIn.weight",
        "np.minimum(minutes, early + late)",
        "(early + late)",
        MINUTES,
    ),
    Fault(
        "the-lesser-piece",
        "core/sit/clock.py::_pieces",
        "pieces[weights.index(max(weights))]",
        "pieces[weights.index(min(weights))]",
        CLOCK,
    ),
    Fault(
        "the-later-of-equal-pieces",
        "core/sit/clock.py::_pieces",
        "pieces[weights.index(max(weights))]",
        "pieces[::-1][weights[::-1].index(max(weights))]",
        CLOCK,
    ),
    Fault(
        "seated-in-closed-hours",
        "core/sit/clock.py::_pieces",
        "max(start[i] - settle_s, opened[i])",
        "start[i] - settle_s",
        CLOCK,
    ),
    Fault(
        "a-season-never-wraps",
        "core/sit/dates.py::covers",
        "else day >= first or day <= last",
        "else day >= first and day <= last",
        CLOCK,
    ),
    Fault(
        "deer-turn-at-sunset",
        "core/sit/prepare.py::Sits.ends_at",
        "np.asarray(time_s) >= clock.noon_s[sit]",
        "np.asarray(time_s) >= clock.sunset_s[sit]",
        CLOCK,
    ),
    Fault(
        "two-hours-of-last-light",
        "core/sit/minutes.py::PRIME_MORNING_S",
        "PRIME_MORNING_S, PRIME_EVENING_S = 7200, 5400",
        "PRIME_MORNING_S, PRIME_EVENING_S = 7200, 7200",
        CLOCK,
    ),
    Fault(
        "strong-wind-on-the-ground-too",
        "core/judge/limits.py::over_limits",
        "(mean_mps >= STRONG_WIND_MPS) & (stand.height_ft > 0)",
        "mean_mps >= STRONG_WIND_MPS",
        CAUSES,
    ),
    Fault(
        "a-mean-wind-is-no-gust",
        "core/judge/limits.py::over_limits",
        "top_mps = np.fmax(np.fmax(weather.gust_mps, weather.speed_high_mps), mean_mps)",
        "top_mps = np.nan_to_num(weather.gust_mps)",
        CAUSES,
    ),
    Fault(
        "a-storm-is-sat-out-on-the-ground",
        "core/judge/limits.py::over_limits",
        "STORM: top_mps >= STORM_MPS",
        "STORM: mean_mps > 1e9",
        CAUSES,
    ),
    Fault(
        "a-slope-turns-at-its-ends-only",
        "core/judge/turn.py::_first_minute",
        "return high",
        "return low",
        ("tests/whole/judge/test_rows_second_opinion.py",),
    ),
    Fault(
        "hour-with-nothing-to-turn-cut",
        "core/sit/minutes.py::cut_rows",
        "(cuts < end_s) & ~np.take_along_axis(uncut, row, axis=1)",
        "(cuts < end_s)",
        PIECES,
    ),
    Fault(
        "piece-after-called-before",
        "core/sit/minutes.py::cut_rows",
        "span.end_s[:, None] <= start_s[..., None]",
        "span.end_s[:, None] < start_s[..., None]",
        PIECES,
    ),
    Fault(
        "all-zones-have-whole-hours",
        "core/sit/rows.py::origin_s",
        "0 if first.held else first.phase_s",
        "0",
        ("tests/core/sit/test_half_hour_zones.py",),
    ),
    Fault(
        "sit-on-rows-of-another-minute",
        "core/sit/prepare.py::prepare_sit",
        "weather = weather.of_one_phase(int(noon.timestamp()))",
        "weather = weather.of_one_phase(0)",
        ("tests/core/sit/test_half_hour_zones.py",),
    ),
)
