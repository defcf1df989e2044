"""Who may call, and that nothing a page can do makes the server ask outside."""

import http.client
import re
import shutil
import subprocess
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import streamlit as st
from starlette.datastructures import Headers
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from pages.ui import callers
from tests.conftest import run_async, running_dashboard
from tests.few_stands import few_stands_file

ROOT = Path(__file__).resolve().parents[2]
PAGES = ("", *sorted(path.stem for path in (ROOT / "pages").glob("*.py")))
NAMES = ("localhost", "127.0.0.1")
OUTSIDE = "http://elsewhere.example"
# put before the server's own start: every look-up, connect and datagram is written down
RECORDER = """
import sys
def record(event, args):
    if event in ("socket.bind", "socket.connect", "socket.sendto", "socket.sendmsg"):
        print(event, args[-1], file=open({seen!r}, "a"), flush=True)
    elif event.startswith("socket.get") and event != "socket.gethostname":
        print(event, args[0], file=open({seen!r}, "a"), flush=True)
sys.addaudithook(record)
"""
CALL = re.compile(r'sin6?_addr=[^"]*"(?P<to>[^"]+)"|inet_pton\(AF_INET6, "(?P<to6>[^"]+)"')


@pytest.mark.parametrize(
    ("host", "origin", "refused"),
    [
        ("localhost:8501", None, None),
        ("LocalHost", None, None),
        ("127.0.0.1:8501", "http://127.0.0.1:8501", None),
        ("127.0.0.1:8501", "http://127.0.0.1:8502", callers.OTHER_PAGE),
        ("127.0.0.1:8501", "http://localhost:8501", callers.OTHER_PAGE),
        ("127.0.0.1:8501", OUTSIDE, callers.OTHER_PAGE),
        ("127.0.0.1:8501", "null", callers.OTHER_PAGE),
        ("127.0.0.1:8501", "", callers.OTHER_PAGE),
        ("elsewhere.example:8501", None, callers.OTHER_NAME),
        ("elsewhere.example", OUTSIDE, callers.OTHER_NAME),
        ("127.0.0.1.elsewhere.example", None, callers.OTHER_NAME),
        ("me@127.0.0.1.example", None, callers.OTHER_NAME),
        ("", None, callers.OTHER_NAME),
        ("[", None, callers.OTHER_NAME),
    ],
)
def test_who_is_let_in(host, origin, refused):
    given = {"host": host} | ({} if origin is None else {"origin": origin})
    assert callers.refusal(Headers(given), NAMES) == refused


def test_names_are_those_of_the_setting_alone():
    asked = Headers({"host": "192.168.1.20:8501"})
    assert callers.refusal(asked, ("192.168.1.20",)) is None
    assert callers.refusal(asked, ()) == callers.OTHER_NAME
    assert callers.refusal(Headers({"host": "[::1]:8501"}), ("::1",)) is None
    assert callers.refusal(Headers({"host": "camp.example"}), ("*.example",)) is None
    assert set(NAMES) == set(callers.own_callers()[0].kwargs["names"])


@pytest.mark.parametrize(
    ("settings", "where"),
    [
        ({}, "http://localhost:8501/"),
        ({"server.address": "127.0.0.1", "server.port": 8600}, "http://127.0.0.1:8600/"),
        ({"server.address": "0.0.0.0", "server.baseUrlPath": "a/"}, "http://localhost:8501/a"),
        ({"server.address": "::1", "server.sslCertFile": "x.pem"}, "https://[::1]:8501/"),
    ],
)
def test_it_opens_the_browser_where_there_is_one(settings, where, monkeypatch, capsys):
    plain = {"server.port": 8501, "server.baseUrlPath": "", "server.headless": False}
    monkeypatch.setattr(st, "get_option", lambda name: {**plain, **settings}.get(name))
    begun = []
    monkeypatch.setattr(
        callers.threading, "Timer", lambda _, call, words: Begun(begun, call, words)
    )

    async def start():
        async with callers.greeted(None):
            assert where in capsys.readouterr().out
        assert "Stopped." in capsys.readouterr().out

    run_async(start)
    assert begun == [(callers.webbrowser.open, (where,))]
    plain["server.headless"] = True
    run_async(start)
    assert len(begun) == 1


def test_ctrl_c_ends_the_server_and_is_not_handed_on(monkeypatch):
    class Server:
        should_exit = force_exit = False

        def handle_exit(self, *_) -> None:
            raise AssertionError("this hands it on")

    server, installed = Server(), []
    monkeypatch.setattr(callers.signal, "getsignal", lambda _: server.handle_exit)
    monkeypatch.setattr(callers.signal, "signal", lambda _, stop: installed.append(stop))
    callers.end_quietly()
    installed[0]()
    assert (server.should_exit, server.force_exit) == (True, False)
    installed[0]()
    assert server.force_exit
    monkeypatch.setattr(callers.signal, "getsignal", lambda _: callers.signal.SIG_DFL)
    callers.end_quietly()
    assert len(installed) == 1


