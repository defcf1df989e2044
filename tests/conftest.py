"""What every test shares: no network, an own home folder, a server, a browser."""

import concurrent.futures
import contextlib
import functools
import itertools
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import anyio
import pytest
from hypothesis import settings

from tests.few_stands import few_stands_file

ROOT = Path(__file__).resolve().parents[1]
LOOPBACK = {"127.0.0.1", "127.0.0.2", "::1", "localhost", ""}
BROWSER_NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "msedge",
)
BROWSER_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
)
VIEWS = {
    "phone": {
        "viewport": {"width": 390, "height": 844},
        "device_scale_factor": 2,
        "has_touch": True,
        "is_mobile": True,
    },
    "desk": {"viewport": {"width": 1440, "height": 900}},
}
# for Chromium nothing has an address but this machine
NO_NAME_IS_FOUND = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE 127.0.0.2"
COUNT_RUNS = """
  const watch = window.appWatch = {runs: 0};
  new MutationObserver(() => {
    const now = document.querySelector('[data-testid=stApp]')?.dataset.testScriptState;
    if (now === watch.state) return;
    watch.state = now;
    watch.runs += now === 'running';
    if (now === 'running') watch.asked = null;
  }).observe(document, {subtree: true, childList: true, attributes: true,
                        attributeFilter: ['data-test-script-state']});
  const send = WebSocket.prototype.send;
  WebSocket.prototype.send = function (data) {
    const bytes = data instanceof ArrayBuffer ? new Uint8Array(data) : data;
    // a BackMsg's rerun_script; what is asked while one runs may become part of it
    if (bytes[0] === 0x5a && watch.state === 'notRunning') watch.asked = performance.now();
    return send.call(this, data);
  };
"""
AT_REST = """([call, shows, quiet, late]) => {
  const watch = window.appWatch, now = performance.now();
  if (watch.call !== call) {
    const before = watch.state === 'running' ? watch.runs - 1 : watch.runs;
    Object.assign(watch, {call, before, from: now, still: now});
  }
  const moves = a => a.playState === 'running' && a.effect.getComputedTiming().endTime < 1e5;
  if (watch.state !== 'notRunning' || document.querySelector('[data-stale=true]')
      || document.getAnimations().some(moves)) watch.still = Infinity;
  else if (watch.still === Infinity) watch.still = now;
  if (watch.asked && now - watch.asked < late) return false;
  const began = watch.runs > watch.before || now - watch.from > shows;
  return began && now - watch.still >= quiet;
}"""
RUN_SHOWS_MS, QUIET_MS, LOOKS_EVERY_MS = 250, 50, 50
RUN_IS_LATE_MS = 10_000  # one that was asked for is under way by then, or was part of another
CALLS = itertools.count()
PORTS_FROM = 21_000  # below those that systems hand out by themselves
MOST_WORKERS = 4  # each has a dashboard and a Chromium of its own
SERVER_START_S = 60
APP_RUN_MS = 60_000
NOW = "2026-11-10T04:30:00-05:00"  # the clock of every dashboard that a test opens

# the same examples on every machine, and no clock in the verdict
settings.register_profile("steady", derandomize=True, deadline=None, database=None)
settings.load_profile("steady")


@pytest.fixture(autouse=True, scope="session")
def only_loopback():
    """No test opens a connection that leaves this machine, not even by name."""
    patch = pytest.MonkeyPatch()
    for name in ("connect", "connect_ex"):
        patch.setattr(socket.socket, name, _guarded(getattr(socket.socket, name)))
    look_up = socket.getaddrinfo

    def look_up_loopback(host, *args, **kwargs):
        _refuse_beyond_loopback(host)
        return look_up(host, *args, **kwargs)

    patch.setattr(socket, "getaddrinfo", look_up_loopback)
    yield
    patch.undo()


def _guarded(connect):
    @functools.wraps(connect)
    def guarded(self, address):
        if self.family in (socket.AF_INET, socket.AF_INET6):
            _refuse_beyond_loopback(address[0])
        return connect(self, address)

    return guarded


def _refuse_beyond_loopback(host) -> None:
    name = host.decode() if isinstance(host, bytes) else host
    if name is not None and name not in LOOPBACK:
        # not an OSError: code that copes with a dead network must not hide this
        pytest.fail(f"a test tried to reach {name}; tests stay on this machine")


