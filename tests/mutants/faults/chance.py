"""Faults in how likely a sit holds."""

from tests.mutants.placing import Fault

SHARES = ("tests/core/chance/test_shares.py",)
LEARNING = ("tests/core/chance/test_learning.py",)
LAW = ("tests/core/chance/test_law.py",)
RUNS = ("tests/core/chance/test_around_runs.py",)
RUNS_READ = ("tests/core/weather/services/test_runs.py",)

FAULTS = (
    Fault(
        "chance-no-bad-days",
        "core/chance/law.py::tails",
        "np.sqrt(TAIL_FREEDOM / (squares[:n] ** 2).sum(axis=1))",
        "np.ones(n)",
        LAW,
    ),
    Fault(
        "chance-errors-too-small",
        "core/chance/law.py::wander",
        "np.sqrt(QUICK_PART) * parts[..., 0]",
        "QUICK_PART * parts[..., 0]",
        LAW,
    ),
    Fault(
        "chance-lost-before-it-is-judged",
        "core/judge/exposure.py::stand_hours",
        "~first & ~own.of_every_row(lost)",
        "~first & own.of_every_row(lost)",
        SHARES,
    ),
    Fault(
        "runs-where-they-lie",
        "core/weather/model_runs.py::ModelRuns.moved_onto",
        "+ here - here.mean(axis=0)",
        "* 0.0 + here",
        RUNS_READ,
    ),
    Fault(
        "runs-are-certain",
        "core/chance/draws.py::_winds",
        "q, n = OF_RUNS_Q * q, len(speed)",
        "q, n = 0.0 * q, len(speed)",
        RUNS,
    ),
    Fault(
        "runs-too-short-are-taken",
        "core/chance/shares.py::_has_runs",
        "misses.runs.tell(start_s[weather.state != MISSING]).all()",
        "True",
        RUNS,
    ),
    Fault(
        "runs-of-last-week",
        "core/weather/services/runs.py::kept_runs",
        "<= GOOD_FOR_S",
        "<= 100 * GOOD_FOR_S",
        RUNS_READ,
    ),
    Fault(
        "chance-lead-from-now",
        "core/chance/shares.py::issued_s",
        "known = (weather.updated_s, weather.fetched_s, now_s)",
        "known = (now_s,)",
        SHARES,
    ),
    Fault(
        "chance-toss-ups-first",
        "core/chance/shares.py::ordered",
        "STANDINGS.index(standing(shares[0]))",
        "-STANDINGS.index(standing(shares[0]))",
        SHARES,
    ),
    Fault(
        "chance-too-far-is-told",
        "core/chance/shares.py::why_none",
        "lead_h(answer, now_s) <= FARTHEST_LEAD_H",
        "True",
        SHARES,
    ),
    Fault(
        "chance-draws-as-vague-as-the-forecast",
        "core/chance/draws.py::_in_winds",
        "np.where(moving, HALF_WIDTH_DEG, np.nan)",
        "np.where(moving, 22.5, np.nan)",
        SHARES,
    ),
    Fault(
        "chance-variable-is-drawn",
        "core/chance/draws.py::_in_winds",
        "known = (weather.state == DIRECTED) | (weather.state == CALM)",
        "known = np.isfinite(weather.speed_mps)",
        SHARES,
    ),
    Fault(
        "plan-b-of-all-draws",
        "core/chance/plan_b.py::plan_b",
        "(first != GO) & (other == GO)",
        "other == GO",
        SHARES,
    ),
    Fault(
        "chance-kept-table-next-way",
        "core/sit/tables/by_kept_table.py::States.of",
        "np.rint(np.asarray(air_to_deg) * (1.0 / STEP_DEG))",
        "1 + np.rint(np.asarray(air_to_deg) * (1.0 / STEP_DEG))",
        SHARES,
    ),
    Fault(
        "chance-hours-forget",
        "core/chance/law.py::wander",
        "keeps = np.exp(-gap_h[i] / np.array([QUICK_H, SLOW_H]))",
        "keeps = np.zeros(2)",
        LAW,
    ),
    Fault(
        "misses-oldest-forecast",
        "core/chance/own_pairs.py::from_reports",
        "sorted(kept, key=lambda each: each.fetched_s)",
        "sorted(kept, key=lambda each: -each.fetched_s)",
        LEARNING,
    ),
    Fault(
        "count-blank-is-held",
        "core/chance/count.py::own_count",
        "said is not None and entry.id in felt",
        "said is not None",
        LEARNING,
    ),
)
