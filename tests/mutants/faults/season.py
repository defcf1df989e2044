"""Faults in season."""

from tests.mutants.placing import Fault

COVERED = ("tests/core/season/test_left_over.py",)
SEASON = ("tests/whole/season/test_review.py",)
GAPS = ("tests/core/season/test_gaps.py",)

FAULTS = (
    Fault(
        "season-walk-air-from",
        "core/sit/tables/by_table.py::Walkers.__init__",
        "np.mod(weather.wind_from_deg[some] + 180.0, 360.0)",
        "np.mod(weather.wind_from_deg[some], 360.0)",
        SEASON,
    ),
    Fault(
        "season-rows-transposed",
        "core/sit/rows.py::JudgedRows.by_sit",
        "values.reshape(self.rows.minutes.shape[::-1]).T",
        "values.reshape(self.rows.minutes.shape)",
        SEASON,
    ),
    Fault(
        "watch-seat-fills-a-hole",
        "core/season/review.py::SitsReview.serves",
        "(self.group == GO) & ~np.stack([s.watch",
        "(self.group == GO) | np.stack([s.watch",
        GAPS,
    ),
    Fault(
        "a-walk-meets-no-wind-over-the-limit",
        "core/judge/windy.py::_bad_on_walk",
        "return total[last + 1] > total[first]",
        "return total[last + 1] < total[first]",
        ("tests/core/say/test_causes.py",),
    ),
    Fault(
        "only-stand-of-two",
        "core/season/gaps.py::only_stand_sits",
        "return (go & (go.sum(axis=1) == 1)",
        "return (go & (go.sum(axis=1) <= 2)",
        GAPS,
    ),
    Fault(
        "spots-together",
        "core/season/next_stand.py::_greedy",
        ">= APART_M\n",
        ">= 0.0 * APART_M\n",
        GAPS,
    ),
    Fault(
        "spots-lie-as-the-nearest-stand",
        "core/season/next_stand.py::_lies_by_heights",
        "if scene.heights is None:",
        "if scene.heights is not None:",
        ("tests/core/season/test_gaps.py::test_a_spot_lies_as_the_heights_have_it",),
    ),
    Fault(
        "visor-wrong-light",
        "core/season/visor.py::_choice",
        "clock.legal_end_s if clock.sit == EVENING else clock.legal_start_s",
        "clock.legal_start_s if clock.sit == EVENING else clock.legal_end_s",
        ("tests/core/show/test_visor.py",),
    ),
    Fault(
        "covered-watch-seat-serves",
        "core/season/left_over.py::why_none",
        "served = ((np.asarray(group) == GO) & counts)",
        "served = (np.asarray(group) == GO)",
        COVERED,
    ),
    Fault(
        "covered-light-air-told-as-hole",
        "core/season/left_over.py::why_none",
        "(cant & (out == BY_CALM)).any(axis=1)",
        "(cant & (out == BY_OTHER)).any(axis=1)",
        COVERED,
    ),
    Fault(
        "covered-way-in-no-hole",
        "core/season/left_over.py::why_none",
        "np.isin(out, (BY_SIT, BY_WAY))",
        "np.isin(out, (BY_SIT,))",
        COVERED,
    ),
    Fault(
        "season-knows-no-wind-too-strong",
        "core/judge/windy.py::_over",
        "for limit, bad in over.items()",
        "for limit, bad in over.items() if limit == GUST",
        ("tests/whole/season/test_review.py",),
    ),
    Fault(
        "corners-of-a-kind-merged-by-the-degree",
        "core/sit/tables/grid.py::merged",
        "key = (group * 360 + degree) * 3 + slot",
        "key = (group * 360 + degree) * 3",
        ("tests/core/sit/test_grid.py",),
    ),
    Fault(
        "days-without-sun-are-not-counted",
        "core/season/review.py::judge_season",
        "sunless = len(every) - len(dates)",
        "sunless = 0",
        ("tests/whole/season/test_review.py",),
    ),
)
