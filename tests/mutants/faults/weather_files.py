"""Faults in weather files."""

from tests.mutants.placing import Fault

HISTORY = ("tests/core/weather/files/test_history.py", "tests/traps/test_history_traps.py")

FAULTS = (
    Fault(
        "hour-ending-not-moved",
        "core/weather/files/typical.py::typical_hours",
        "picked.append(index * 24 + np.arange(24))",
        "picked.append(index * 24 + np.arange(24) - 1)",
        ("tests/core/weather/test_forecasts.py",),
    ),
    Fault(
        "history-stations-mixed",
        "core/weather/files/history.py::_refuse_strangers",
        "if other.station != named[0].station:",
        "if other.station is None:",
        HISTORY,
    ),
)
