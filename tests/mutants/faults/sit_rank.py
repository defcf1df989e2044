"""Faults in sit rank."""

from tests.mutants.placing import Fault

ANCHORS = ("tests/core/test_anchors.py",)
READINGS = ("tests/core/sit/test_readings.py",)
RANK = ("tests/core/sit/test_rank.py",)
CAUSES = ("tests/core/say/test_causes.py",)

FAULTS = (
    Fault(
        "leave-by-after",
        "core/sit/rank.py::leave_by_s",
        "wrong_s - LEAVE_BEFORE_S",
        "wrong_s + LEAVE_BEFORE_S",
        ANCHORS,
    ),
    Fault(
        "not-before-an-hour-early",
        "core/sit/rank.py::opens_s",
        "rows.end_s[",
        "rows.start_s[",
        ANCHORS,
    ),
    Fault(
        "worst-stand-first",
        "core/judge/order.py::in_order",
        "key=lambda s: (-s[0], s[3], s[4])",
        "key=lambda s: (s[0], s[3], s[4])",
        ANCHORS,
    ),
    Fault(
        "food-draws-in-the-morning",
        "core/judge/order.py::wanted_shares",
        "food = sits.clock.sit == EVENING and scene",
        "food = scene",
        READINGS,
    ),
    Fault(
        "all-day-takes-the-better-word",
        "core/judge/stand.py::wanted_word",
        "return max((w for w in (morning, evening) if w)",
        "return min((w for w in (morning, evening) if w)",
        READINGS,
    ),
    Fault(
        "a-fifth-of-clean-air-is-enough",
        "core/sit/rank.py::LEAST_AIR_SHARE",
        "LEAST_AIR_SHARE = 0.5",
        "LEAST_AIR_SHARE = 0.2",
        RANK,
    ),
    Fault(
        "a-wrong-hour-is-clean",
        "core/sit/rank.py::judge_sit",
        "    off |= ~has_prime & (last >= 0)\n",
        "",
        RANK,
    ),
    Fault(
        "last-light-left-out-is-clean",
        "core/sit/rank.py::judge_sit",
        ".any(axis=1) | (has_prime & left_out)",
        ".any(axis=1)",
        RANK,
    ),
    Fault(
        "no-band-of-the-best",
        "core/judge/order.py::BAND",
        "BAND = 0.05",
        "BAND = 0.0",
        RANK,
    ),
    Fault(
        "uncalled-by-more-than-a-third",
        "core/sit/rank.py::CANT_CALL_SHARE",
        "CANT_CALL_SHARE = 1.0 / 3.0",
        "CANT_CALL_SHARE = 0.6",
        RANK,
    ),
    Fault(
        "part-s-words-forgotten",
        "core/judge/stand.py::wanted_word",
        "morning, evening = by_part or (None, None)",
        "morning, evening = (None, None)",
        CAUSES,
    ),
    Fault(
        "closed-stands-among-the-others",
        "core/judge/order.py::orders",
        "bool(behind[i, k])",
        "False",
        ("tests/core/say/test_causes.py",),
    ),
    Fault(
        "a-stand-within-five-percent-is-not-walked-to",
        "core/judge/first.py::_Sit.open_to",
        "most * self._walks_share >= top * (1.0 - BAND) - CRUMB",
        "most * self._walks_share >= top",
        ("tests/core/judge/test_first.py",),
    ),
    Fault(
        "no-air-needed-though-nobody-lies-there",
        "core/judge/every_way.py::hopeless",
        "(wrong & own.held[rows] & own.counts[rows])",
        "wrong",
        ("tests/core/judge/test_first.py",),
    ),
    Fault(
        "first-before-a-tie-is-settled",
        "core/judge/first.py::_Sit.settled",
        "h.key < key and h.most * share >= floor",
        "h.key < key and h.most * share < floor",
        ("tests/core/judge/test_first.py",),
    ),
    Fault(
        "first-before-the-best-is-known",
        "core/judge/first.py::_Sit.settled",
        "if score < max(top, most) * (1.0 - BAND):",
        "if score < top * (1.0 - BAND):",
        ("tests/core/judge/test_first.py",),
    ),
)
