"""The door before the server: with the key, without it, and with a wrong one."""

import pytest

from pages.ui.callers import SAFE
from pages.ui.phone.door import COOKIE, KEY, MOST_WAIT_S, Door, token_of
from tests.conftest import run_async

THE_KEY = "k" * 43
WORDS = b"the name of the ground"


async def ground(scope, receive, send):
    """An application that tells what nobody may see, and the query that reached it."""
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.accept"})
        return
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": WORDS + scope["query_string"]})


class Caller:
    """Calls the door and keeps what it answers, and how long it waited. [s]"""

    def __init__(self, key=THE_KEY):
        self.waits = []

        async def sleep(seconds):
            self.waits.append(seconds)

        self.door = Door(ground, key, sleep)

    def __call__(self, path="/", query=b"", cookie=None, type_="http", method="GET"):
        headers = [(b"cookie", cookie.encode("latin-1"))] if cookie else []
        scope = {
            "type": type_,
            "path": path,
            "query_string": query,
            "headers": headers,
            "method": method,
        }
        sent = []

        async def receive():
            return {"type": f"{type_}.connect"}

        async def send(message):
            sent.append(message)

        run_async(self.door, scope, receive, send)
        return sent


def body(sent):
    return b"".join(m.get("body", b"") for m in sent)


def headers(sent):
    return {name.decode(): value.decode() for name, value in sent[0]["headers"]}


PLACES = (
    "/",
    "/map",
    "/season_winds",
    "/learn_the_ground",
    "/words",
    "/media/x.svg",
    "/_stcore/upload_file/s/f",
    "/_stcore/health",
    "/static/js/main.js",
    "/component/x",
    "/nowhere",
)


@pytest.mark.parametrize("path", PLACES)
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "DELETE", "HEAD"])
def test_without_the_key_every_address_says_only_that_it_is_private(path, method):
    sent = Caller()(path, method=method)
    assert sent[0]["status"] == 403
    assert WORDS not in body(sent)
    assert (b"This ground is private" in body(sent)) == (method != "HEAD")
    assert headers(sent)["cache-control"] == "no-store"


def test_the_socket_is_closed_before_it_is_accepted():
    sent = Caller()("/_stcore/stream", type_="websocket")
    assert sent == [{"type": "websocket.close", "code": 1008}]
    sent = Caller()("/_stcore/stream", f"{KEY}={THE_KEY}".encode(), type_="websocket")
    assert sent == [{"type": "websocket.close", "code": 1008}]  # a link opens pages only


def test_the_key_opens_once_and_the_cookie_goes_on():
    caller = Caller()
    sent = caller("/map", f"ground=hill&{KEY}={THE_KEY}&point=NW".encode())
    told = headers(sent)
    assert sent[0]["status"] == 303
    assert told["location"] == "/map?ground=hill&point=NW"
    assert THE_KEY not in told["set-cookie"]
    assert "HttpOnly" in told["set-cookie"]
    cookie = told["set-cookie"].split(";")[0]
    assert body(caller("/map", b"ground=hill", cookie=cookie)) == WORDS + b"ground=hill"
    sent = caller("/_stcore/stream", cookie=f"other=1; {cookie}", type_="websocket")
    assert sent[0]["type"] == "websocket.accept"
    assert caller.waits == []


def test_a_key_that_a_link_still_carries_reaches_no_page():
    cookie = f"{COOKIE}={token_of(THE_KEY)}"
    sent = Caller()("/", f"{KEY}={THE_KEY}&point=N".encode(), cookie=cookie)
    assert body(sent) == WORDS + b"point=N"


@pytest.mark.parametrize("wrong", ["", "x", THE_KEY[:-1], THE_KEY + "k", "ü", "%00"])
def test_a_wrong_key_or_one_of_an_earlier_start(wrong):
    sent = Caller()("/", f"{KEY}={wrong}".encode())
    assert sent[0]["status"] == 403
    cookie = f"{COOKIE}={token_of('e' * 43)}"
    assert Caller()("/", cookie=cookie)[0]["status"] == 403
    assert Caller()("/", cookie=f"{COOKIE}=ü")[0]["status"] == 403


def test_tries_get_slower_and_a_right_one_is_not_held_up():
    caller = Caller()
    for _ in range(12):
        caller("/", f"{KEY}=wrong".encode())
    assert caller.waits[:3] == [0.5, 1.0, 2.0]
    assert caller.waits[-1] == MOST_WAIT_S
    assert caller("/", f"{KEY}={THE_KEY}".encode())[0]["status"] == 303
    assert len(caller.waits) == 12


@pytest.mark.parametrize("path", ["//evil.example/x", "/\\evil.example", "///evil.example"])
def test_the_way_on_never_leads_to_another_host(path):
    told = headers(Caller()(path, f"{KEY}={THE_KEY}".encode()))
    assert told["location"] == "/" + path.lstrip("/\\")


def test_what_is_let_through_may_not_be_framed():
    sent = Caller()("/", cookie=f"{COOKIE}={token_of(THE_KEY)}")
    assert set(SAFE) <= set(sent[0]["headers"])


def test_a_short_key_is_a_bug():
    with pytest.raises(ValueError, match="too short"):
        Door(ground, "short")


def test_what_is_no_request_passes():
    seen = []

    async def app(scope, receive, send):
        seen.append((scope, receive, send))

    run_async(Door(app, THE_KEY), {"type": "lifespan"}, None, None)
    assert len(seen) == 1
