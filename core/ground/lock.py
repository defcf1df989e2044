"""One saver at a time, in this process and among processes, and no wait without an end.

The system lets go of a lock when its process ends, however it ends; but a child may hold
what its dead parent took, and a process may hang. So the lock names who has it: a saver
waits a while, then says for whom, and takes over from one that is dead.
"""

import contextlib
import errno
import json
import os
import platform
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

from core.errors import SaveBusy
from core.ground.looking import refuse_changes

WAIT_S = 8.0
DEAD_FOR_S = 1.0  # who has just got the lock needs a moment to write its name
TRY_EVERY_S = 0.05
BUSY = (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK)
LOCKED_BYTE = 1 << 30  # Windows: what is locked can't be read, so it lies behind the name

_guard = threading.Lock()
_in_this_process: dict[str, threading.Lock] = {}


@contextlib.contextmanager
def only_saver(lock_path: Path, wait_s: float = WAIT_S) -> Iterator[None]:
    """Holds a lock for the time of a save.

    Args: the lock's file, in a folder that is there; how long to wait for another. [s]
    Where a file system has no locks, only this process is held to it.

    Raises: SaveBusy where another has it for longer; OSError; OnlyLooking.
    """
    refuse_changes()
    with _guard:
        own = _in_this_process.setdefault(str(lock_path), threading.Lock())
    if not own.acquire(timeout=wait_s):
        raise _busy(lock_path, {"pid": os.getpid(), "host": platform.node()})
    try:
        stream = _acquired(lock_path, wait_s)
        try:
            yield
        finally:
            with contextlib.suppress(OSError):
                stream.truncate(0)
            stream.close()  # lets go of the lock
    finally:
        own.release()


def _acquired(lock_path: Path, wait_s: float) -> BinaryIO:
    started = time.monotonic()
    while True:
        stream = lock_path.open("a+b", buffering=0)
        try:
            if _locked(stream) and _is_still(lock_path, stream):
                _sign(stream)
                return stream
            waited_s = time.monotonic() - started
            holder = _holder(stream)
            if waited_s >= min(DEAD_FOR_S, wait_s) and _is_dead(holder):
                _take_over(lock_path, stream)
            elif waited_s >= wait_s:
                raise _busy(lock_path, holder)
        except BaseException:
            stream.close()
            raise
        stream.close()
        time.sleep(TRY_EVERY_S)


def _locked(stream: BinaryIO | int) -> bool:
    """Whether the lock is had now; a file system without locks gives it to anybody."""
    try:
        _lock(stream)
    except OSError as fault:
        return fault.errno not in BUSY
    return True


def _lock(stream: Any) -> None:
    if os.name == "nt":
        import msvcrt

        stream.seek(LOCKED_BYTE)
        msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
    else:
        import fcntl

        fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _is_still(lock_path: Path, stream: BinaryIO) -> bool:
    """Whether the file that was locked is the one of that name: another may have taken over."""
    try:
        return os.path.samestat(lock_path.stat(), os.fstat(stream.fileno()))
    except FileNotFoundError:
        return False


def _take_over(lock_path: Path, stream: BinaryIO) -> None:
    """Puts the lock of a dead one out of the way, one waiter at a time."""
    folder = os.open(lock_path.parent, os.O_RDONLY)
    try:
        if _locked(folder) and _is_still(lock_path, stream):
            lock_path.unlink()
    finally:
        os.close(folder)


# --- who has it


def _spaces() -> str:
    """Which set of process numbers this is: those of another container mean nothing here."""
    with contextlib.suppress(OSError):
        return str(Path("/proc/self/ns/pid").readlink())
    return ""


def _sign(stream: BinaryIO) -> None:
    with contextlib.suppress(OSError):  # a full disk: nameless, but locked
        stream.truncate(0)
        name = {"pid": os.getpid(), "host": platform.node(), "pids": _spaces()}
        stream.write(json.dumps(name).encode())


def _holder(stream: BinaryIO) -> dict:
    """Who signed; nothing where nobody did."""
    with contextlib.suppress(OSError, ValueError, RecursionError):
        stream.seek(0)
        found = json.loads(stream.read(1000))
        if isinstance(found, dict) and isinstance(found.get("pid"), int):
            return found
    return {}


def _is_dead(holder: dict) -> bool:
    """Whether the process is gone; never said of one that can't be seen from here."""
    here = holder.get("host") == platform.node() and holder.get("pids") == _spaces()
    if not here or os.name == "nt" or holder["pid"] <= 0:
        return False
    try:
        os.kill(holder["pid"], 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False


def _busy(lock_path: Path, holder: dict) -> SaveBusy:
    who = "another program"
    if holder:
        pid, host = holder["pid"], holder.get("host") or "this computer"
        who = "this program itself" if pid == os.getpid() else f"process {pid} on {host}"
    since = ""
    with contextlib.suppress(OSError):
        since = time.strftime(", since %H:%M:%S", time.localtime(lock_path.stat().st_mtime))
    return SaveBusy(
        f"{who} is saving here{since}",
        lock_path.parent.name,
        "Save again in a moment. If it hangs, end it; if that computer is off, take out "
        f"{lock_path}.",
    )
