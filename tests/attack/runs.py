"""Commands run as somebody else would run them, held to so much memory and disk."""

import os
import resource
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GIB = 1 << 30
LONGEST_S = 120


def core(*words, memory=2 * GIB, disk=None, **more) -> subprocess.CompletedProcess:
    """python -m core with these words.

    Args: the words; most bytes of address space; most bytes of one file, as a full disk
    would have it; more for subprocess.run.
    """

    def held() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        if disk is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (disk, disk))

    command = [sys.executable, "-m", "core", *map(str, words)]
    # one thread each: the library of sums takes address space for every one
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(
        command,
        cwd=ROOT,
        env=env,
        text=True,
        timeout=LONGEST_S,
        preexec_fn=held,
        check=False,
        **{"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **more},
    )
