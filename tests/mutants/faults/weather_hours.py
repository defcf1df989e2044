"""Faults in weather hours."""

from tests.mutants.placing import Fault

TABLES = ("tests/core/weather/tables/test_cells.py", "tests/traps/test_forecast_traps.py")
IDLE = ("tests/core/test_answers_not_needed.py",)
CLOCKS = "tests/core/weather/clocks"
ZONES, LABELS, DATES = (
    (f"{CLOCKS}/{name}.py",) for name in ("test_zones", "test_hour_labels", "test_dates")
)
STEADY = ("tests/core/weather/test_steady.py",)

FAULTS = (
    Fault(
        "typed-knots-for-mph",
        "core/weather/entry.py::UNITS_MPS",
        '"mph": MPS_PER_MPH,',
        '"mph": MPS_PER_KNOT,',
        ("tests/core/weather/test_entry.py",),
    ),
    Fault(
        "stale-by-any-hour",
        "core/weather/age.py::stale_note",
        "if hours_ahead(hours, now_s):",
        "if hours_ahead(hours, 0.0):",
        TABLES,
    ),
    Fault(
        "swing-by-half",
        "core/weather/steady.py::steadiness",
        "swing = float(np.max(separation_deg(wind, mean)))",
        "swing = float(np.mean(separation_deg(wind, mean)))",
        STEADY,
    ),
    Fault(
        "still-hours-left-out-of-steady",
        "core/weather/steady.py::steadiness",
        "/ int(known.sum())\n    if share",
        "/ int(directed.sum())\n    if share",
        STEADY,
    ),
    Fault(
        "answers-idle-untold",
        "core/weather/answers.py::read_with",
        "return hours, list(idle)",
        "return hours, []",
        IDLE,
    ),
    Fault(
        "answers-used-told-as-idle",
        "core/weather/answers.py::read_with",
        "idle.pop(question.asks)",
        "idle[question.asks]",
        IDLE,
    ),
    Fault(
        "answers-column-of-table-idle",
        "core/weather/answers.py::read_with",
        "if hours.format == TABLE_FORMAT:",
        "if False:",
        IDLE,
    ),
    Fault(
        "age-minutes-as-hours",
        "core/weather/age.py::ago_words",
        "if minutes < MINUTES_SHOWN:",
        "if minutes < 0:",
        STEADY,
    ),
    Fault(
        "row-found-by-its-start-alone",
        "core/weather/hours.py::Hours.holds",
        "return (since >= 0) & (since < ROW_S)",
        "return since == 0",
        ZONES,
    ),
    Fault(
        "a-given-wind-outlives-its-sit",
        "core/weather/given.py::given_now",
        "given.given_s <= now_s < given.until_s",
        "given.given_s <= now_s",
        ("tests/pages/test_home.py",),
    ),
    Fault(
        "kept-file-answers-lost",
        "core/weather/given_file.py::_read",
        'answers = Answers(**told["answers"], columns=columns)',
        "answers = Answers(columns=columns)",
        ("tests/pages/test_home_file.py",),
    ),
    Fault(
        "kept-file-for-ever",
        "core/weather/given_file.py::file_now",
        "given.given_s <= now_s < given.until_s",
        "given.given_s <= now_s",
        ("tests/pages/test_home_file.py",),
    ),
)
