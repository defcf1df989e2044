"""Faults in weather reading."""

from tests.mutants.placing import Fault

HISTORY = ("tests/core/weather/files/test_history.py", "tests/traps/test_history_traps.py")
TABLES = ("tests/core/weather/tables/test_cells.py", "tests/traps/test_forecast_traps.py")
CLOCKS = "tests/core/weather/clocks"
ZONES, LABELS, DATES, LOCAL_WORDS = (
    (f"{CLOCKS}/{name}.py",)
    for name in ("test_zones", "test_hour_labels", "test_dates", "test_local_words")
)

FAULTS = (
    Fault(
        "history-hour-not-nearest",
        "core/weather/reading/observations.py::_one_an_hour",
        "hour = (at - phase + ROW_S // 2) // ROW_S * ROW_S + phase",
        "hour = (at - phase) // ROW_S * ROW_S + phase",
        HISTORY,
    ),
    Fault(
        "history-special-like-routine",
        "core/weather/reading/observations.py::_one_an_hour",
        "np.lexsort((np.abs(at - hour), reports.special, windless, hour))",
        "np.lexsort((np.abs(at - hour), windless, hour))",
        HISTORY,
    ),
    Fault(
        "history-0-with-wind-is-north",
        "core/weather/reading/observations.py::without_absurd",
        "(reports.wind_from_deg == 0) & (speed > 0) & reports.north_is_360",
        "(reports.wind_from_deg == 0) & (speed > 0) & False",
        HISTORY,
    ),
    Fault(
        "clock-later-hour-earlier",
        "core/weather/reading/local_time.py::_repeated",
        "later[rows[back[0] + 1 :]] = True",
        "later[rows[: back[0] + 1]] = True",
        TABLES,
    ),
    Fault(
        "clock-untold-kept",
        "core/weather/reading/local_time.py::_repeated",
        "if mixed or not len(back):\n            untold[rows] = True",
        "if mixed or not len(back):\n            untold[rows] = False",
        TABLES,
    ),
    Fault(
        "skipped-hour-moved",
        "core/weather/reading/local_time.py::to_instants",
        "if (first < second).any():",
        "if (first < first).any():",
        TABLES,
    ),
    Fault(
        "hour-ending-kept",
        "core/weather/reading/hour_ending.py::starts_of",
        "dtype=np.int64) - 1) * ROW_S",
        "dtype=np.int64) - 0) * ROW_S",
        ("tests/core/weather/tables/test_encodings.py",),
    ),
    Fault(
        "zone-of-no-clock",
        "core/weather/reading/hour_ending.py::zone_offset_s",
        "if not -FARTHEST_ZONE_H <= offset_h <= FARTHEST_ZONE_H:",
        "if False:",
        HISTORY,
    ),
    Fault(
        "rows-on-utc-hours",
        "core/weather/reading/observations.py::_phase_s",
        "return int(phases[most]) if usual else 0",
        "return 0",
        ZONES,
    ),
    Fault(
        "rows-of-one-minute-only",
        "core/weather/reading/observations.py::_phases_s",
        "np.where(apart, own, usual)[back]",
        "np.full(len(at_s), usual, np.int64)",
        LOCAL_WORDS,
    ),
    Fault(
        "evening-shown-twice-once",
        "core/weather/reading/local_time.py::offsets_s",
        "int(d + 1) * DAY_S - 1, zone, 1)",
        "int(d + 1) * DAY_S - 1, zone, 0)",
        LOCAL_WORDS,
    ),
    Fault(
        "local-above-utc-unasked",
        "core/weather/clocks/zones.py::one_zone",
        'if "UTC" not in said else {OPEN}',
        'if "UTC" not in said else {"UTC"}',
        LOCAL_WORDS,
    ),
    Fault(
        "local-agrees-with-utc",
        "core/weather/tables/instants.py::_agree",
        'return "UTC" not in zones',
        "return True",
        LOCAL_WORDS,
    ),
    Fault(
        "date-that-stays-kept",
        "core/weather/clocks/times.py::_refuse_same_date",
        "if not len(wraps):",
        "if True:",
        LOCAL_WORDS,
    ),
    Fault(
        "weekday-unheard",
        "core/weather/clocks/date_order.py::_by_weekday",
        "if naming and len(fitting) == 1",
        "if False",
        DATES,
    ),
)
