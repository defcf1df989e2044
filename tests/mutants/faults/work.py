"""Faults in the work of the year."""

from tests.mutants.placing import Fault

DUE = ("tests/core/chores/test_due.py",)
WORTH = ("tests/core/chores/test_worth.py",)
JOBS = ("tests/core/chores/test_jobs.py",)
VISIT = ("tests/core/chores/test_visit.py",)
SPRAY = ("tests/core/chores/test_spraying.py",)
LEE = ("tests/core/chores/test_lee.py",)
ROUND = ("tests/core/chores/test_rounds.py",)
WALKS = ("tests/core/chores/test_walking.py",)
GROWN = ("tests/core/chores/test_degree_days.py", "tests/reference/test_degree_days.py")
STORY = ("tests/core/chores/test_story.py",)
CALENDAR = ("tests/core/chores/test_calendar.py",)

FAULTS = (
    Fault(
        "early-work-counts-for-the-last-window",
        "core/chores/windows.py::_early",
        "// 2 * DAY",
        "* 0 * DAY",
        DUE,
    ),
    Fault(
        "a-date-that-has-not-been-is-believed",
        "core/chores/last_done.py::last_done",
        "if day <= today]",
        "if day]",
        DUE,
    ),
    Fault(
        "the-saw-rests-only-till-the-first-season-ends",
        "core/chores/windows.py::season_end",
        "return max(ends)",
        "return ends[1]",
        DUE,
    ),
    Fault(
        "a-missed-window-hides-the-open-one",
        "core/chores/windows.py::turn",
        "year += 1",
        "year += 0 * year + 2",
        DUE,
    ),
    Fault(
        "a-calendar-entry-ends-a-day-early",
        "core/say/work/calendar.py::_event",
        "last + datetime.timedelta(days=1)",
        "last + datetime.timedelta(days=0)",
        CALENDAR,
    ),
    Fault(
        "a-calendar-entry-is-known-by-its-day",
        "core/say/work/calendar.py::uid_of",
        "{chore.key}",
        "{chore.key}{chore.opens}",
        CALENDAR,
    ),
    Fault(
        "food-in-range-keeps-mornings-too",
        "core/chores/worth.py::_without_trail",
        'h.sit == "evening"',
        "True",
        WORTH,
    ),
    Fault(
        "seasons-are-summed",
        "core/chores/worth.py::_lost",
        "1 if answer.one_year else len(answer.years)",
        "1",
        WORTH,
    ),
    Fault(
        "a-moved-stand-stays-on-the-list",
        "core/chores/jobs.py::shown_done",
        "> MOVED_M",
        "> 60 * MOVED_M",
        JOBS,
    ),
    Fault(
        "a-visit-is-judged-by-its-first-place",
        "core/chores/going.py::_work",
        "np.linspace(0.0, 1.0, n)",
        "np.linspace(1.0, 1.0, n)",
        VISIT,
    ),
    Fault(
        "degree-days-are-told-of-any-days",
        "core/chores/degree_days.py::MOST_MISSING_FRAC",
        "0.05",
        "1.0",
        GROWN,
    ),
    Fault(
        "a-year-under-way-is-whole-once-kept",
        "core/weather/services/whole_years.py::_is_whole",
        "bool(kept.start_s[-1] >= end)",
        "True",
        ("tests/core/weather/services/test_whole_years.py",),
    ),
    Fault(
        "both-halves-of-a-round-go-past-the-same-places",
        "core/chores/shortest_round.py::lengths_from",
        "halves[1][::-1]",
        "halves[1]",
        ROUND,
    ),
    Fault(
        "inches-of-rain-are-millimetres",
        "core/weather/readers/delimited.py::_sky",
        "numbers = numbers * MM_PER_INCH",
        "pass",
        ("tests/core/weather/tables/test_rain_units.py",),
    ),
    Fault(
        "places-not-held-count-as-held-on-a-visit",
        "core/chores/visit.py::_at_work",
        "for one in (held, ~held)",
        "for one in (held | ~held, ~held)",
        VISIT,
    ),
    Fault(
        "places-not-held-name-the-walk-of-a-visit",
        "core/chores/visit.py::_walk",
        "for held in (True, False))",
        "for held in (False, True))",
        VISIT,
    ),
    Fault(
        "a-walk-in-is-begun-when-one-is-there",
        "core/chores/visit.py::judge_visit",
        "parts.append(_walk(sits, visit.way, start_s - minutes, which, WALK_IN))",
        "pass",
        VISIT,
    ),
    Fault(
        "hours-without-a-label-are-shown",
        "core/chores/spraying.py::spray_windows",
        "label.read_on is None or ",
        "",
        SPRAY,
    ),
    Fault(
        "spray-looks-upwind",
        "core/chores/spraying.py::_air_against",
        "+ 180.0",
        "+ 0.0",
        SPRAY,
    ),
    Fault(
        "rain-that-is-not-told-is-dry",
        "core/chores/spraying.py::_rain",
        "np.where(told, wet, np.nan)",
        "np.where(told, wet, 0.0)",
        SPRAY,
    ),
    Fault(
        "the-upwind-side-is-taken-for-the-lee",
        "core/chores/lee.py::_along",
        "gap @ downwind > ABREAST",
        "-gap @ downwind > ABREAST",
        LEE,
    ),
    Fault(
        "a-round-forgets-the-way-home",
        "core/chores/shortest_round.py::shortest_round",
        "cost[-1] + lengths_m[leave, start]",
        "cost[-1] + 0 * lengths_m[leave, start]",
        ROUND,
    ),
    Fault(
        "a-trail-is-left-where-it-was-begun",
        "core/chores/shortest_round.py::shortest_round",
        "[ends[::-1] for ends in stops]",
        "[ends for ends in stops]",
        ROUND,
    ),
    Fault(
        "a-saw-that-rests-is-on-the-round",
        "core/chores/rounds.py::due_jobs",
        " and not resting(c, today)",
        "",
        ROUND,
    ),
    Fault(
        "straight-legs-are-not-told",
        "core/chores/walking.py::PathNet.leg",
        "0.0 if id_ else step",
        "0.0",
        ROUND,
    ),
    Fault(
        "paths-that-run-close-do-not-meet",
        "core/chores/walking.py::PathNet._join_near",
        "links = [shapely.shortest_line(self.lines[i], self.lines[j])]",
        "links = []",
        WALKS,
    ),
    Fault(
        "a-walk-goes-straight-past-paths",
        "core/chores/walking.py::PathNet._join_spots",
        "gap < max(off_m[a], off_m[b])",
        "gap < np.inf",
        WALKS,
    ),
    Fault(
        "a-cold-night-takes-from-a-warm-day",
        "core/chores/degree_days.py::day_degrees",
        "np.clip(np.asarray(t, float), BASE_F, MOST_F)",
        "np.minimum(np.asarray(t, float), MOST_F)",
        GROWN,
    ),
    Fault(
        "half-a-day-counts-as-a-day",
        "core/chores/degree_days.py::_by_day",
        ">= LEAST_HOURS",
        ">= 1",
        GROWN,
    ),
    Fault(
        "the-day-of-the-cut-counts",
        "core/chores/degree_days.py::_by_day",
        "since + DAY, until",
        "since, until",
        GROWN,
    ),
    Fault(
        "a-date-in-the-log-is-told-twice",
        "core/chores/story.py::story",
        "not in in_log",
        "not in set()",
        STORY,
    ),
)
