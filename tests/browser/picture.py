"""Makes the README's picture: python tests/browser/picture.py (needs Chromium)."""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    from playwright.sync_api import sync_playwright

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [
        *(sys.executable, "-m", "streamlit", "run", "dashboard.py", "--server.headless", "true"),
        *("--server.port", str(port), "--server.fileWatcherType", "none"),
    ]
    home = tempfile.TemporaryDirectory()  # no ground of one's own
    own = {"STAND_WIND_NOW": "2026-11-10T04:30:00-05:00", "STAND_WIND_HOME": home.name}
    server = subprocess.Popen(command, cwd=ROOT, env={**os.environ, **own})
    url = f"http://127.0.0.1:{port}"
    try:
        for _ in range(100):
            try:
                urllib.request.urlopen(f"{url}/_stcore/health", timeout=1)
                break
            except OSError:
                time.sleep(0.2)
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=shutil.which("chromium"), args=["--no-sandbox"]
            )
            size = {"width": 390, "height": 844}
            page = browser.new_page(viewport=size, device_scale_factor=2)
            page.goto(f"{url}/?wind=SW+6-10")
            page.locator(".head h1").wait_for()
            page.wait_for_timeout(3000)
            page.screenshot(path=ROOT / ".readme" / "home.png")
            browser.close()
    finally:
        server.terminate()
        server.wait()
        home.cleanup()


if __name__ == "__main__":
    main()
