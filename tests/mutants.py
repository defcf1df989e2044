"""Faults put in on purpose: each must turn a test red.

    python tests/mutants.py                 every fault
    python tests/mutants.py from-to night   only those whose name holds one of these
    python tests/mutants.py --list

The tree is copied to a temporary folder; one fault at a time is put in by exact
replacement of text, the tests named beside it are run there, and the text is put
back. A fault that no test notices is a gap in the tests; a fault whose text is gone
from the code is an error of this list. `tests/mutant_faults.py` holds the faults.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.mutant_faults import FAULTS, Fault  # noqa: E402

LEFT_BEHIND = shutil.ignore_patterns(
    ".git", ".venv", "venv", "__pycache__", ".mypy_cache", ".ruff_cache", ".hypothesis"
)
TESTS_FAILED = 1  # pytest's exit code; others mean that no test was run to its end


def run_tests(house: Path, tests: tuple[str, ...]) -> int:
    """Pytest's exit code for some tests in a copy of the tree."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "--tb=no", *tests]
    # no bytecode: a fault of the same length within a second would go unseen
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        command, cwd=house, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    return done.returncode


def try_fault(house: Path, fault: Fault) -> str:
    """What became of one fault: caught, survived, or why it could not be tried."""
    path = house / fault.file
    sound = path.read_text(encoding="utf-8") if path.exists() else ""
    found = sound.count(fault.sound)
    if found != 1:
        return f"error: its text is found {found} times in {fault.file}"
    path.write_text(sound.replace(fault.sound, fault.faulty), encoding="utf-8")
    try:
        code = run_tests(house, fault.tests)
    finally:
        path.write_text(sound, encoding="utf-8")
    if code == 0:
        return "survived"
    return "caught" if code == TESTS_FAILED else f"error: pytest ended with code {code}"


def chosen_faults(words: list[str]) -> list[Fault]:
    return [f for f in FAULTS if not words or any(w in f.name for w in words)]


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Put faults in and see tests turn red.")
    parser.add_argument("words", nargs="*", help="parts of the names of faults")
    parser.add_argument("--list", action="store_true", help="only name the faults")
    asked = parser.parse_args(arguments)
    faults = chosen_faults(asked.words)
    if asked.list or not faults:
        print("\n".join(f"{f.name:28} {f.file}" for f in faults) or "no such fault")
        return 0 if faults else 2
    with tempfile.TemporaryDirectory() as folder:
        house = Path(folder) / "house"
        shutil.copytree(ROOT, house, ignore=LEFT_BEHIND)
        tests = tuple(sorted({test for fault in faults for test in fault.tests}))
        if run_tests(house, tests) != 0:
            print("error: the tests are red without any fault")
            return 2
        bad = 0
        for fault in faults:
            start = time.monotonic()
            outcome = try_fault(house, fault)
            bad += outcome != "caught"
            print(f"{fault.name:28} {outcome}  ({time.monotonic() - start:.1f} s)", flush=True)
    print(f"{len(faults) - bad} of {len(faults)} faults caught")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
