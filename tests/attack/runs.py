"""Commands run as somebody else would run them, held to so much memory and disk."""

import json
import os
import resource
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GIB = 1 << 30
LONGEST_S = 600
EACH = """
import contextlib, io, json, sys
from core.__main__ import main
ends = []
for words in json.loads(sys.argv[1]):
    told = io.StringIO()
    with contextlib.redirect_stderr(told), contextlib.redirect_stdout(io.StringIO()):
        ends.append((main(words), told.getvalue()))
print(json.dumps(ends))
"""


def core(*words, memory=2 * GIB, disk=None, **more) -> subprocess.CompletedProcess:
    """python -m core with these words.

    Args: the words; most bytes of address space; most bytes of one file, as a full disk
    would have it; more for subprocess.run.
    """

    return _run(["-m", "core", *map(str, words)], memory, disk, **more)


def core_each(*commands, memory=2 * GIB) -> list[tuple[int, str]]:
    """Commands one after the other in one process, which has to load the libraries once.

    Args: the words of each; most bytes of address space, for all together.
    Returns: code and message of each; the test fails where the process itself ends.
    """
    done = _run(["-c", EACH, json.dumps([list(map(str, c)) for c in commands])], memory, None)
    assert done.returncode == 0, done.stderr[-500:]
    return [(code, told) for code, told in json.loads(done.stdout)]


def _run(python: list[str], memory: int, disk: int | None, **more):
    def held() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        if disk is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (disk, disk))

    # one thread each: the library of sums takes address space for every one
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(
        [sys.executable, *python],
        cwd=ROOT,
        env=env,
        text=True,
        timeout=LONGEST_S,
        preexec_fn=held,
        check=False,
        **{"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **more},
    )
