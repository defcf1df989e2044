"""Faults in the screens."""

from tests.mutants.placing import Fault

FAULTS = (
    Fault(
        "another-wind-keeps-the-old-answer",
        "dashboard.py::_answered",
        "(scene, asked, pickle.dumps(wind), taken, log)",
        "(scene, asked, taken, log)",
        ("tests/pages/test_home_kept.py",),
    ),
    Fault(
        "pages-of-other-sites-let-in",
        "pages/ui/callers.py::refusal",
        "urlsplit(origin).netloc.lower() != host.lower()",
        "not urlsplit(origin).netloc",
        ("tests/pages/test_callers.py",),
    ),
    Fault(
        "other-names-answered-to",
        "pages/ui/callers.py::refusal",
        "fnmatchcase(_name(host), name.lower())",
        "name.lower() in _name(host)",
        ("tests/pages/test_callers.py",),
    ),
    Fault(
        "addresses-become-links",
        "pages/ui/frame.py::plain",
        'lambda m: f"{m[0]}{JOINER}"',
        "lambda m: m[0]",
        ("tests/pages/test_frame.py",),
    ),
)