@pytest.fixture(autouse=True, scope="session")
def own_home(tmp_path_factory):
    """The user's own files are never touched: a folder of the test run instead."""
    patch = pytest.MonkeyPatch()
    home = tmp_path_factory.mktemp("home")
    patch.setenv("STAND_WIND_HOME", str(home))
    yield home
    patch.undo()


def find_browser() -> str | None:
    """A Chromium on this machine, or None."""
    named = os.environ.get("STAND_WIND_CHROMIUM")
    if named:
        return named
    found = (shutil.which(name) for name in BROWSER_NAMES)
    placed = (place for place in BROWSER_PLACES if Path(place).exists())
    return next((path for path in (*found, *placed) if path), None)


def _no_browser(reason: str) -> None:
    if os.environ.get("STAND_WIND_BROWSER") == "required":
        pytest.fail(f"browser required: {reason}", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def chromium():
    """A running Chromium; the test is skipped, with the reason, where there is none."""
    path = find_browser()
    if path is None:
        _no_browser("no Chromium found on this machine (STAND_WIND_CHROMIUM can name one)")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _no_browser("playwright is not installed (tests/requirements.txt)")
    # Chromium's sandbox does not run as root
    args = ["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=[*args, NO_NAME_IS_FOUND])
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def windows(chromium):
    """windows(view): the one window of a size; what it has loaded once is kept for all tests."""

    @functools.cache
    def window(view: str):
        return new_window(chromium, view)

    return window


def new_window(browser, view: str):
    """A window of its own at a size, with nothing kept: what `page` has for all tests."""
    window = browser.new_context(**VIEWS[view], locale="en-US", timezone_id="America/New_York")
    window.add_init_script(COUNT_RUNS)
    return window


@pytest.fixture(scope="session")
def dashboard_home(tmp_path_factory):
    """The data folder of the running dashboard."""
    home = tmp_path_factory.mktemp("server") / "home"
    home.mkdir()
    return home


@pytest.fixture(scope="session")
def dashboard_url(dashboard_home):
    """Address of a running dashboard with an empty home folder of its own, and a small demo."""
    with running_dashboard(dashboard_home, demo=few_stands_file()) as url:
        yield url


@pytest.fixture
def fresh_dashboard(tmp_path):
    """Address of a dashboard that nobody has visited yet."""
    with running_dashboard(tmp_path) as url:
        yield url


@pytest.fixture
def start_dashboard():
    """start_dashboard(home, now) starts one more with a small demo, on its own clock, and gives
    its address."""
    with contextlib.ExitStack() as running:
        yield lambda home, now=NOW: running.enter_context(
            running_dashboard(home, now, demo=few_stands_file())
        )


def run_async(function, *args):
    """Runs async code to its end, also where the browser's driver has a loop in this thread."""
    with concurrent.futures.ThreadPoolExecutor(1) as other:
        return other.submit(anyio.run, function, *args).result()


def network_address() -> str:
    """Stands for this machine's address on a network: another of its own, where it has one."""
    with socket.socket() as probe:
        try:
            probe.bind(("127.0.0.2", 0))
        except OSError:
            return "127.0.0.1"  # systems with one loopback address
    return "127.0.0.2"


def free_port() -> int:
    """The first port that nobody listens at, of ten that are this process's own.

    The same one again where it can be: for an address that it knows, Chromium has compiled
    the program.
    """
    first = PORTS_FROM + os.getpid() % 1000 * 10
    for port in range(first, first + 10):
        with socket.socket() as probe, contextlib.suppress(OSError):
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the server does
            probe.bind(("127.0.0.1", port))
            return port
    pytest.fail(f"ports {first} to {first + 9} of this machine are all in use")


@contextlib.contextmanager
def running_dashboard(
    home: Path,
    now: str = NOW,
    port: int = 0,
    *,
    demo: Path | None = None,
    watched_by: tuple[str, ...] = (),
    **variables,
):
    """A dashboard of its own: gives its address, and ends it at the end.

    `demo` is a file that stands in for the demo, `watched_by` are the words of a program that
    watches it, `variables` of its environment.
    """
    port = port or free_port()
    streamlit = ("tests.few_stands", str(demo)) if demo else ("streamlit",)
    command = [
        *watched_by,
        *(sys.executable, "-m", *streamlit, "run", "dashboard.py"),
        *("--server.address", "127.0.0.1", "--server.port", str(port)),
        *("--server.headless", "true", "--server.fileWatcherType", "none"),
        *("--browser.gatherUsageStats", "false"),
    ]
    output = home.parent / f"output-{port}.txt"
    environment = {**os.environ, "STAND_WIND_HOME": str(home), "STAND_WIND_NOW": now, **variables}
    with output.open("w") as stream:
        server = subprocess.Popen(
            command, cwd=ROOT, env=environment, stdout=stream, stderr=subprocess.STDOUT
        )
        try:
            url = f"http://127.0.0.1:{port}"
            _wait_until_healthy(url, server, output)
            yield url
        finally:
            server.terminate()
            server.wait(timeout=20)


def _wait_until_healthy(url: str, server: subprocess.Popen, output: Path) -> None:
    last = time.monotonic() + SERVER_START_S
    while time.monotonic() < last and server.poll() is None:
        try:
            with urllib.request.urlopen(f"{url}/_stcore/health", timeout=1) as answer:
                if answer.status == 200:
                    return
        except OSError:
            time.sleep(0.1)
    pytest.fail(f"the dashboard did not start:\n{output.read_text()}", pytrace=False)


@pytest.fixture(params=sorted(VIEWS))
def view(request) -> str:
    """Both sizes, one after the other; parametrize `view` to take one."""
    return request.param


@pytest.fixture(scope="session")
def tabs(windows):
    """tabs(view): the one tab of a window: its process keeps the program that it has loaded."""

    @functools.cache
    def tab(view: str):
        return _watched_tab(windows(view))

    return tab


def _watched_tab(window):
    tab = window.new_page()
    tab.outside, tab.console_errors = [], []
    tab.on("request", lambda r: None if _is_local(r.url) else tab.outside.append(r.url))
    tab.on("console", lambda m: tab.console_errors.append(m.text) if m.type == "error" else None)
    tab.on("pageerror", lambda error: tab.console_errors.append(str(error)))
    return tab


@pytest.fixture
def page(request, view, windows, tabs):
    """A tab at the size of `view` with nothing in it; one of its own for a test marked own_tab.

    `page.outside` lists the requests that wanted to leave this machine (they are
    refused), `page.console_errors` what the page complained of.
    """
    own = request.node.get_closest_marker("own_tab")
    tab = _watched_tab(windows(view)) if own else tabs(view)
    yield tab
    for left in windows(view).pages:
        if left is not tabs(view):
            left.close()
    _emptied(tabs(view))
    windows(view).clear_cookies()


def _emptied(tab) -> None:
    if tab.url != "about:blank":
        tab.evaluate("sessionStorage.clear()")
        tab.goto("about:blank")
    tab.outside.clear()
    tab.console_errors.clear()


def _is_local(url: str) -> bool:
    own = ("http://127.0.0.1", "ws://127.0.0.1", "http://127.0.0.2", "ws://127.0.0.2")
    return url.startswith((*own, "data:", "blob:", "about:"))


@pytest.fixture
def open_page(page, dashboard_url):
    """open_page("Season_winds") visits a page by its address and waits for it."""

    def visit(path: str = ""):
        page.goto(f"{dashboard_url}/{path}")
        wait_for_app_run(page)
        return page

    return visit


@pytest.fixture
def settled():
    """settled(page): waits until the script that a tap started has run to its end."""
    return wait_for_app_run


def wait_for_app_run(page, timeout_ms: int = APP_RUN_MS) -> None:
    """Until the app is at rest: nothing runs, nothing is left of the run before, nothing moves.

    A tap needs a moment before its run is asked for, and some start none; a run that was asked for
    is waited for, however long a busy machine takes to begin it.
    """
    page.wait_for_function(
        AT_REST,
        arg=[next(CALLS), RUN_SHOWS_MS, QUIET_MS, RUN_IS_LATE_MS],
        timeout=timeout_ms,
        polling=LOOKS_EVERY_MS,
    )


def pytest_xdist_auto_num_workers(config) -> int:
    """A worker for each core; none for a file or two, which run before workers have started."""
    is_small = len(config.args) < 4 and all(".py" in asked for asked in config.args)
    return 0 if is_small else min(os.cpu_count() or 1, MOST_WORKERS)


def pytest_collection_modifyitems(items):
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)
