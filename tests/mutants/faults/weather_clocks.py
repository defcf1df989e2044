"""Faults in weather clocks."""

from tests.mutants.placing import Fault

TABLES = ("tests/core/weather/tables/test_cells.py", "tests/traps/test_forecast_traps.py")
CLOCKS = "tests/core/weather/clocks"
ZONES, LABELS, DATES = (
    (f"{CLOCKS}/{name}.py",) for name in ("test_zones", "test_hour_labels", "test_dates")
)

FAULTS = (
    Fault(
        "day-first-turned",
        "core/weather/clocks/stamps.py::date_of",
        "elif stamp.mark and order == DMY:",
        "elif stamp.mark and order == MDY:",
        TABLES,
    ),
    Fault(
        "noon-is-midnight",
        "core/weather/clocks/stamps.py::_clock",
        "hour = hour % 12 +",
        "hour = hour +",
        TABLES,
    ),
    Fault(
        "end-of-hour-as-zone",
        "core/weather/clocks/times.py::_refuse_spans",
        "if len(told) > 1 and len({sums",
        "if False and len({sums",
        TABLES,
    ),
    Fault(
        "offset-beside-utc-is-utc",
        "core/weather/clocks/zones.py::told_zone",
        "if places or offsets:",
        "if places:",
        ZONES,
    ),
    Fault(
        "end-of-hour-not-moved",
        "core/weather/clocks/hour_labels.py::moved_back",
        "if label not in (MIDDLE, END):",
        "if label not in (MIDDLE,):",
        LABELS,
    ),
    Fault(
        "short-year-last-unasked",
        "core/weather/clocks/date_order.py::_year_first",
        "    raise _ask_year(",
        "    return False, ()\n    raise _ask_year(",
        DATES,
    ),
    Fault(
        "letters-anywhere-tell-the-order-of-dates",
        "core/weather/clocks/date_order.py::_GAP",
        '[^a-z0-9]{0,3}"',
        '.*?"',
        ("tests/core/weather/clocks/test_dates.py",),
    ),
)
