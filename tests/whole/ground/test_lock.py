"""Locks of saves: one at a time, a bounded wait, and no wait for the dead."""

import contextlib
import json
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from core.errors import SaveBusy
from core.ground import lock as lock_module
from core.ground.lock import only_saver
from core.ground.store import open_property, save_property
from tests import ground_files as g

ROOT = Path(__file__).resolve().parents[3]
SOON_S, LONGER_S = 0.1, 0.2  # one waits on where the other is over
pytestmark = pytest.mark.skipif(os.name == "nt", reason="locks by flock")
HOLD = """
import os, sys, time
from pathlib import Path
from core.ground.lock import only_saver
with only_saver(Path(sys.argv[1])):
    if sys.argv[2] == "orphan" and os.fork():
        os._exit(0)  # dies at once: its child still has the lock
    print(os.getppid() if sys.argv[2] == "orphan" else os.getpid(), flush=True)
    time.sleep(60)
"""
TAKE_TURNS = """
import sys, time
from pathlib import Path
from core.ground import lock
from core.ground.lock import only_saver
lock.DEAD_FOR_S = float(sys.argv[3])
for _ in range(4):
    with only_saver(Path(sys.argv[1]), 60):
        with open(sys.argv[2], "a") as log:
            log.write("in\\n"); log.flush(); time.sleep(0.02); log.write("out\\n")
"""


@pytest.fixture
def holder():
    """holder(lock, how) starts a process that has a lock and keeps it."""
    running = []

    def start(lock: Path, how: str = "alive") -> subprocess.Popen:
        process = subprocess.Popen(
            [sys.executable, "-c", HOLD, str(lock), how],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        running.append(process)
        process.told = process.stdout.readline()
        return process

    yield start
    for process in running:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()


@pytest.fixture
def soon(monkeypatch):
    """Who has a lock may be called dead at once, not after a second."""
    monkeypatch.setattr(lock_module, "DEAD_FOR_S", SOON_S)


@pytest.mark.usefixtures("soon")
def test_a_hung_process_is_named_after_a_while(tmp_path, holder):
    lock = tmp_path / "lock"
    process = holder(lock)
    os.kill(process.pid, signal.SIGSTOP)
    started = time.monotonic()
    with pytest.raises(SaveBusy) as caught, only_saver(lock, LONGER_S):
        pytest.fail("two savers at once")
    assert LONGER_S <= time.monotonic() - started < 5
    assert f"process {process.pid} on" in caught.value.what
    assert str(lock) in caught.value.fix
    process.kill()
    process.wait()
    with only_saver(lock, LONGER_S):  # the system let go of it
        pass


def test_a_lock_that_the_child_of_a_dead_process_has_is_taken_over(tmp_path, holder, monkeypatch):
    lock = tmp_path / "lock"
    process = holder(lock, "orphan")
    process.wait()
    monkeypatch.setattr(lock_module, "DEAD_FOR_S", LONGER_S)
    with pytest.raises(BlockingIOError), lock.open("rb") as stream:
        lock_module._lock(stream)
    started = time.monotonic()
    with only_saver(lock, 30):
        assert lock_module.DEAD_FOR_S <= time.monotonic() - started < 10
        with pytest.raises(SaveBusy):  # and it is a whole lock again
            _in_another_process(lock)
    with only_saver(lock, 0.1):
        pass


def _in_another_process(lock: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from core.errors import SaveBusy\n"
        "from core.ground.lock import only_saver\n"
        "try:\n  with only_saver(Path(sys.argv[1]), 0.1): pass\n"
        "except SaveBusy: sys.exit(9)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(lock)], cwd=ROOT, check=False)
    if done.returncode == 9:
        raise SaveBusy("busy")
    assert done.returncode == 0


def test_several_that_wait_for_a_dead_one_go_in_one_at_a_time(tmp_path, holder):
    lock, log = tmp_path / "lock", tmp_path / "log"
    holder(lock, "orphan").wait()
    racing = [
        subprocess.Popen(
            [sys.executable, "-c", TAKE_TURNS, str(lock), str(log), str(LONGER_S)], cwd=ROOT
        )
        for _ in range(4)
    ]
    assert [process.wait(timeout=60) for process in racing] == [0] * 4
    assert log.read_text().split() == ["in", "out"] * 16


def test_a_lock_that_was_taken_over_before_it_was_had_is_none(tmp_path, monkeypatch):
    path, locked, once = tmp_path / "farm.lock", lock_module._locked, []

    def taken_over_first(stream) -> bool:
        if not once:
            once.append(path.unlink())
            path.touch()  # another's, opened after ours
        return locked(stream)

    monkeypatch.setattr(lock_module, "_locked", taken_over_first)
    with only_saver(path, 5), path.open("rb") as other:
        assert not locked(other)  # what is had is the file of that name


@pytest.mark.usefixtures("soon")
@pytest.mark.parametrize(
    "signed",
    [
        b"",
        b"what",
        b"[1]",
        b'{"pid": "1"}',
        b'{"pid": -1}',
        b"{" * 900,
        json.dumps({"pid": 2**22 + 5, "host": "elsewhere", "pids": ""}).encode(),
    ],
)
def test_one_that_cannot_be_seen_is_never_called_dead(tmp_path, signed):
    lock = tmp_path / "lock"
    lock.write_bytes(signed)
    with lock.open("rb") as stream:
        lock_module._lock(stream)
        with pytest.raises(SaveBusy) as caught, only_saver(lock, LONGER_S):
            pytest.fail("two savers at once")
    named = b"elsewhere" in signed
    assert ("elsewhere" in caught.value.what) == named
    assert named or "another program" in caught.value.what or "process -1" in caught.value.what


def test_a_thread_that_hangs_does_not_stop_the_others_for_good(tmp_path):
    lock, inside, end = tmp_path / "lock", threading.Event(), threading.Event()

    def hang() -> None:
        with only_saver(lock):
            inside.set()
            end.wait(20)

    hanging = threading.Thread(target=hang)
    hanging.start()
    assert inside.wait(5)
    with pytest.raises(SaveBusy, match="this program itself"), only_saver(lock, 0.2):
        pytest.fail("two savers at once")
    with only_saver(tmp_path / "another", 0.2):  # other files are not held up
        pass
    end.set()
    hanging.join()
    with only_saver(lock, 0.2):
        pass


def test_a_save_says_for_whom_it_waited_and_loses_nothing(tmp_path, holder, monkeypatch):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    opened = open_property(path)
    saved = save_property(opened, opened.document, now_s=1)
    process = holder(path.parent / "versions" / "farm.json" / "lock")
    monkeypatch.setattr(lock_module.only_saver.__wrapped__, "__defaults__", (0.5,))
    with pytest.raises(SaveBusy, match=rf"farm.json: process {process.pid} on .* since"):
        save_property(saved, saved.document, now_s=2)
    assert open_property(path) == saved
