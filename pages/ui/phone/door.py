"""The door: whoever comes without the key learns that this ground is private, and no more.

It stands before every address of the server: pages, pictures, files, uploads, the socket.
The link carries the key once; the door puts a token made from it into a cookie of the
session and sends the browser on to the same address without the key. Wrong keys wait
longer and longer, all callers together, so that guessing gets nowhere.
"""

import hashlib
import hmac
from urllib.parse import parse_qsl, quote, urlencode

import anyio

from pages.ui.callers import SAFE, with_safety

COOKIE = "stand_wind_door"
KEY = "key"
FIRST_WAIT_S, MOST_WAIT_S = 0.5, 30.0
LEAST_KEY_BYTES = 16  # 128 bits
PRIVATE = """<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Private</title>
<style>body{background:#0B0906;color:#E8CFA8;font:18px/1.5 sans-serif;margin:3rem auto;
max-width:30rem;padding:0 1rem}</style></head><body><h1>This ground is private</h1>
<p>Ask its owner for the link: it is shown where the program was started, with a square
to point the camera at. Each start makes a new link: one of an earlier start opens nothing any
more.</p>
</body></html>"""


def token_of(key: str) -> str:
    """What the cookie holds: made from the key, which can't be had from it. Args: the key."""
    return hmac.new(key.encode(), b"door", hashlib.sha256).hexdigest()


class Door:
    """Asks for the key before an ASGI application.

    Args: the application; the key, at least 128 bits as text; what waits, for tests.
    """

    def __init__(self, app, key: str, sleep=anyio.sleep) -> None:
        if len(key.encode()) < LEAST_KEY_BYTES:
            raise ValueError("the key of the door is too short")
        self.app, self._sleep = app, sleep
        self._key, self._token = key.encode(), token_of(key).encode()
        self._wrong = 0
        self._one_at_a_time = anyio.Lock()

    async def __call__(self, scope, receive, send) -> None:
        """One request. Args: as ASGI has them."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        if hmac.compare_digest(_cookie(scope).encode(), self._token):
            await self.app(_unkeyed(scope), receive, with_safety(send))
            return
        told = _told_key(scope)
        if told is None or scope["type"] == "websocket":
            await _refuse(scope, receive, send)
        elif await self._fits(told):
            await self._let_in(scope, send)
        else:
            await _refuse(scope, receive, send)

    async def _fits(self, told: str) -> bool:
        """Whether a key is the one; a wrong one waits, and those behind it too."""
        if hmac.compare_digest(told.encode(), self._key):
            self._wrong = 0
            return True
        async with self._one_at_a_time:
            wait_s = min(FIRST_WAIT_S * 2 ** min(self._wrong, 10), MOST_WAIT_S)
            self._wrong += 1
            await self._sleep(wait_s)
        return False

    async def _let_in(self, scope, send) -> None:
        """To the same address without the key, with the cookie of this session."""
        rest = [(name, value) for name, value in _query(scope) if name != KEY]
        # one stroke at the front: two would lead to another host
        place = quote("/" + scope.get("path", "/").lstrip("/\\"))
        place += f"?{urlencode(rest)}" if rest else ""
        cookie = f"{COOKIE}={self._token.decode()}; Path=/; HttpOnly; SameSite=Lax"
        headers = [
            (b"location", place.encode()),
            (b"set-cookie", cookie.encode()),
            (b"cache-control", b"no-store"),
            *SAFE,
        ]
        await send({"type": "http.response.start", "status": 303, "headers": headers})
        await send({"type": "http.response.body", "body": b""})


def _query(scope) -> list[tuple[str, str]]:
    text = scope.get("query_string", b"").decode("latin-1")
    return parse_qsl(text, keep_blank_values=True)


def _told_key(scope) -> str | None:
    return next((value for name, value in _query(scope) if name == KEY), None)


def _unkeyed(scope):
    """The request without a key that an old link still carries: no page shows it."""
    if _told_key(scope) is None:
        return scope
    rest = urlencode([(name, value) for name, value in _query(scope) if name != KEY])
    return {**scope, "query_string": rest.encode()}


def _cookie(scope) -> str:
    for name, value in scope.get("headers", ()):
        if name.lower() != b"cookie":
            continue
        for part in value.decode("latin-1").split(";"):
            key, _, text = part.strip().partition("=")
            if key == COOKIE:
                return text
    return ""


async def _refuse(scope, receive, send) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    headers = [
        (b"content-type", b"text/html; charset=utf-8"),
        (b"cache-control", b"no-store"),
        *SAFE,
    ]
    await send({"type": "http.response.start", "status": 403, "headers": headers})
    body = b"" if scope.get("method") == "HEAD" else PRIVATE.encode()
    await send({"type": "http.response.body", "body": body})
