"""Who may call: every request passes here before the screens see it.

Streamlit alone asks outside hosts for this machine's addresses when a page of another
site knocks, shows its pages inside frames of others, and minds the name that it is asked
under only once a screen is opened. Here all of that ends with a plain no.
"""

import signal
import threading
import webbrowser
from contextlib import asynccontextmanager
from fnmatch import fnmatchcase
from urllib.parse import urlsplit

import streamlit as st
from starlette.datastructures import Headers
from starlette.middleware import Middleware
from starlette.responses import PlainTextResponse

from pages.ui.home_screen import HomeScreen

OTHER_NAME = (
    "Stand & Wind does not answer to this name. README, 'Your own network', says which names "
    "it answers to and how a phone comes in.\n"
)
OTHER_PAGE = "Stand & Wind answers its own pages only.\n"
SAFE = (
    (b"x-frame-options", b"DENY"),
    (b"content-security-policy", b"frame-ancestors 'none'"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-content-type-options", b"nosniff"),
)
BROWSER_AFTER_S = 0.5


class Callers:
    """Lets in what asks an ASGI application under a known name and comes from no other page.

    Args: the application; the names that are answered to, `*` standing for anything.
    """

    def __init__(self, app, names: tuple[str, ...]) -> None:
        self.app, self.names = app, names

    async def __call__(self, scope, receive, send) -> None:
        """One request. Args: as ASGI has them."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        refused = refusal(Headers(scope=scope), self.names)
        if refused is None:
            await self.app(scope, receive, with_safety(send))
        elif scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008})
        else:
            await PlainTextResponse(refused, status_code=403)(scope, receive, with_safety(send))


def refusal(headers: Headers, names: tuple[str, ...]) -> str | None:
    """Why a request is turned away, or None.

    Args: its headers; the names that are answered to. A request without an Origin is no
    other page's: browsers send one with each that could read or change anything.
    """
    host = headers.get("host", "")
    if not any(fnmatchcase(_name(host), name.lower()) for name in names):
        return OTHER_NAME
    origin = headers.get("origin")
    if origin is not None and urlsplit(origin).netloc.lower() != host.lower():
        return OTHER_PAGE
    return None


def _name(host: str) -> str:
    """The name in a Host header, without its port; empty where it is none."""
    try:
        return urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return ""


def with_safety(send):
    """A `send` that tells browsers to show the answer in no frame. Args: as ASGI has it."""

    async def sending(message) -> None:
        if message["type"] == "http.response.start":
            names = {name.lower() for name, _ in message.get("headers", ())}
            more = [pair for pair in SAFE if pair[0] not in names]
            message = {**message, "headers": [*message.get("headers", ()), *more]}
        await send(message)

    return sending


def end_quietly() -> None:
    """Lets Ctrl+C end the program with 0: Streamlit calls that aborted, and ends with 1.

    The server that listens to the signal is told to end as ever (at once, on the second), and
    does not hand it on.
    """
    server = getattr(signal.getsignal(signal.SIGINT), "__self__", None)
    if threading.current_thread() is not threading.main_thread():
        return
    if not hasattr(server, "should_exit"):
        return

    def stop(*_) -> None:
        server.force_exit, server.should_exit = server.should_exit, True

    signal.signal(signal.SIGINT, stop)


def own_callers() -> list[Middleware]:
    """What `st.App` puts before the screens: the names are those of `server.allowedHosts`."""
    names = tuple(st.get_option("server.allowedHosts"))
    return [Middleware(Callers, names=names), Middleware(HomeScreen)]


@asynccontextmanager
async def greeted(_app):
    """Says where the dashboard is when it starts, and shows it where there is a screen.

    Streamlit's own greeting looks for this machine's addresses outside; it is turned off.
    """
    end_quietly()
    where = address()
    print(f"\n  Stand & Wind is at {where}\n  Ctrl+C stops it.\n", flush=True)
    if not st.get_option("server.headless"):
        # a moment later: the server listens once this has been said
        threading.Timer(BROWSER_AFTER_S, webbrowser.open, (where,)).start()
    yield {}
    print("\n  Stopped.", flush=True)


def address() -> str:
    """The address at which this machine finds the dashboard."""
    scheme = "https" if st.get_option("server.sslCertFile") else "http"
    host = st.get_option("server.address") or "localhost"
    host = "localhost" if host in ("0.0.0.0", "::") else host
    host = f"[{host}]" if ":" in host else host
    path = st.get_option("server.baseUrlPath").strip("/")
    return f"{scheme}://{host}:{st.get_option('server.port')}/{path}"
