"""Faults put in on purpose: each must turn a test red.

    python -m tests.mutants --all            every fault, in parallel on the cores
    python -m tests.mutants --all --part 2/6 the second sixth of them
    python -m tests.mutants from-to night    only those whose name holds one of these
    python -m tests.mutants --list

The tree is copied to a temporary folder for each core; one fault at a time is put in, the
tests named beside it are run there, and the text is put back. A fault that no test notices
survives: a gap in the tests. A fault that can't be put in, or whose tests are red without
it, is an error of the list. Both are told at the end. `tests/mutants/faults/` holds the
faults by subject, `placing.py` says how a place is named.

Each run of tests is a fork of this program, which has loaded the libraries: loading them
takes longer than the tests of most faults. Where there is no fork (Windows) it can't run.
"""

import argparse
import collections
import importlib
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.mutants.lists import FAULTS
from tests.mutants.placing import ROOT, Fault, Misplaced, put_in

LEFT_BEHIND = shutil.ignore_patterns(
    ".git", ".venv", "venv", "__pycache__", ".mypy_cache", ".ruff_cache", ".hypothesis"
)
# what tests load, none of it our own
LOADED = ("hypothesis", "numpy", "pandas", "pvlib", "shapely", "streamlit.testing.v1", "xdist")
PASSED, FAILED, BROKEN = 0, 1, 9  # pytest's exit codes; others mean that no test ran to its end
LONGEST_S = 900
CAUGHT, SURVIVED, ERROR = "caught", "survived", "error"


def begun(house: Path, tests: Iterable[str]) -> int:
    """Starts some tests in a copy of the tree: the process, whose exit code is pytest's."""
    sys.stdout.flush()
    if child := os.fork():
        return child
    try:
        os.chdir(house)
        signal.alarm(LONGEST_S)
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        for name in [n for n in sys.modules if n.partition(".")[0] == "tests"]:
            del sys.modules[name]
        sys.path[:] = [str(house), *(p for p in sys.path if Path(p).resolve() != ROOT)]
        sys.dont_write_bytecode = True  # none for a fault
        os._exit(pytest.main(["-q", "--tb=no", "-x", "-n0", *tests]))
    finally:
        os._exit(BROKEN)


def copied(folder: Path) -> Path:
    """A copy of the tree, compiled so that a changed source is always seen."""
    house = folder / "house"
    shutil.copytree(ROOT, house, ignore=LEFT_BEHIND)
    compile_ = [sys.executable, "-m", "compileall", "-q", "--invalidation-mode", "checked-hash"]
    subprocess.run([*compile_, "core", "pages", "tests"], cwd=house, check=False)
    return house


@dataclass(eq=False)
class Trial:
    """Some tests in a copy of the tree, with a fault or with none, and how they ended."""

    tests: tuple[str, ...]
    fault: Fault | None = None
    outcome: str = ""
    why: str = ""
    took_s: float = 0.0
    changed: Path | None = None
    sound: str = ""

    def begin(self, house: Path) -> int:
        """Puts the fault in and starts the tests: their process. Raises: Misplaced."""
        if self.fault:
            path, faulty = put_in(self.fault, house)
            self.changed, self.sound = path, path.read_text(encoding="utf-8")
            path.write_text(faulty, encoding="utf-8")
            if path != house / self.fault.file:
                self.why = f"is now in {path.relative_to(house)}"
        self.took_s = -time.monotonic()
        return begun(house, self.tests)

    def end(self, status: int) -> None:
        """Puts the sound text back. Args: how the process ended, as `os.wait` tells."""
        self.took_s += time.monotonic()
        if self.changed:
            self.changed.write_text(self.sound, encoding="utf-8")
        code = os.waitstatus_to_exitcode(status)
        self.outcome = {PASSED: SURVIVED, FAILED: CAUGHT}.get(code, ERROR)
        if self.outcome == ERROR:
            self.why = f"no end in {LONGEST_S} s" if code < 0 else f"pytest ended with {code}"


