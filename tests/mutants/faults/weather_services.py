"""Faults in weather services."""

from tests.mutants.placing import Fault

LIVE = ("tests/core/weather/services/test_live.py",)

FAULTS = (
    Fault(
        "place-not-rounded",
        "core/weather/services/sources.py::rounded",
        "round(center[0], 2) + 0.0, round(center[1], 2) + 0.0",
        "round(center[0], 4) + 0.0, round(center[1], 4) + 0.0",
        LIVE,
    ),
    Fault(
        "answer-not-checked",
        "core/weather/services/service.py::_hook.look",
        "_look_at(answer.content, check, cached, wanted)",
        "answer.content",
        LIVE,
    ),
    Fault(
        "other-host-followed",
        "core/weather/services/service.py::Line._follow",
        "if not any(is_of(base, url) for base in self.at.bases):",
        "if not isinstance(url, str):",
        LIVE,
    ),
    Fault(
        "password-sent-along",
        "core/weather/services/service.py::Line.__init__",
        "self.session.auth = _no_password",
        "self.session.auth = None",
        LIVE,
    ),
    Fault(
        "moved-grid-not-looked-up",
        "core/weather/services/fetching.py::_Work._from_nws",
        "point = self._point(line, fresh=True)",
        "point = self._point(line, fresh=False)",
        LIVE,
    ),
    Fault(
        "no-time-limit-in-all",
        "core/weather/services/fetching.py::fetch",
        "(left := work.deadline - time.monotonic()) > 0",
        "(left := work.deadline - time.monotonic()) > -4",
        LIVE,
    ),
    Fault(
        "ended-forecast-used",
        "core/weather/services/live.py::_usable",
        "    if kept.horizon_s <= now_s:\n        ended",
        "    if kept.horizon_s <= 0:\n        ended",
        LIVE,
    ),
    Fault(
        "older-forecast-taken",
        "core/weather/services/live.py::forecast_for",
        "(before.updated_s or 0) > (got.updated_s or 0)",
        "(before.updated_s or 0) > 2 * (got.updated_s or 0)",
        LIVE,
    ),
    Fault(
        "age-of-the-update-forgotten",
        "core/weather/services/live.py::age_words",
        "update {ago_words(now_s - kept.updated_s)}",
        "update {ago_words(now_s - kept.fetched_s)}",
        LIVE,
    ),
    Fault(
        "broken-kept-file-ends-it",
        "core/weather/services/kept.py::newest",
        "        if kept is not None:\n            return kept\n    return None",
        "        return kept\n    return None",
        LIVE,
    ),
    Fault(
        "kept-forecasts-the-oldest-first",
        "core/weather/services/kept.py::kept_files",
        "reverse=True",
        "reverse=False",
        ("tests/core/weather/services/test_archive.py",),
    ),
    Fault(
        "a-place-takes-the-farthest-record",
        "core/weather/services/records.py::place_folder",
        "min(near)[1]",
        "max(near)[1]",
        ("tests/core/weather/services/test_records.py",),
    ),
    Fault(
        "station-old-said",
        "core/weather/services/station.py::station_words",
        "if now_s - station.at_s > STALE_S:",
        "if now_s - station.at_s > 9 * STALE_S:",
        LIVE,
    ),
    Fault(
        "oldest-forecast-compared",
        "core/weather/services/archive.py::honesty",
        "key=lambda each: each.fetched_s",
        "key=lambda each: -each.fetched_s",
        ("tests/core/weather/services/test_archive.py",),
    ),
    Fault(
        "kept-written-in-place",
        "core/weather/services/records.py::keep_record",
        "write_atomic(path, gzip.compress(data, mtime=0), even_looking=even_looking)",
        "path.write_bytes(gzip.compress(data, mtime=0))",
        ("tests/whole/weather/test_two_processes.py",),
    ),
    Fault(
        "a-shorter-autumn-replaces-a-longer",
        "core/weather/services/autumns.py::keep_span",
        ">= known_hours(hours_of(body, path.name))",
        "< 0",
        ("tests/core/weather/services/test_history_press.py",),
    ),
    Fault(
        "a-full-minute-is-waited-for-for-ever",
        "core/weather/services/history_press.py::fetch_spans",
        "had_enough = True",
        "had_enough = False",
        ("tests/core/weather/services/test_history_press.py",),
    ),
)
