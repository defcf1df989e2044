"""Faults in what keeps files: the one writer, the lock, rescue, bounds."""

from tests.mutants.placing import Fault

LOCK = ("tests/whole/ground/test_lock.py",)
OUTPUTS = ("tests/attack/test_outputs.py",)
LOST = ("tests/pages/test_lost_grounds.py",)
BOUNDS = ("tests/attack/test_bounds.py",)

FAULTS = (
    Fault(
        "two-waiters-take-over-one-lock",
        "core/ground/lock.py::_acquired",
        "if _locked(stream) and _is_still(lock_path, stream):",
        "if _locked(stream):",
        LOCK,
    ),
    Fault(
        "a-living-holder-is-taken-for-dead",
        "core/ground/lock.py::_is_dead",
        "return False\n    try:",
        "return True\n    try:",
        LOCK,
    ),
    Fault(
        "a-broken-property-is-written-over",
        "core/ground/files/output.py::what_is_kept",
        "if head and _holds_own_json(stream):",
        "if head.startswith(b'{}') and _holds_own_json(stream):",
        OUTPUTS,
    ),
    Fault(
        "a-link-leads-past-the-check",
        "core/ground/files/output.py::_resolved",
        "return path.resolve()",
        "return path.absolute()",
        OUTPUTS,
    ),
    Fault(
        "what-came-meanwhile-is-written-over",
        "core/ground/files/output.py::write_output",
        "write_atomic(place, data, new=not replace)",
        "write_atomic(place, data)",
        OUTPUTS,
    ),
    Fault(
        "a-rescued-drawing-shares-its-uid",
        "core/ground/files/rescue.py::without_file",
        'rules.get("uid") and rules["uid"] in _uids_in_use()',
        'rules.get("uid") and False',
        LOST,
    ),
    Fault(
        "a-file-named-like-the-demos-shares-its-drafts",
        "core/ground/drawing/kept_drafts.py::_folder",
        "if named and path != demo else path.stem",
        "if named and path == demo else path.stem",
        LOST,
    ),
    Fault(
        "any-length-of-line-goes",
        "core/ground/features.py::check_longest",
        "if line_m > LONGEST_M:",
        "if line_m > 1e9 * LONGEST_M:",
        BOUNDS,
    ),
    Fault(
        "any-file-is-a-log",
        "core/keep/journal.py::Journal.__init__",
        "elif named:",
        "elif not named:",
        ("tests/core/test_log_command.py",),
    ),
    Fault(
        "any-database-is-a-log",
        "core/keep/schema.py::_mark",
        'base.execute("pragma application_id").fetchone()[0]',
        "APPLICATION_ID",
        ("tests/core/test_log_command.py",),
    ),
    Fault(
        "who-looks-takes-a-lock",
        "core/ground/lock.py::only_saver",
        "refuse_changes()",
        "pass",
        ("tests/core/ground/test_looking.py",),
    ),
    Fault(
        "who-looks-puts-a-damaged-log-aside",
        "core/keep/damaged/salvage.py::put_aside",
        "refuse_changes()",
        "pass",
        ("tests/core/ground/test_looking.py",),
    ),
)
