"""Faults in season."""

from tests.mutants.placing import Fault

COVERED = ("tests/core/season/test_left_over.py",)
SEASON = ("tests/core/season/test_review.py",)
GAPS = ("tests/core/season/test_gaps.py",)

FAULTS = (
    Fault(
        "season-walk-air-from",
        "core/season/walks.py::_walkers",
        "np.mod(wind + 180.0, 360.0), half_width",
        "np.mod(wind, 360.0), half_width",
        SEASON,
    ),
    Fault(
        "season-held-milder",
        "core/season/hours.py::_counted",
        "np.where(held, verdict, milder(verdict))",
        "np.where(held, milder(verdict), verdict)",
        SEASON,
    ),
    Fault(
        "season-not-before-forgotten",
        "core/season/one_stand.py::seats_s",
        "waits = (judged.last_wrong >= 0) & ~judged.empty",
        "waits = (judged.last_wrong < 0) & ~judged.empty",
        SEASON,
    ),
    Fault(
        "season-clouds-alike",
        "core/season/slope_wind.py::alike_hours",
        "row_sun * len(clouds) + row_cloud",
        "row_sun * len(clouds) + row_cloud * 0",
        SEASON,
    ),
    Fault(
        "season-rows-transposed",
        "core/season/rows.py::SeasonRows.by_sit",
        "values.reshape(self.window.shape[::-1]).T",
        "values.reshape(self.window.shape)",
        SEASON,
    ),
    Fault(
        "watch-seat-fills-a-hole",
        "core/season/review.py::HalfAnswer.serves",
        "(self.group == GO) & ~np.stack([s.watch",
        "(self.group == GO) | np.stack([s.watch",
        GAPS,
    ),
    Fault(
        "season-windy-forgotten",
        "core/season/one_stand.py::_bad_on_walk",
        "return total[last + 1] > total[first]",
        "return total[last + 1] < total[first]",
        SEASON,
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
        "core/season/one_stand.py::_too_windy",
        "bad = np.any(list(over_limits(stand, half.rows.hours.weather).values()), axis=0)",
        'bad = over_limits(stand, half.rows.hours.weather)["gust"]',
        ("tests/core/season/test_review.py",),
    ),
    Fault(
        "corners-of-a-kind-merged-by-the-degree",
        "core/season/strength_table.py::merged",
        "key = (group * 360 + degree) * 3 + slot",
        "key = (group * 360 + degree) * 3",
        ("tests/core/season/test_strength_table.py",),
    ),
)
