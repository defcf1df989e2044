"""Faults put in on purpose: each must turn a test red.

    python -m tests.mutants --all           every fault, in parallel on the cores: for the night
    python -m tests.mutants from-to night   only those whose name holds one of these
    python -m tests.mutants --list

The tree is copied to a temporary folder for each core; one fault at a time is put in, the
tests named beside it are run there, and the text is put back. A fault that no test notices
survives: a gap in the tests. A fault that can't be put in, or whose tests are red without
it, is an error of the list. Both are told at the end. `tests/mutants/faults/` holds the
faults by subject, `placing.py` says how a place is named.
"""

import argparse
import collections
import concurrent.futures
import contextlib
import os
import queue
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.mutants.lists import FAULTS
from tests.mutants.placing import ROOT, Fault, Misplaced, put_in

LEFT_BEHIND = shutil.ignore_patterns(
    ".git", ".venv", "venv", "__pycache__", ".mypy_cache", ".ruff_cache", ".hypothesis"
)
PASSED, FAILED = 0, 1  # pytest's exit codes; others mean that no test was run to its end
LONGEST_S = 900
CAUGHT, SURVIVED, ERROR = "caught", "survived", "error"


def run_tests(house: Path, tests: tuple[str, ...], *words: str) -> tuple[int | None, str]:
    """Pytest's exit code for some tests in a copy of the tree, None if it had to be ended."""
    command = [sys.executable, "-m", "pytest", "-q", "--no-header", "--tb=no", *words, *tests]
    # bytecode is kept by what the source holds, and none is written for a fault
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=house, env=environment, capture_output=True, timeout=LONGEST_S
        )
    except subprocess.TimeoutExpired:
        return None, ""
    return done.returncode, done.stdout.decode("utf-8", "replace")


def try_fault(house: Path, fault: Fault) -> tuple[str, str]:
    """What became of one fault, and why where it could not be tried."""
    try:
        path, faulty = put_in(fault, house)
    except Misplaced as why:
        return ERROR, str(why)
    sound = path.read_text(encoding="utf-8")
    path.write_text(faulty, encoding="utf-8")
    try:
        code, _ = run_tests(house, fault.tests, "-x", "-n0")
    finally:
        path.write_text(sound, encoding="utf-8")
    moved = "" if path == house / fault.file else f"is now in {path.relative_to(house)}"
    if code in (PASSED, FAILED):
        return (SURVIVED if code == PASSED else CAUGHT), moved
    return ERROR, f"no end in {LONGEST_S} s" if code is None else f"pytest ended with {code}"


def copied(folder: Path) -> Path:
    """A copy of the tree, compiled so that a changed source is always seen."""
    house = folder / "house"
    shutil.copytree(ROOT, house, ignore=LEFT_BEHIND)
    compile_ = [sys.executable, "-m", "compileall", "-q", "--invalidation-mode", "checked-hash"]
    subprocess.run([*compile_, "core", "pages", "tests"], cwd=house, check=False)
    return house


def red_already(house: Path, faults: list[Fault]) -> set[str]:
    """The tests named by faults that are red, or not there, without any fault."""
    tests = sorted({test for fault in faults for test in fault.tests})
    red = {test for test in tests if not (house / test.partition("::")[0]).exists()}
    there = tuple(test for test in tests if test not in red)
    code, said = run_tests(house, there, "-rfE")
    if code == PASSED:
        return red
    at = set(re.findall(r"^(?:FAILED|ERROR) (\S+)", said, re.MULTILINE))
    told = {test for test in there if any(one.startswith(test) for one in at)}
    return red | (told or set(there))  # what broke off before any test was named


def try_all(faults: list[Fault], workers: int) -> dict[Fault, tuple[str, str]]:
    """What became of each fault, told as they end."""
    with contextlib.ExitStack() as kept:
        folders = [kept.enter_context(tempfile.TemporaryDirectory()) for _ in range(workers)]
        houses: queue.Queue[Path] = queue.Queue()
        for folder in folders:
            houses.put(copied(Path(folder)))
        red = red_already(houses.queue[0], faults)

        def tried(fault: Fault) -> tuple[str, str]:
            if bad := red.intersection(fault.tests):
                return ERROR, f"red without it: {', '.join(sorted(bad))}"
            house, start = houses.get(), time.monotonic()
            try:
                outcome, why = try_fault(house, fault)
            finally:
                houses.put(house)
            print(f"{fault.name:44} {outcome} {why} ({time.monotonic() - start:.0f} s)", flush=True)
            return outcome, why

        with concurrent.futures.ThreadPoolExecutor(workers) as pool:
            return dict(zip(faults, pool.map(tried, faults), strict=True))


def told(outcomes: dict[Fault, tuple[str, str]]) -> str:
    """The survivors, the errors, what moved, and how many of each."""
    lines = []
    for sought, head in ((SURVIVED, "Survived:"), (ERROR, "Errors of the list:")):
        found = [(f, why) for f, (outcome, why) in outcomes.items() if outcome == sought]
        lines += [head, *(f"  {f.name:44} {f.place}  {why}" for f, why in found)] if found else []
    moved = [(f, why) for f, (outcome, why) in outcomes.items() if why and outcome != ERROR]
    lines += ["Moved:", *(f"  {f.name:44} {why}" for f, why in moved)] if moved else []
    counts = collections.Counter(outcome for outcome, _ in outcomes.values())
    return "\n".join([*lines, (
        f"{counts[CAUGHT]} of {len(outcomes)} faults caught, {counts[SURVIVED]} survived, "
        f"{counts[ERROR]} errors"
    )])  # fmt: skip


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Put faults in and see tests turn red.")
    parser.add_argument("words", nargs="*", help="parts of the names of faults")
    parser.add_argument("--all", action="store_true", help="every fault")
    parser.add_argument("--list", action="store_true", help="only name the faults")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="how many at once")
    asked = parser.parse_args(arguments)
    everything = asked.all or (asked.list and not asked.words)
    faults = [f for f in FAULTS if everything or any(w in f.name for w in asked.words)]
    if not faults:
        parser.error("name some faults that are there, or --all, or --list")
    if asked.list:
        print("\n".join(f"{f.name:44} {f.place}" for f in faults))
        return 0
    start = time.monotonic()
    outcomes = try_all(faults, max(1, min(asked.workers, len(faults))))
    print(f"\n{told(outcomes)} in {(time.monotonic() - start) / 60:.0f} min")
    return 0 if all(outcome == CAUGHT for outcome, _ in outcomes.values()) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