class Begun:
    """A timer that only notes that it was started."""

    def __init__(self, begun, call, words):
        self.begun, self.what = begun, (call, words)

    def start(self):
        self.begun.append(self.what)


@pytest.fixture(scope="module")
def watched(tmp_path_factory):
    """A dashboard whose every look-up and connect is written down: its address, its notes."""
    folder = tmp_path_factory.mktemp("watched")
    (folder / "home").mkdir()
    seen, calls = folder / "seen.txt", folder / "calls.txt"
    seen.touch()
    calls.touch()
    (folder / "sitecustomize.py").write_text(RECORDER.format(seen=str(seen)), encoding="utf-8")
    with running_dashboard(
        folder / "home", demo=few_stands_file(), watched_by=_strace(calls), PYTHONPATH=str(folder)
    ) as url:
        yield url, seen, calls


def _strace(calls: Path) -> tuple[str, ...]:
    """The words that watch system calls too, where this machine can."""
    words = ("strace", "-D", "-f", "-qq", "-e", "trace=connect,sendto,sendmsg", "-o")
    if shutil.which("strace") is None:
        return ()
    tried = subprocess.run([*words, str(calls), "true"], capture_output=True, check=False)
    return (*words, str(calls)) if tried.returncode == 0 else ()


def outward(seen: Path, calls: Path) -> list[str]:
    """What was asked for beyond this machine."""
    noted = seen.read_text(encoding="utf-8").splitlines()
    found = [line for line in noted if not re.search(r"127\.0\.0\.1|::1|localhost|/", line)]
    for match in CALL.finditer(calls.read_text(encoding="utf-8", errors="replace")):
        to = match["to"] or match["to6"]
        found += [] if to in ("127.0.0.1", "::1") else [to]
    return found


def asked(url: str, path: str, **headers: str) -> tuple[int, dict]:
    """Status and headers of one request."""
    there = http.client.HTTPConnection(urlsplit(url).netloc, timeout=30)
    there.request("GET", path, headers=headers)
    answer = there.getresponse()
    answer.read()
    return answer.status, {k.lower(): v for k, v in answer.getheaders()}


def run_page(url: str, page: str) -> int:
    """Runs one page as a browser would. Returns: how many parts it drew."""
    stream = f"ws{url.removeprefix('http')}/_stcore/stream"
    wanted, told, parts = BackMsg(), ForwardMsg(), 0
    wanted.rerun_script.page_name = page
    with connect(stream, origin=url, subprotocols=["streamlit"], max_size=None) as line:
        line.send(wanted.SerializeToString())
        while told.WhichOneof("type") != "script_finished":
            told.ParseFromString(line.recv(timeout=60))
            parts += told.WhichOneof("type") == "delta"
    return parts


def test_nothing_is_asked_outside_by_any_page_foreign_page_or_foreign_name(watched):
    url, seen, calls = watched
    for page in PAGES:
        assert asked(url, f"/{page}")[0] == 200
        assert run_page(url, page) > 10, page
    stream = f"ws{url.removeprefix('http')}/_stcore/stream"
    for origin in (OUTSIDE, "null", "http://8.8.8.8:8501", url.replace("127.0.0.1", "localhost")):
        with pytest.raises(InvalidStatus, match="403"):
            connect(stream, origin=origin)
        assert asked(url, "/", Origin=origin)[0] == 403
    for host in ("elsewhere.example", "8.8.8.8", "127.0.0.1.elsewhere.example"):
        assert asked(url, "/", Host=host)[0] == 403
        assert asked(url, "/_stcore/health", Host=host)[0] == 403
        assert (
            asked(
                url,
                "/_stcore/stream",
                Host=host,
                Origin=f"http://{host}",
                Connection="Upgrade",
                Upgrade="websocket",
            )[0]
            >= 400
        )
    assert seen.read_text(encoding="utf-8"), "the recorder was not there"
    assert outward(seen, calls) == []


def test_what_would_be_asked_is_seen(tmp_path):
    seen, calls = tmp_path / "seen.txt", tmp_path / "calls.txt"
    calls.write_text(
        "1 connect(8, {sa_family=AF_INET, sin_port=htons(1), "
        'sin_addr=inet_addr("8.8.8.8")}, 16) = 0\n'
    )  # as strace 6 writes it
    seen.write_text("socket.getaddrinfo checkip.example\nsocket.connect ('127.0.0.1', 80)\n")
    assert outward(seen, calls) == ["socket.getaddrinfo checkip.example", "8.8.8.8"]


def test_no_other_page_may_frame_it(watched):
    url, _, _ = watched
    for path in ("/", "/map", "/_stcore/health"):
        _, told = asked(url, path)
        assert told["x-frame-options"] == "DENY"
        assert "frame-ancestors 'none'" in told["content-security-policy"]
