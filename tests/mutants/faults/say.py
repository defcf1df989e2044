"""Faults in say."""

from tests.mutants.placing import Fault

COVERED = ("tests/core/season/test_left_over.py",)
READINGS = ("tests/core/sit/test_readings.py",)
SAID = ("tests/core/say/test_headline.py",)
FINDING = ("tests/core/say/test_find_the_tree.py",)
SLOPES = ("tests/core/say/test_slope_sentences.py",)
CLOCK = ("tests/core/say/test_by_the_clock.py", "tests/whole/say/test_turns_by_the_clock.py")

FAULTS = (
    Fault(
        "said-one-hour-for-all",
        "core/say/headline.py::course_text",
        "if not len(hours) or (hours == hours[0]).all():",
        "if not len(hours) or (hours == hours[0]).any():",
        SAID,
    ),
    Fault(
        "said-worse-later-forgotten",
        "core/say/why/air.py::_much_worse",
        "worst.like_yd <= MUCH_NEARER * first.like_yd",
        "worst.like_yd >= MUCH_NEARER * first.like_yd",
        SAID,
    ),
    Fault(
        "said-example-as-given",
        "core/say/words.py::wind_line",
        "known = HOW_KNOWN.get(weather.source) or HOW_KNOWN.get(weather.kind)",
        "known = HOW_KNOWN.get(weather.kind)",
        SAID,
    ),
    Fault(
        "way-out-after-the-wrong-hour",
        "core/say/find_the_tree.py::out_line",
        "end_s = sit.clock.end_s if seat.leave_by_s is None else seat.leave_by_s",
        "end_s = sit.clock.end_s",
        FINDING,
    ),
    Fault(
        "covered-any-stand-counts-watch-seats",
        "core/say/season/words.py::ruler_rows",
        "ruler.verdict[counts].min(",
        "ruler.verdict.min(",
        COVERED,
    ),
    Fault(
        "moon-of-midnight",
        "core/say/as_json.py::daylight_dict",
        "middle_s = day.noon_s",
        "middle_s = day.noon_s + 43200",
        READINGS,
    ),
    Fault(
        "legal-light-out-of-season",
        "core/say/as_json.py::sit_dict",
        "if not clock.outside and clock.season is not None:",
        "if clock.legal_start_s:",
        READINGS,
    ),
    Fault(
        "thunder-told-late",
        "core/say/cautions.py::THUNDER_FROM",
        "THUNDER_FROM = 0.15",
        "THUNDER_FROM = 0.25",
        ("tests/core/say/test_cautions.py",),
    ),
    Fault(
        "escape-codes-reach-the-terminal",
        "core/cli/printing.py::put",
        'f"{harmless(line)}\\n"',
        'f"{line}\\n"',
        ("tests/core/test_hostile_terminal.py",),
    ),
    Fault(
        "json-loses-what-it-means",
        "core/cli/shared.py::as_json",
        "harmless_json(json.dumps(report, ensure_ascii=False, allow_nan=False))",
        "json.dumps(report, ensure_ascii=False, allow_nan=False)",
        ("tests/core/test_hostile_terminal.py",),
    ),
    Fault(
        "a-formula-behind-a-tab",
        "core/harmless.py::FORMULA",
        'r"\\s*[',
        'r"[',
        ("tests/core/test_hostile_terminal.py",),
    ),
    Fault(
        "a-closed-sit-tells-of-no-wind",
        "core/say/words.py::wind_text",
        "[sit.told]",
        "[sit.window]",
        ("tests/core/sit/test_no_minute_left.py",),
    ),
    Fault(
        "still-air-by-its-worst-hour",
        "core/say/why/air.py::_of_still_air",
        "(last.air_to_deg, last.verdict) == (side.air_to_deg, side.verdict)",
        "last.air_to_deg == side.air_to_deg",
        SLOPES,
    ),
    Fault(
        "few-good-hours-named-before-the-wrong-ones",
        "core/say/reasons.py::_keeps_out",
        "bool({a.PRIME_HOUR, a.AIR_SHARE} & set(seat.causes))",
        "a.PRIME_HOUR in seat.causes",
        SLOPES,
    ),
    Fault(
        "crossed-trail-told-as-a-far-place",
        "core/say/reasons.py::walk_of",
        "by_air == CLEAN and air.crossed_before_shot",
        "by_air != CLEAN and air.crossed_before_shot",
        SLOPES,
    ),
    Fault(
        "short-stretch-joined-to-a-cleaner-one",
        "core/say/pieces/stretches.py::_without_short",
        "one.is_short and before.verdict >= one.verdict",
        "one.is_short",
        CLOCK,
    ),
    Fault(
        "turn-cut-by-the-window-told-at-its-end",
        "core/say/pieces/stretches.py::turns_s",
        "if start_s > clock.start_s else set()",
        "if start_s >= 0 else set()",
        CLOCK,
    ),
    Fault(
        "leave-by-though-good-air-comes-again",
        "core/say/pieces/told.py::leave_by_s",
        "if not first or any(good[first:]):",
        "if not first:",
        CLOCK,
    ),
    Fault(
        "cant-call-said-twice",
        "core/say/reason_texts.py::below_group",
        "if group == CANT and",
        "if group != group and",
        CLOCK,
    ),
    Fault(
        "air-goes-with-the-wind-whatever-the-cause",
        "core/say/answer_lines.py::_points_to",
        "np.isin(hours.cause, (SURE, IS_TURNING))",
        "hours.cause >= 0",
        CLOCK,
    ),
    Fault(
        "worst-of-a-few-minutes",
        "core/answer/reached.py::worst_case",
        "cases[deciding] if deciding.any() else cases",
        "cases",
        CLOCK,
    ),
    Fault(
        "one-point-named-twice",
        "core/say/what_would_change.py::joined_runs",
        "if joined and point_name",
        "if not runs and point_name",
        ("tests/core/say/test_words_that_mislead.py",),
    ),
    Fault(
        "wind-that-fails-named-among-those-that-work",
        "core/say/what_would_change.py::winds_text",
        "if not math.isnan(wind_from_deg) and not works",
        "if math.isnan(wind_from_deg) and not works",
        ("tests/core/say/test_words_that_mislead.py",),
    ),
)
