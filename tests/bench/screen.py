"""How fast the home screen answers in Chromium: python tests/bench/screen.py

Prints medians of ten: first answer of a fresh tab on a warm server, a tap on another
stand, and both with the processor slowed four times. Figures hold for the machine
they were taken on, which is printed with them.
"""

import os
import platform
import re
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PHONE = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
TIMES = 10
QUERY = "?wind=E+12&date=2026-11-10&sit=evening"


def main() -> None:
    from playwright.sync_api import sync_playwright

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [
        *(sys.executable, "-m", "streamlit", "run", "dashboard.py", "--server.headless", "true"),
        *("--server.port", str(port), "--server.fileWatcherType", "none"),
    ]
    with tempfile.TemporaryDirectory() as home:
        server = subprocess.Popen(
            command,
            cwd=ROOT,
            env={**os.environ, "STAND_WIND_HOME": home},
            stdout=subprocess.DEVNULL,
        )
        try:
            url = f"http://127.0.0.1:{port}"
            wait_for(url)
            with sync_playwright() as playwright:
                chromium = playwright.chromium.launch(
                    executable_path=shutil.which("chromium"), args=["--no-sandbox"]
                )
                measure(chromium, url, 1)  # warms the server
                print(
                    f"{platform.machine()}, {os.cpu_count()} cores, Python "
                    f"{platform.python_version()}, medians of {TIMES}"
                )
                for rate in (1, 4):
                    first, tap = zip(
                        *(measure(chromium, url, rate) for _ in range(TIMES)), strict=True
                    )
                    print(
                        f"processor slowed {rate} times: first answer "
                        f"{statistics.median(first):.2f} s (worst {max(first):.2f}), a tap "
                        f"{statistics.median(tap):.2f} s (worst {max(tap):.2f})"
                    )
        finally:
            server.terminate()


def wait_for(url: str) -> None:
    for _ in range(150):
        try:
            urllib.request.urlopen(f"{url}/_stcore/health", timeout=1)
            return
        except OSError:
            time.sleep(0.2)
    raise SystemExit("the dashboard did not start")


def measure(chromium, url: str, rate: int) -> tuple[float, float]:
    """Seconds to the first answer of a fresh tab, and from a tap to the next answer."""
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": rate})
    began = time.perf_counter()
    page.goto(f"{url}/{QUERY}", wait_until="commit")
    page.locator(".head h1").wait_for()
    first = time.perf_counter() - began
    page.locator("[data-testid='stApp'][data-test-script-state='notRunning']").wait_for(
        state="attached"
    )
    heading = page.locator(".head h1").inner_text()
    button = page.locator("[class*='st-key-look-'] button").first
    button.scroll_into_view_if_needed()
    page.wait_for_timeout(300)
    began = time.perf_counter()
    button.click(no_wait_after=True)
    page.locator(".head h1").filter(has_not_text=re.compile(f"^{re.escape(heading)}$")).wait_for()
    tap = time.perf_counter() - began
    context.close()
    return first, tap


if __name__ == "__main__":
    main()
