"""What a phone keeps on its home screen: our name and picture, put into Streamlit's page."""

import json
import re
from pathlib import Path

import streamlit

from pages.ui.home_screen import MANIFEST, SIDES_PX, HomeScreen
from tests.conftest import run_async

INDEX = (Path(streamlit.__file__).parent / "static" / "index.html").read_bytes()


async def streamlit_alone(scope, receive, send):  # noqa: ARG001
    kind = b"text/html" if "." not in scope["path"] else b"text/javascript"
    asked = dict(scope["headers"])
    assert kind != b"text/html" or b"accept-encoding" not in asked  # a packed page can't be named
    headers = [(b"content-type", kind), (b"content-length", str(len(INDEX)).encode())]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": INDEX[:500], "more_body": True})
    await send({"type": "http.response.body", "body": INDEX[500:]})


def answer(path, method="GET"):
    sent = []

    async def send(message):
        sent.append(message)

    headers = [(b"accept-encoding", b"gzip"), (b"if-none-match", b"x")]
    scope = {"type": "http", "method": method, "path": path, "headers": headers}
    run_async(HomeScreen(streamlit_alone), scope, None, send)
    return dict(sent[0]["headers"]), b"".join(m.get("body", b"") for m in sent)


def test_every_page_carries_our_name_and_picture_and_nothing_from_outside():
    for path in ("/", "/map", "/season_winds"):
        headers, body = answer(path)
        page = body.decode()
        assert "<title>Stand &amp; Wind</title>" in page
        assert 'name="apple-mobile-web-app-title" content="Stand &amp; Wind"' in page
        assert int(headers[b"content-length"]) == len(body)
        for link in re.findall(r'<link rel="(?:apple-touch-icon|manifest)" href="([^"]+)"', page):
            assert link.startswith("./")
            _, found = answer(f"/{link[2:]}")
            assert found != INDEX and found
    assert answer("/static/js/index.js")[1] == INDEX  # all else passes as it is


def test_the_pictures_are_png_and_the_manifest_names_them():
    for file in SIDES_PX:
        headers, body = answer(f"/{file}")
        assert headers[b"content-type"] == b"image/png"
        assert body.startswith(b"\x89PNG")
    told = json.loads(answer(f"/{MANIFEST}")[1])
    assert told["name"] == "Stand & Wind"
    assert {icon["src"][2:] for icon in told["icons"]} == set(SIDES_PX)
    assert told["display"] == "browser"  # an app of its own would not have the key of the session
    assert answer(f"/{MANIFEST}", "HEAD")[1] == b""
