"""The list of faults fits the code: each can be put in, each names tests that are there."""

from pathlib import Path

import pytest

from tests.mutants.lists import FAULTS
from tests.mutants.placing import ROOT, Fault, Misplaced, put_in

CODE = """
LIMIT = 3


class Stand:
    def near(self, other):
        return (
            self.at < other.at
            and other.name != "here"
        )


def far(a, b):
    return a < b


def near(a, b):
    return a < b
"""


def misfit(fault: Fault) -> str:
    """Why a fault can't be tried; nothing where it can."""
    gone = [test for test in fault.tests if not (ROOT / test.partition("::")[0]).exists()]
    try:
        path, faulty = put_in(fault, ROOT)
    except Misplaced as why:
        return str(why)
    if faulty == path.read_text(encoding="utf-8"):
        return "it changes nothing"
    return f"no such test: {gone}" if gone or not fault.tests else ""


def test_every_fault_can_be_put_in():
    told = {fault.name: misfit(fault) for fault in FAULTS}
    assert {name: why for name, why in told.items() if why} == {}, "mend tests/mutants/faults/"


def test_names_are_single_and_there_are_twenty():
    names = [fault.name for fault in FAULTS]
    assert len(set(names)) == len(names) >= 20


# --- the tool itself ---


@pytest.fixture
def house(tmp_path):
    for name, code in (("a.py", CODE), ("b.py", "def away(x):\n    return x + 1\n")):
        path = tmp_path / "core" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(code, encoding="utf-8")
    (tmp_path / "dashboard.py").write_text("", encoding="utf-8")
    return tmp_path


def put(house: Path, place: str, sound: str, faulty: str) -> str:
    path, text = put_in(Fault("one", place, sound, faulty, ("x",)), house)
    return f"{path.name}: {text}"


def test_the_text_is_sought_in_the_function_that_is_named(house):
    text = put(house, "core/a.py::near", "a < b", "a > b")
    assert text.endswith("def near(a, b):\n    return a > b\n") and text.count("a < b") == 1
    with pytest.raises(Misplaced, match="found 2 times"):
        put(house, "core/a.py", "return a < b", "return a > b")
    assert "LIMIT = 4" in put(house, "core/a.py::LIMIT", "3", "4")


def test_lines_blanks_and_quotes_are_free(house):
    sound = "self.at < other.at and other.name != 'here'"
    assert "return (\n            True\n" in put(house, "core/a.py::Stand.near", sound, "True")


def test_a_function_that_moved_to_another_file_is_found(house):
    assert "b.py: def away(x):\n    return x - 1\n" in put(house, "core/a.py::away", "+ 1", "- 1")
    for place in ("core/a.py::nowhere", "core/gone.py"):
        with pytest.raises(Misplaced, match="found 0 times"):
            put(house, place, "+ 1", "- 1")


def test_what_is_no_python_is_told(house):
    with pytest.raises(Misplaced, match=r"a\.py is no Python"):
        put(house, "core/a.py::LIMIT", "3", "(")


def test_lines_of_a_fault_move_in_with_the_code(house):
    fault = ("    return a < b", "    if a:\n        return b\n    return a")
    assert "near(a, b):\n    if a:\n        return b\n    return a\n" in put(
        house, "core/a.py::near", *fault
    )
    (house / "core" / "b.py").write_text("class C:\n    def f(a, b):\n        return a < b\n")
    assert put(house, "core/a.py::C.f", *fault).endswith(
        "def f(a, b):\n        if a:\n            return b\n        return a\n"
    )
