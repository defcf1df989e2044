"""The phone's dashboard behind its door, in a real Chromium; on this machine only."""

import contextlib
import os
import re
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests.conftest import NOW, free_port

ROOT = Path(__file__).resolve().parents[2]
DEEP = ("", "season_winds", "learn_the_ground", "map", "words", "media/x.svg", "_stcore/health")


@contextlib.contextmanager
def opened_to_phone(home: Path, *more: str):
    """Runs `python -m core phone`: gives its link; stops it as Ctrl+C does."""
    port = str(free_port())
    command = [sys.executable, "-m", "core", "phone", "--address", "127.0.0.1", "--port", port]
    environment = {**os.environ, "STAND_WIND_HOME": str(home), "STAND_WIND_NOW": NOW}
    process = subprocess.Popen(
        [*command, *more], cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True
    )
    told = []
    for line in process.stdout:
        told.append(line)
        if "Ctrl+C" in line:
            break
    link = re.search(r"http://\S+", "".join(told))
    assert link, told
    try:
        yield link[0]
    finally:
        process.terminate()
        assert process.wait(timeout=20) == 0
        assert "opens nothing any more" in process.stdout.read()


def answer_of(url: str, **headers) -> tuple[int, str]:
    """Status and text of an address, without a browser."""
    try:
        with urllib.request.urlopen(urllib.request.Request(url, headers=headers)) as found:
            return found.status, found.read().decode()
    except urllib.error.HTTPError as refused:
        return refused.code, refused.read().decode()


@pytest.mark.parametrize("view", ["phone"], indirect=True)
def test_a_phone_comes_in_by_the_link_and_nobody_else(page, tmp_path, settled):
    with opened_to_phone(tmp_path) as link:
        base = link.partition("?")[0]
        for deep in DEEP:
            for address in (f"{base}{deep}", f"{base}{deep}?key=wrong"):
                if deep and "wrong" in address:
                    continue  # a wrong key waits: one try is enough here
                status, text = answer_of(address, Host="evil.example")
                assert status == 403
                assert "This ground is private" in text
                assert "Bent Nail" not in text
        page.goto(f"{base}map")
        assert page.inner_text("h1") == "This ground is private"
        page.goto(link.replace("/?", "/words?point=NW&"))  # the link of any page
        settled(page)
        assert "key=" not in page.url
        assert "point=NW" in page.url
        page.goto(base)  # the browser keeps it for the session
        settled(page)
        assert "Dry fork" in page.inner_text("body")
        page.reload()
        settled(page)
        assert "Dry fork" in page.inner_text("body")
        assert page.outside == []
        assert page.locator("[data-testid=stException]").count() == 0


@pytest.mark.parametrize("view", ["phone"], indirect=True)
def test_who_may_only_look_sees_the_answer_and_no_drawing(page, tmp_path, settled):
    with opened_to_phone(tmp_path, "--look", "--same-key") as link:
        page.goto(link)
        settled(page)
        assert "Dry fork" in page.inner_text("body")
        page.goto(link.replace("/?", "/map?"))
        settled(page)
        assert page.inner_text("h1") == "Looking only."
        assert page.locator(".leaflet-container").count() == 0
    key = (tmp_path / "phone-key.txt").read_text()
    assert key in link
    assert os.name == "nt" or (tmp_path / "phone-key.txt").stat().st_mode & 0o077 == 0
    assert {p.name for p in tmp_path.iterdir()} == {"phone-key.txt"}
