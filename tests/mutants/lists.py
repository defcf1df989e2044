"""Every fault of `tests/mutants/faults/`: each file there holds those of one subject."""

import importlib
from pathlib import Path

from tests.mutants.placing import Fault

SUBJECTS = sorted(path.stem for path in Path(__file__).with_name("faults").glob("*.py"))
FAULTS: tuple[Fault, ...] = tuple(
    fault
    for subject in SUBJECTS
    for fault in importlib.import_module(f"tests.mutants.faults.{subject}").FAULTS
)
