"""Kills a process that saves, again and again, and looks whether anything was lost.

    python tests/whole/ground/kill_saves.py FILE KILLS SAVES SEED

The child saves without pause and reports each save that came back. After the kill the
file must hold the last reported save or the one after it, and the earlier versions all
the saves before that, whole. Goes on until both the KILLS and the SAVES are reached, so
that a slow machine proves as much as a quick one, and prints how often a kill fell inside
a save.
"""

import copy
import os
import random
import shutil
import signal
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

from core.ground.store import list_versions, open_property, open_version, save_property

LONGEST_SAVES = 3  # a kill comes within as many saves, however slow the disk is today
MOST_ROUNDS = 20  # times KILLS; beyond it something hinders every save


def save_for_ever(path: Path, report: int) -> None:
    """Saves with a growing number in the name, and reports each."""
    while True:
        opened = open_property(path)
        number = number_of(opened) + 1
        document = copy.deepcopy(opened.document)
        document["property"]["name"] = f"save {number}"
        save_property(opened, document, now_s=1_800_000_000 + number)
        os.write(report, f"{number}\n".encode())


def time_of_a_save(path: Path) -> float:
    """Seconds, the middle of five on a copy."""
    copy_of = path.with_name("timed") / path.name
    copy_of.parent.mkdir()
    copy_of.write_bytes(path.read_bytes())
    times = []
    for _ in range(5):
        opened, start = open_property(copy_of), time.monotonic()
        save_property(opened, opened.document, now_s=1_800_000_000)
        times.append(time.monotonic() - start)
    shutil.rmtree(copy_of.parent)
    return sorted(times)[2]


def number_of(opened) -> int:
    name = opened.property.name
    return int(name.removeprefix("save ")) if name.startswith("save ") else 0


def kill_once(path: Path, wait_s: float) -> list[int]:
    """Lets a child save for a while, kills it, and gives the saves it reported."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.write(writing, b"\n")  # it has begun: a busy machine may let it wait for long
            save_for_ever(path, writing)
        finally:
            os._exit(1)  # only a fault ends the loop
    os.close(writing)
    os.read(reading, 1)
    time.sleep(wait_s)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the child failed by itself"
    with os.fdopen(reading) as stream:
        return [int(line) for line in stream.read().split()]


def check(path: Path, last: int) -> int:
    """The number the file holds; AssertionError where something was lost."""
    number = number_of(open_property(path))
    assert number in (last, last + 1), f"the file holds save {number} after save {last}"
    kept = [number_of(open_version(path, v.number)) for v in list_versions(path)]
    # the newest earlier version may be the file itself, where a kill fell between the two
    kept = [n for n in kept if n != number]
    assert kept == list(range(number - 1, number - 1 - len(kept), -1)), (number, kept)
    assert len(kept) >= min(number, 19)
    return number


def main(path: Path, kills: int, saves: int, seed: int) -> None:
    chance = random.Random(seed)
    last = inside = done = 0
    longest_s = LONGEST_SAVES * time_of_a_save(path)
    while (done < kills or last < saves) and done < MOST_ROUNDS * kills:
        reported = kill_once(path, chance.uniform(0, longest_s))
        # the disk may have grown slower than it was when it was timed
        longest_s *= 1.0 if reported else 1.02
        last = max([last, *reported])
        number = check(path, last)
        left = list(path.parent.rglob("*.saving"))
        assert len(left) <= 2, left
        inside += bool(left) or number > last
        last = number
        done += 1
    print(f"{done} kills, {last} saves, {inside} kills inside a save, nothing lost")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4]))
