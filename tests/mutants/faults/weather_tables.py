"""Faults in weather tables."""

from tests.mutants.placing import Fault

TABLES = ("tests/core/weather/tables/test_cells.py", "tests/traps/test_forecast_traps.py")
CLOCKS = "tests/core/weather/clocks"
ZONES, LABELS, DATES = (
    (f"{CLOCKS}/{name}.py",) for name in ("test_zones", "test_hour_labels", "test_dates")
)
DIRECTIONS, SPEEDS, COLUMNS = (
    (f"tests/core/weather/tables/{name}.py",)
    for name in ("test_directions", "test_speed_units", "test_time_columns")
)
NAMED = ("tests/core/weather/tables/test_named_columns.py",)

FAULTS = (
    Fault(
        "towards-is-from",
        "core/weather/tables/directions.py::read_directions",
        "(wind + 180.0) % 360.0, wind)",
        "wind % 360.0, wind)",
        TABLES,
    ),
    Fault(
        "gust-in-speed-unit",
        "core/weather/tables/winds.py::_read_gusts",
        "own = SPEED_UNITS_MPS[column.unit] if column.unit else math.nan",
        "own = math.nan",
        TABLES,
    ),
    Fault(
        "unit-guessed-as-mph",
        "core/weather/tables/speed_units.py::row_factors",
        "    if not needed.any():\n        return factor",
        "    if True:\n        return np.where(np.isnan(factor), _factor('mph'), factor)",
        TABLES,
    ),
    Fault(
        "eighty-metres-as-ten",
        "core/weather/tables/columns.py::STANDARD_M",
        "STANDARD_M = (9.0, 11.0)",
        "STANDARD_M = (9.0, 110.0)",
        TABLES,
    ),
    Fault(
        "labels-always-sixteen",
        "core/weather/tables/cells.py::half_width_of_labels",
        "if any(len(label) == 3 for label in labels) else HALF_WIDTH_8_DEG",
        "if labels else HALF_WIDTH_8_DEG",
        TABLES,
    ),
    Fault(
        "metar-span-left-out",
        "core/weather/tables/metar.py::read_metar",
        "half = max(half, *ends)",
        "half = min(half, *ends)",
        TABLES,
    ),
    Fault(
        "columns-known-one-kept-too",
        "core/weather/tables/named_columns.py::_settled",
        'gone = column.role in {ROLES[w] for w in given - {"time"}}',
        "gone = False",
        NAMED,
    ),
    Fault(
        "columns-known-date-kept-too",
        "core/weather/tables/named_columns.py::_settled",
        'if "time" in given and column.role in DATES:',
        "if False:",
        NAMED,
    ),
    Fault(
        "columns-eighths-as-percent",
        "core/weather/tables/named_columns.py::_refuse_other_scale",
        "if 0 < highest <= LARGEST_OTHER_SCALE:",
        "if 0 < highest <= 1:",
        NAMED,
    ),
    Fault(
        "columns-prose-is-asked-about",
        "core/weather/tables/grid_text.py::_could_be_wind",
        "return digits >= 2 and dated",
        "return dated",
        NAMED,
    ),
    Fault(
        "columns-first-hour-as-header",
        "core/weather/tables/grid_text.py::_by_shape",
        "TableHead(block[0], block[0] + named, separator",
        "TableHead(block[0], block[0] + 1, separator",
        NAMED,
    ),
    Fault(
        "columns-wind-guessed-as-both",
        "core/weather/tables/columns.py::_settle_wind",
        "any(read_number(c) is None for c in cells)",
        "cells",
        NAMED,
    ),
    Fault(
        "columns-two-speeds-first-taken",
        "core/weather/tables/columns.py::_only",
        "if len(at_10) > 1 and role in",
        "if len(at_10) > 2 and role in",
        NAMED,
    ),
    Fault(
        "second-table-read-as-first",
        "core/weather/tables/grid_text.py::_refuse_second",
        "if words or (roles & TIME_ROLES and roles & WIND_ROLES):",
        "if words and not roles:",
        TABLES,
    ),
    Fault(
        "second-table-of-unknown-names",
        "core/weather/tables/grid_text.py::_refuse_second",
        "if words or (roles & TIME_ROLES and roles & WIND_ROLES):",
        "if roles & TIME_ROLES and roles & WIND_ROLES:",
        TABLES,
    ),
    Fault(
        "clock-beside-date-as-whole",
        "core/weather/tables/time_columns.py::_roles",
        "roles.clocks.append(column)",
        "roles.whole.append(column)",
        TABLES,
    ),
    Fault(
        "range-says-toward",
        "core/weather/tables/senses.py::_plain_words",
        'return _POINTLESS.sub(" ", " . ".join(parts))',
        'return " . ".join(parts)',
        DIRECTIONS,
    ),
    Fault(
        "doubtful-direction-is-from",
        "core/weather/tables/senses.py::told_sense",
        "if _DOUBT.search(words) or (_BLOWS.search(words) and not comes):",
        "if False:",
        DIRECTIONS,
    ),
    Fault(
        "small-directions-are-degrees",
        "core/weather/tables/angle_units.py::settled_unit",
        "    if answer is None:\n        raise _ask",
        "    if answer is None:\n        return 'deg', ''\n        raise _ask",
        DIRECTIONS,
    ),
    Fault(
        "magnetic-as-true",
        "core/weather/tables/angle_units.py::refuse_magnetic",
        "if _MAGNETIC.search(text):",
        "if False:",
        DIRECTIONS,
    ),
    Fault(
        "letters-of-one-place-everywhere",
        "core/weather/tables/instants.py::_placed",
        "if not np.isnan(offsets).any():",
        "if True:",
        ZONES,
    ),
    Fault(
        "hours-1-to-24-are-starts",
        "core/weather/tables/instants.py::_label",
        "if len(said) > 1 or times.at_24:",
        "if len(said) > 1:",
        LABELS,
    ),
    Fault(
        "am-and-pm-ignored",
        "core/weather/tables/time_columns.py::_halved",
        'return f"{cell} {half}m"',
        "return cell",
        LABELS,
    ),
    Fault(
        "constant-time-of-a-run",
        "core/weather/tables/time_columns.py::time_cells",
        "found = moving or found",
        "found = found or moving",
        COLUMNS,
    ),
    Fault(
        "headline-unit-of-rows",
        "core/weather/tables/speed_units.py::_ABOVE",
        r'r"\s*(?:in\b|[:=(,\[])\s*" + _UNIT',
        r'r"[^\n]*?" + _UNIT',
        SPEEDS,
    ),
    Fault(
        "row-unit-over-header-unsaid",
        "core/weather/tables/speed_units.py::row_factors",
        "if not lacking and (len(said) < 2 or not (told or above)):",
        "if not lacking:",
        SPEEDS,
    ),
    Fault(
        "header-of-any-length",
        "core/weather/tables/grid_text.py::_columns",
        "if len(lines[at]) > LONGEST_HEADER:",
        "if False:",
        TABLES,
    ),
    Fault(
        "unknown-words-unsaid",
        "core/weather/tables/columns.py::taken_as",
        "word not in named and odd_words(chosen[role].name)",
        "False",
        DIRECTIONS,
    ),
    Fault(
        "reports-without-zone-are-utc",
        "core/weather/readers/asos.py::read",
        "told = _told_zone(data, where)",
        'told = _told_zone(data, where) or "UTC"',
        ("tests/traps/test_history_traps.py",),
    ),
    Fault(
        "mistyped-year-kept",
        "core/weather/tables/instants.py::_far",
        "np.diff(at_s[order]) > FAR_S",
        "np.diff(at_s[order]) > 10 * FAR_S",
        LABELS,
    ),
    Fault(
        "clock-of-12-hours-read",
        "core/weather/clocks/times.py::_refuse_half_clock",
        "if (steps * forward == ROW_S - HALF_DAY_S).any():",
        "if False:",
        LABELS,
    ),
    Fault(
        "two-zones-first-taken",
        "core/weather/tables/instants.py::_common",
        "if named and OPEN not in said and _agree(said, clock_s):",
        "if named and OPEN not in said:",
        ZONES,
    ),
)
