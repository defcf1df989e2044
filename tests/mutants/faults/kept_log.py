"""Faults in what is kept in the log, and in what it teaches."""

from tests.mutants.placing import Fault

LEDGER = ("tests/core/log/test_ledger.py",)
OFFERS = ("tests/core/log/test_offers.py",)
IN_AND_OUT = ("tests/core/log/test_in_and_out.py",)
RESTED = ("tests/core/sit/test_rested.py",)

FAULTS = (
    Fault(
        "a-quote-of-one-s-own-is-lost",
        "core/harmless.py::whole_cell",
        """shown[:1] == "'" or FORMULA""",
        "FORMULA",
        IN_AND_OUT,
    ),
    Fault(
        "a-ground-is-overwritten-in-silence",
        "core/log/bringing_in.py::_bring_ground",
        "if not replace:",
        "if False:",
        IN_AND_OUT,
    ),
    Fault(
        "a-setting-is-overwritten",
        "core/log/look_into.py::look_into",
        "if not (home / n).exists()",
        "if True",
        IN_AND_OUT,
    ),
    Fault(
        "hidden-names-are-tame",
        "core/log/look_into.py::_tame",
        'return not any(part.startswith(".") for part in name.split("/"))',
        "return True",
        IN_AND_OUT,
    ),
    Fault(
        "a-turn-goes-the-other-way",
        "core/air/felt.py::felt_from_deg",
        "told + turn.turn_deg",
        "told - turn.turn_deg",
        OFFERS,
    ),
    Fault(
        "the-air-is-as-told-whatever-was-felt",
        "core/sit/stand_air.py::stand_air",
        "felt.toward(stand.turns, rows.toward, rows.weather.wind_from_deg)",
        "rows.toward",
        OFFERS,
    ),
    Fault(
        "a-turn-in-use-is-offered-again",
        "core/log/offers.py::_turns",
        "if not turn.offered or not apart:",
        "if not turn.offered:",
        OFFERS,
    ),
    Fault(
        "an-owner-s-light-swirls-are-widened",
        "core/log/offers.py::_swirls",
        "if known is not None and known.under_mph is not None:",
        "if False:",
        OFFERS,
    ),
    Fault(
        "each-sector-is-as-sure-as-the-stand",
        "core/keep/felt_air.py::turn_of",
        "(1.0 - SURE) / tried",
        "(1.0 - SURE)",
        ("tests/core/keep/test_what_the_log_teaches.py",),
    ),
    Fault(
        "what-was-judged-of-another-ground-serves",
        "core/log/judged_before.py::judged_before",
        "repr((ground, land, _rules()))",
        "repr((land, _rules()))",
        LEDGER,
    ),
    Fault(
        "rows-are-read-by-their-tree-alone",
        "core/keep/damaged/salvage.py::readable",
        "for row in rows_of_leaves(pages):",
        "for row in ():",
        ("tests/core/keep/test_journal.py",),
    ),
    Fault(
        "a-typed-wind-does-for-every-sit",
        "core/log/ledger.py::_table",
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
        "core/judge/order.py::_by_day",
        "part.rest_days if part else REST_DAYS",
        "REST_DAYS",
        RESTED,
    ),
    Fault(
        "a-shared-bed-is-forgotten",
        "core/judge/order.py::_shared_with",
        "for place in own[stand.id] for other in users[place]",
        "for place in () for other in users[place]",
        RESTED,
    ),
    Fault(
        "the-log-orders-nothing",
        "core/judge/order.py::factors",
        '"rest": rest,',
        '"rest": np.ones(len(sits)),',
        RESTED,
    ),
)
