"""Templates: all that is put in is escaped, and what they take as HTML is a short list."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from jinja2 import UndefinedError

from core.show import template
from core.show.template import FOLDER, filled

ROOT = Path(__file__).resolve().parents[3]
# drawings of core.show.canvas, which escapes its own words
TAKEN_AS_HTML = {
    "pocket_sit.html": ["clock", "map"],
    "lesson_sheet.html": ["map"],
}
ESCAPERS = {"svg.py", "charts.py"}  # elements of drawings; labels of plotly's charts
BY_HAND = re.compile(r"\bescape\(|['\"]</?[a-z]+[ >{]")


def test_words_are_escaped_and_what_was_filled_is_not_escaped_again():
    class Row:
        verdict, clock, wind = 0, "<b>&'", "{{ 7 * 7 }}"

    once = filled("hours.html", hours=[Row()], paper=True, like=False)
    assert "&lt;b&gt;&amp;&#39;" in once and "{{ 7 * 7 }}" in once
    twice = filled(
        "pocket_sit.html",
        fault="",
        head=once,
        chance="",
        hours="<i>",
        clock="",
        until="",
        map="",
        finding=[],
        air="",
        others=[],
        out=[],
        example="",
        puff="",
        most_others=1,
        most_named=1,
    )
    assert once in twice and "&lt;i&gt;" in twice


def test_a_value_that_was_forgotten_is_an_error():
    with pytest.raises(UndefinedError, match="fault"):
        filled("pocket_sit.html", head="")


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.html")), ids=lambda p: p.name)
def test_only_drawings_are_taken_as_html(path):
    source = path.read_text(encoding="utf-8")
    assert re.findall(r"(\w+)\s*\|\s*safe", source) == TAKEN_AS_HTML.get(path.name, [])
    assert "autoescape" not in source


@pytest.mark.parametrize(
    "path", sorted((ROOT / "core" / "show").rglob("*.py")), ids=lambda p: p.name
)
def test_modules_write_no_html_by_hand(path):
    found = BY_HAND.findall(path.read_text(encoding="utf-8"))
    assert found == [] or path.name in ESCAPERS


def test_the_command_line_does_not_wait_for_it():
    code = "import sys, core.__main__, core.show.pocket; print('jinja2' in sys.modules)"
    run = [sys.executable, "-c", code]
    assert subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=True).stdout == (
        "False\n"
    )


def test_the_same_template_is_read_once():
    filled("hours.html", hours=[], paper=True, like=False)
    first = template._environment().get_template("hours.html")
    assert template._environment().get_template("hours.html") is first
