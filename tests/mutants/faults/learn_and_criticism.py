"""Faults in lessons and criticism."""

from tests.mutants.placing import Fault

FAULTS = (
    Fault(
        "criticism-smaller-first",
        "core/criticism/whole_ground.py::review",
        "key=lambda f: (f.is_smaller, -counts[f.id])",
        "key=lambda f: -counts[f.id]",
        ("tests/core/criticism/test_whole_ground.py",),
    ),
    Fault(
        "a-wind-named-for-where-it-goes",
        "core/learn/turn_the_wind.py::_head",
        "your air goes {direction_words(to)}",
        "your air goes {direction_words(wind)}",
        ("tests/core/learn/test_turn_the_wind.py",),
    ),
    Fault(
        "two-points-swapped",
        "core/learn/turn_the_wind.py::POINT_WORDS",
        '"WSW": "west-south-west",',
        '"WSW": "south-south-west",',
        ("tests/core/learn/test_turn_the_wind.py",),
    ),
    Fault(
        "light-is-a-gentle-breeze",
        "core/learn/turn_the_wind.py::STRENGTHS",
        '"light": 2,',
        '"light": 3,',
        ("tests/core/learn/test_turn_the_wind.py",),
    ),
    Fault(
        "the-mildest-place-is-told",
        "core/learn/turn_the_wind.py::told_place",
        "np.lexsort((places, like, -hours.place_verdict[case, places]))[0]])",
        "np.lexsort((places, like, -hours.place_verdict[case, places]))[-1]])",
        ("tests/core/learn/test_turn_the_wind.py",),
    ),
    Fault(
        "morning-deer-from-the-bed-end",
        "core/learn/lessons_deer.py::_watched",
        "for e in (FOOD_END, BEDDING_END)]",
        "for e in (BEDDING_END, FOOD_END)]",
        ("tests/core/learn/test_lessons.py",),
    ),
    Fault(
        "slope-air-climbs-at-night",
        "core/learn/lessons_air.py::slopes_and_still_air",
        "    down, up = _down_up(stand)",
        "    up, down = _down_up(stand)",
        ("tests/core/learn/test_lessons.py",),
    ),
    Fault(
        "stayed-home-is-never-a-miss",
        "core/learn/pick_one.py::_stayed",
        "(tally.STAYED,)",
        "()",
        ("tests/core/learn/test_pick_one.py",),
    ),
    Fault(
        "a-wrong-way-in-is-right",
        "core/learn/pick_one.py::judge_pick",
        " and not _way_wrong(way)",
        "",
        ("tests/core/learn/test_pick_one.py",),
    ),
    Fault(
        "a-shot-in-line-is-safe",
        "core/learn/second_hunter.py::unsafe_beside",
        "return in_line or too_near(situation, seat.stand.id)",
        "return too_near(situation, seat.stand.id)",
        ("tests/core/learn/test_pick_one.py",),
    ),
    Fault(
        "any-seat-for-a-guest",
        "core/learn/first_sit.py::fits_guests",
        "seat.stand.seat in GUEST_SEATS\n",
        "True\n",
        ("tests/core/learn/test_first_sit.py",),
    ),
    Fault(
        "a-host-who-should-stay-home",
        "core/learn/first_sit.py::host_for",
        "if other.group == GO and other.stand.id",
        "if other.stand.id",
        ("tests/core/learn/test_first_sit.py",),
    ),
    Fault(
        "a-miss-counts-as-right",
        "core/learn/tally.py::add_to_tally",
        "old.right + bool(right)",
        "old.right + 1",
        ("tests/core/learn/test_tally.py",),
    ),
    Fault(
        "common-wind-of-the-whole-year",
        "core/criticism/common_wind.py::common_wind",
        "in_season & (hours.state == DIRECTED)",
        "(hours.state == DIRECTED)",
        ("tests/core/criticism/test_common_wind.py",),
    ),
)
