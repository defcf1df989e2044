"""Faults in the answer."""

from tests.mutants.placing import Fault

ANCHORS = ("tests/core/test_anchors.py",)
CAUSES = ("tests/core/say/test_causes.py",)

SEARCH = ("tests/core/party/test_search.py",)
SEATING = ("tests/core/party/test_seating.py",)

FAULTS = (
    Fault(
        "party-seat-for-two",
        "core/party/search.py::_Search.go_on",
        "still[:, seat] = False",
        "pass",
        SEARCH,
    ),
    Fault(
        "party-nobody-stays",
        "core/party/search.py::_Search.go_on",
        "self.go_on({**chosen, hunter: STAYS}, free, total)",
        "None",
        SEARCH,
    ),
    Fault(
        "party-walks-out-of-order",
        "core/party/pairs.py::_walk_in",
        "past.time_s >= other.up_s",
        "past.time_s >= 0",
        SEATING,
    ),
    Fault(
        "party-beginner-without-a-shot",
        "core/party/seating.py::Out.unfit",
        "person.beginner and nothing_in_range(sit, own)",
        "False",
        SEATING,
    ),
    Fault(
        "walk-minutes-doubled",
        "core/sit/ways.py::ways_in",
        "start_s = seated_s - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)",
        "start_s = seated_s - SECONDS_PER_MINUTE * (2 * way.minutes + stand.set_up_min)",
        ANCHORS,
    ),
    Fault(
        "spare-left-right-swapped",
        "core/answer/change.py::spare_deg",
        "left, right = max(0.0, into), max(0.0, span - into)",
        "right, left = max(0.0, into), max(0.0, span - into)",
        ANCHORS,
    ),
    Fault(
        "gusts-on-the-walk-forgotten",
        "core/judge/walked.py::Walked.both",
        "if walk is not None]",
        "if walk is None]",
        ("tests/core/say/test_causes.py",),
    ),
    Fault(
        "kept-out-is-wrong",
        "core/judge/stand.py::_group",
        "(WRONG, by_its_air)",
        "(WRONG, stay)",
        CAUSES,
    ),
    Fault(
        "taken-by-oneself",
        "core/answer/one_sit.py::others_at",
        "if v.casefold() != me}",
        "if True}",
        CAUSES,
    ),
    Fault(
        "way-of-the-air-ends-early",
        "core/answer/reached.py::_falls_to_zero_m",
        "last = int(above[-1])",
        "last = int(above[0])",
        ("tests/core/answer/test_reached.py",),
    ),
    Fault(
        "map-of-an-hour-after-leave-by",
        "core/answer/reached.py::telling_case",
        "cases = np.flatnonzero(stretch) if stretch.any() else np.arange(n)",
        "cases = np.arange(n)",
        CAUSES,
    ),
    Fault(
        "a-vague-report-reaches-the-middle",
        "core/answer/reached.py::strongest_at",
        "in_the_middle = (off_deg <= spread_deg).any()",
        "in_the_middle = True",
        ("tests/core/say/test_headline.py",),
    ),
    Fault(
        "a-corner-off-to-the-side-is-the-middle",
        "core/answer/reached.py::strongest_at",
        "bool(in_the_middle and in_doubt)",
        "bool(in_the_middle)",
        ("tests/core/say/test_headline.py",),
    ),
    Fault(
        "closed-hours-have-a-truck-time",
        "core/answer/one_sit.py::read_out",
        "is_open = sit.clock.start_s is not None",
        "is_open = True",
        ("tests/core/sit/test_no_minute_left.py",),
    ),
    Fault(
        "closed-hours-have-bad-air",
        "core/judge/stand.py::_causes",
        "    found[len(RULED_OUT) :] &= clock.open\n",
        "",
        ("tests/core/sit/test_no_minute_left.py",),
    ),
    Fault(
        "closed-hours-are-called",
        "core/judge/stand.py::_group",
        "cant | closed",
        "cant",
        ("tests/core/sit/test_no_minute_left.py",),
    ),
    Fault(
        "a-sit-too-late-to-walk-to-is-next",
        "core/answer/coming.py::_in_time",
        "leaves_s[at] >= after_s",
        "seated_s[at] >= after_s",
        ("tests/core/answer/test_coming.py",),
    ),
    Fault(
        "late-sits-take-the-place-of-others",
        "core/answer/coming.py::next_sits",
        "[: how_many + soon]",
        "[:how_many]",
        ("tests/core/answer/test_coming.py",),
    ),
    Fault(
        "a-leave-time-of-yesterday-has-passed",
        "core/say/headline.py::late_text",
        "< (sit.clock.end_s or sit.clock.legal_end_s)",
        "< np.inf",
        ("tests/core/answer/test_coming.py",),
    ),
    Fault(
        "puff-drifts-into-the-wind",
        "core/answer/landmarks.py::Landmark.wind",
        "(self.sector + SECTORS // 2) % SECTORS",
        "self.sector",
        ("tests/core/answer/test_landmarks.py",),
    ),
)
