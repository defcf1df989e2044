"""The list of faults fits the code: each text is there once, each test file exists."""

from pathlib import Path

import pytest

from tests.mutant_faults import FAULTS

ROOT = Path(__file__).resolve().parents[1]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f.name)
def test_the_fault_can_be_put_in(fault):
    text = (ROOT / fault.file).read_text(encoding="utf-8")
    assert text.count(fault.sound) == 1, f"mend tests/mutant_faults.py: {fault.name}"
    assert fault.faulty != fault.sound
    assert all((ROOT / test.split("::")[0]).exists() for test in fault.tests)


def test_names_are_single_and_there_are_twenty():
    names = [fault.name for fault in FAULTS]
    assert len(set(names)) == len(names) >= 20
