"""Faults in what is kept in the log, and in what it teaches."""

from tests.mutants.placing import Fault

LEDGER = ("tests/core/log/test_ledger.py",)
RESTED = ("tests/core/sit/test_rested.py",)

FAULTS = (
    Fault(
        "a-typed-wind-does-for-every-sit",
        "core/log/ledger.py::_tables",
        "if t and not t.held and",
        "if t and",
        LEDGER,
    ),
    Fault(
        "plans-were-sat",
        "core/log/stays.py::stays_of",
        'and not e.get("planned")',
        "",
        LEDGER,
    ),
    Fault(
        "the-walk-out-comes-before-the-end",
        "core/log/ledger.py::_walked",
        "start_s = sits.clock.end_s[which]",
        "start_s = sits.clock.start_s[which]",
        LEDGER,
    ),
    Fault(
        "the-sit-itself-wears-its-stand",
        "core/keep/rest.py::_earlier",
        'return evening and (entry.kind != SIT or entry.get("sit") == "morning")',
        "return True",
        RESTED,
    ),
    Fault(
        "rest-is-that-of-the-first-day",
        "core/sit/order.py::_by_day",
        "part.rest_days if part else REST_DAYS",
        "REST_DAYS",
        RESTED,
    ),
    Fault(
        "a-shared-bed-is-forgotten",
        "core/sit/order.py::_shared_with",
        "for place in own[stand.id] for other in users[place]",
        "for place in () for other in users[place]",
        RESTED,
    ),
    Fault(
        "the-log-orders-nothing",
        "core/sit/order.py::_scores",
        " * rest",
        "",
        RESTED,
    ),
)
