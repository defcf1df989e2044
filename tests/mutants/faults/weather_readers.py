"""Faults in weather readers."""

from tests.mutants.placing import Fault

HISTORY = ("tests/core/weather/files/test_history.py", "tests/traps/test_history_traps.py")
TABLES = ("tests/core/weather/tables/test_cells.py", "tests/traps/test_forecast_traps.py")

FAULTS = (
    Fault(
        "period-one-end-of-a-range",
        "core/weather/readers/nws_periods.py::_period",
        '"speed_mps": (low + high) / 2,',
        '"speed_mps": high,',
        TABLES,
    ),
    Fault(
        "period-long-block-as-an-hour",
        "core/weather/readers/nws_periods.py::_period",
        '"block_h": float(len(whole_hours(begin, end))),',
        '"block_h": 1.0,',
        TABLES,
    ),
    Fault(
        "meteo-offset-added",
        "core/weather/readers/open_meteo.py::_from_local",
        "[s - offset if b else s",
        "[s + offset if b else s",
        TABLES,
    ),
    Fault(
        "isd-lite-not-in-tenths",
        "core/weather/readers/isd_lite.py::read",
        "speed_mps=values[:, 8] / 10",
        "speed_mps=values[:, 8]",
        HISTORY,
    ),
    Fault(
        "asos-knots-as-mps",
        "core/weather/readers/asos.py::read",
        'speed_mps=columns["sknt"] * MPS_PER_KNOT',
        'speed_mps=columns["sknt"] * 1.0',
        HISTORY,
    ),
    Fault(
        "global-hourly-quality-7-kept",
        "core/weather/readers/global_hourly.py::ERRONEOUS",
        'ERRONEOUS = (ord("3"), ord("7"))',
        'ERRONEOUS = (ord("3"),)',
        HISTORY,
    ),
)