def tried(trials: Iterable[Trial], houses: list[Path]) -> Iterator[Trial]:
    """Each trial as it ends, one at a time in each house."""
    free, running = list(houses), {}

    def ended() -> Trial:
        process, status = os.wait()
        house, one = running.pop(process)
        one.end(status)
        free.append(house)
        return one

    for one in trials:
        if not free:
            yield ended()
        house = free.pop()
        try:
            running[one.begin(house)] = (house, one)
        except Misplaced as why:
            one.outcome, one.why = ERROR, str(why)
            free.append(house)
            yield one
    while running:
        yield ended()


def try_all(faults: list[Fault], houses: list[Path]) -> list[Trial]:
    """What became of each fault, told as they end.

    The tests are run without any fault first: those that are red then can show nothing, and
    the quick ones of a fault go first.
    """
    named = sorted({test for fault in faults for test in fault.tests})
    alone = {t.tests[0]: t for t in tried([Trial((test,)) for test in named], houses)}
    red = {test for test, one in alone.items() if one.outcome != SURVIVED}
    trials = [Trial(tuple(sorted(f.tests, key=lambda test: alone[test].took_s)), f) for f in faults]
    for one in trials:
        if bad := red.intersection(one.tests):
            one.outcome, one.why = ERROR, f"red without it: {', '.join(sorted(bad))}"
    for one in tried([one for one in trials if not one.outcome], houses):
        print(f"{one.fault.name:44} {one.outcome} {one.why} ({one.took_s:.1f} s)", flush=True)
    return trials


def told(trials: list[Trial]) -> str:
    """The survivors, the errors, what moved, and how many of each."""
    heads = {SURVIVED: "Survived:", ERROR: "Errors of the list:", CAUGHT: "Moved:"}
    lines = []
    for outcome, head in heads.items():
        found = [t for t in trials if t.outcome == outcome and (t.why or outcome != CAUGHT)]
        rows = [f"  {t.fault.name:44} {t.fault.place}  {t.why}" for t in found]
        lines += [head, *rows] if rows else []
    counts = collections.Counter(t.outcome for t in trials)
    last = (
        f"{counts[CAUGHT]} of {len(trials)} faults caught, {counts[SURVIVED]} survived, "
        f"{counts[ERROR]} errors"
    )
    return "\n".join([*lines, last])


def part_of(faults: list[Fault], text: str) -> list[Fault]:
    """One of some equal parts of the faults, "2/6" the second of six."""
    part, parts = (int(x) for x in text.split("/"))
    return faults[len(faults) * (part - 1) // parts : len(faults) * part // parts]


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Put faults in and see tests turn red.")
    parser.add_argument("words", nargs="*", help="parts of the names of faults")
    parser.add_argument("--all", action="store_true", help="every fault")
    parser.add_argument("--part", default="1/1", help="which part of them, as 2/6")
    parser.add_argument("--list", action="store_true", help="only name the faults")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="how many at once")
    asked = parser.parse_args(arguments)
    everything = asked.all or (asked.list and not asked.words)
    faults = [f for f in FAULTS if everything or any(w in f.name for w in asked.words)]
    faults = part_of(faults, asked.part)
    if not faults:
        parser.error("name some faults that are there, or --all, or --list")
    if asked.list:
        print("\n".join(f"{f.name:44} {f.place}" for f in faults))
        return 0
    start = time.monotonic()
    for library in LOADED:
        importlib.import_module(library)
    with tempfile.TemporaryDirectory() as folder:
        houses = [copied(Path(folder) / str(i)) for i in range(asked.workers)]
        trials = try_all(faults, houses)
    print(f"\n{told(trials)} in {(time.monotonic() - start) / 60:.0f} min")
    return 0 if all(one.outcome == CAUGHT for one in trials) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
