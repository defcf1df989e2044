"""Faults in show."""

from tests.mutants.placing import Fault

SAID = ("tests/core/say/test_headline.py",)

FAULTS = (
    Fault(
        "card-every-hour-is-told",
        "core/show/card.py::_when",
        "if (like <= like[case] * MUCH_THE_SAME).all():",
        "if (like <= like[case] * MUCH_THE_SAME).any():",
        SAID,
    ),
    Fault(
        "off-the-sheet-is-drawn",
        "core/show/canvas.py::Sheet.shows",
        "(past <= OUTSIDE).all()",
        "True",
        ("tests/core/show/test_off_the_sheet.py",),
    ),
    Fault(
        "lines-through-the-sheet-left-out",
        "core/show/canvas.py::Sheet.shows",
        "before, past = at.max(axis=0)",
        "before, past = at.min(axis=0)",
        ("tests/core/show/test_off_the_sheet.py",),
    ),
    Fault(
        "boxes-apart-count-as-hidden",
        "core/show/canvas.py::overlaps",
        "np.maximum(wide, 0.0) * np.maximum(high, 0.0)",
        "wide * high",
        ("tests/core/test_map.py",),
    ),
    Fault(
        "far-places-counted-wrong",
        "core/show/templates/air.html",
        "and {{ far|length - most_far }} more",
        "and {{ far|length }} more",
        ("tests/core/show/test_far_places.py",),
    ),
    Fault(
        "names-are-markup-on-the-sheet",
        "core/show/template.py::_environment",
        "autoescape=True",
        "autoescape=False",
        ("tests/core/show/test_lesson_sheet.py",),
    ),
    Fault(
        "markup-let-through-by-a-template",
        "core/show/templates/lesson_sheet.html",
        "<p>{{ line }}</p>",
        "<p>{{ line|safe }}</p>",
        ("tests/core/show/test_lesson_sheet.py",),
    ),
    Fault(
        "a-forgotten-value-is-left-blank",
        "core/show/template.py::_environment",
        "undefined=StrictUndefined,",
        "",
        ("tests/core/show/test_template.py",),
    ),
    Fault(
        "fitted-names-read-alike",
        "core/show/fitting.py::fitted",
        "cut.count(text) == 1",
        "True",
        ("tests/core/show/test_fitting.py",),
    ),
    Fault(
        "visor-evening-in-minutes",
        "core/show/visor.py::_before",
        "str(minutes) if sit == MORNING else",
        "str(minutes) if sit else",
        ("tests/core/show/test_visor.py",),
    ),
    Fault(
        "hole-drawn-full",
        "core/show/canvas.py::Sheet.path",
        "for ring in (points_m, *holes_m))",
        "for ring in (points_m, points_m))",
        ("tests/core/test_map.py",),
    ),
    Fault(
        "directions-turned-on-sheets",
        "core/show/template.py",
        "harmless(value) if type(value) is str else value",
        "value",
        ("tests/core/show/test_hostile_sheets.py",),
    ),
    Fault(
        "directions-turned-in-drawings",
        "core/show/svg.py::element",
        "html.escape(harmless(words), quote=False)",
        "html.escape(words, quote=False)",
        ("tests/core/show/test_hostile_sheets.py",),
    ),
    Fault(
        "names-are-markup-in-drawings",
        "core/show/svg.py::element",
        "html.escape(harmless(words), quote=False)",
        "harmless(words)",
        ("tests/core/show/test_hostile_sheets.py",),
    ),
    Fault(
        "words-of-a-map-over-each-other",
        "core/show/canvas.py::Sheet._freest",
        "(grown, self.written if must else self.taken) <= 0",
        "(grown, self.written if must else self.taken) <= 1e9",
        ("tests/core/test_map.py",),
    ),
    Fault(
        "places-hatched-alike",
        "core/answer/reached.py::how_much",
        "if like_yd <= rules.clean_beyond_yd",
        "if like_yd",
        ("tests/core/answer/test_reached.py",),
    ),
    Fault(
        "a-trail-marked-worse-than-its-hour",
        "core/show/card.py::air_rows",
        "min(verdict, int(seat.hours.verdict[case]))",
        "max(verdict, int(seat.hours.verdict[case]))",
        ("tests/core/say/test_words_that_mislead.py",),
    ),
)
