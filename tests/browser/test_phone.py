"""The phone's dashboard behind its door, in a real Chromium; on this machine only."""

import contextlib
import json
import os
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests import ground_files as g
from tests.browser.test_map import GUM, Hand, ground, near
from tests.conftest import APP_RUN_MS, NOW, free_port, network_address, new_window
from tests.few_stands import few_stands_file

ROOT = Path(__file__).resolve().parents[2]
DEEP = ("", "season_winds", "learn_the_ground", "map", "words", "media/x.svg", "_stcore/health")


class Opened:
    """A running `python -m core phone`: its link, and ways to end it."""

    def __init__(self, home: Path, *more: str, port: int = 0) -> None:
        self.port = port or free_port()
        where = ("--address", network_address(), "--port", str(self.port))
        self.process = subprocess.Popen(
            [sys.executable, "-m", "core", "phone", *where, *more],
            cwd=ROOT,
            env={**os.environ, "STAND_WIND_HOME": str(home), "STAND_WIND_NOW": NOW},
            stdout=subprocess.PIPE,
            text=True,
        )
        told = []
        for line in self.process.stdout:
            told.append(line)
            if "Ctrl+C" in line:
                break
        link = re.search(r"http://\S+", "".join(told))
        assert link, told
        self.link = link[0]
        self.base = self.link.partition("?")[0]

    def kill(self) -> None:
        """As a power cut does: neither it nor its server gets to say anything."""
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        for child in children.read_text().split() if children.exists() else ():
            os.kill(int(child), signal.SIGKILL)
        self.process.kill()
        self.process.wait(timeout=20)

    def stop(self) -> None:
        """As Ctrl+C does."""
        self.process.terminate()
        assert self.process.wait(timeout=20) == 0
        assert "opens nothing any more" in self.process.stdout.read()


@contextlib.contextmanager
def opened_to_phone(home: Path, *more: str, port: int = 0):
    """Gives an `Opened`; stops it as Ctrl+C does, where it still runs."""
    opened = Opened(home, *more, port=port)
    try:
        yield opened
    finally:
        if opened.process.poll() is None:
            opened.stop()


def answer_of(url: str, **headers) -> tuple[int, str]:
    """Status and text of an address, without a browser."""
    try:
        with urllib.request.urlopen(urllib.request.Request(url, headers=headers)) as found:
            return found.status, found.read().decode()
    except urllib.error.HTTPError as refused:
        return refused.code, refused.read().decode()


@pytest.mark.parametrize("view", ["phone"], indirect=True)
def test_a_phone_comes_in_by_the_link_and_nobody_else(page, tmp_path, settled):
    with opened_to_phone(tmp_path) as opened:
        base, link = opened.base, opened.link
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
        page.goto(f"{base}words?word=just-off")  # the browser keeps it for the session
        settled(page)
        assert "Just-off." in page.inner_text("body")
        page.reload()
        settled(page)
        assert "Just-off." in page.inner_text("body")
        assert page.outside == []
        assert page.locator("[data-testid=stException]").count() == 0


SMALL = {"width": 360, "height": 640}
STATE = "[data-testid=stApp][data-test-connection-state=%s]"


@pytest.mark.parametrize("view", ["phone"], indirect=True)
def test_a_phone_that_only_looks_comes_back_where_it_was(page, tmp_path, settled):
    page.set_viewport_size(SMALL)
    ground, kept = tmp_path / "small.json", few_stands_file(("dry-fork", "plum-edge")).read_bytes()
    ground.write_bytes(kept)
    with opened_to_phone(tmp_path, "--look", "--same-key") as first:
        page.goto(first.link.replace("/?", "/map?ground=small&"))
        settled(page)
        assert page.inner_text("h1") == "Looking only."
        assert page.locator(".leaflet-container").count() == 0
        page.goto(f"{first.base}?ground=small&wind=SW+12")
        settled(page)
        page.evaluate("window.sameWindow = true")
        wide = "document.documentElement.scrollWidth <= window.innerWidth"
        assert page.evaluate(wide)
        lost = page.locator(".st-key-answered .lost")
        assert not lost.is_visible()
        late = page.locator(".st-key-answered .late")
        assert not late.is_visible()
        # as if seven minutes had gone by without an answer, while the connection seems to hold
        page.evaluate("document.getAnimations().find(a => a.animationName == 'late').finish()")
        assert "over 7 minutes" in late.inner_text() and late.is_visible()
        assert page.locator(".st-key-answered").bounding_box()["width"] <= SMALL["width"]
        first.kill()
        lost.wait_for(timeout=APP_RUN_MS)
        assert "answered at 4:30 am, Tue 10 Nov" in lost.inner_text()
        assert "SW 12 mph" in page.inner_text("body")  # the answer stays, with its wind
    with opened_to_phone(tmp_path, "--look", "--same-key", port=first.port) as again:
        assert again.link == first.link
        page.locator(STATE % "CONNECTED").wait_for(timeout=APP_RUN_MS)
        settled(page)
        assert not lost.is_visible() and not late.is_visible()
        assert page.locator("[data-testid=stDialog]").count() == 0
        assert "SW 12 mph" in page.inner_text("body")
        assert page.evaluate("window.sameWindow")
    key = (tmp_path / "phone-key.txt").read_text()
    assert key in first.link
    assert os.name == "nt" or (tmp_path / "phone-key.txt").stat().st_mode & 0o077 == 0
    # sums of the land are kept beside, as a forecast is: no change of any ground
    assert {p.name for p in tmp_path.iterdir()} <= {"phone-key.txt", "cache", "small.json"}
    assert ground.read_bytes() == kept


@pytest.mark.parametrize("view", ["desk"], indirect=True)
def test_a_phone_and_the_laptop_draw_at_once_and_nothing_is_lost(
    page, settled, dashboard_home, dashboard_url
):
    file, drafts = dashboard_home / "thirty.json", dashboard_home / "drafts" / "thirty"
    file.write_bytes(g.as_bytes(ground("Thirty")))
    window = new_window(page.context.browser, "phone")
    with opened_to_phone(dashboard_home) as opened:
        laptop = Hand(page, settled, finger=False)
        phone = Hand(window.new_page(), settled, finger=True)
        laptop.url = f"{dashboard_url}/map?ground=thirty"
        phone.url = opened.link.replace("/?", "/map?ground=thirty&")
        for hand in (laptop, phone):  # neither goes on from what the other has drawn
            hand.open()
        for hand, place in ((laptop, (100, 20)), (phone, (60, 80))):
            hand.tap(*GUM)
            hand.drag(GUM, place)
        assert len(list(drafts.glob("*.json"))) == 2  # each page has its own
        page.get_by_role("button", name="Save", exact=True).click()
        settled(page)
        kept = file.read_bytes()
        phone.page.get_by_role("button", name="Save", exact=True).tap()
        settled(phone.page)
        assert "changed since it was opened" in phone.page.inner_text("body")
        assert file.read_bytes() == kept
        assert near(json.loads(kept)["features"][5]["geometry"]["coordinates"], 100, 20)
        assert len(list(drafts.glob("*.json"))) >= 1  # the phone's is still there
    window.close()
    file.unlink()
