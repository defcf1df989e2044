"""A save that is killed at random loses nothing."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests import ground_files as g

KILLS = 50
SAVES = 21


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_killed_at_random(tmp_path):
    path = tmp_path / "farm.json"
    path.write_bytes(g.as_bytes(g.whole_ground()))
    script = Path(__file__).with_name("kill_saves.py")
    command = [sys.executable, str(script), str(path), str(KILLS), str(SAVES), "7"]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert ran.returncode == 0, ran.stderr
    found = re.fullmatch(
        r"(\d+) kills, (\d+) saves, (\d+) kills inside a save, nothing lost\n", ran.stdout
    )
    assert int(found[1]) >= KILLS
    # else the kills fell on nothing and the test proves nothing
    assert int(found[2]) >= SAVES
    assert int(found[3]) > 5
