"""What a phone keeps when the screens are saved on its home screen: our name and our picture.

Streamlit's own page has neither. They are put into it on its way out; nothing comes from
outside. It opens in the browser, which has the key of the session, and not as an app of its
own, which would not.
"""

import json

from core.show.take_along.icon import PHONE_PX, icon_png

NAME = "Stand & Wind"
DARK_PAGE = "#0B0906"
MANIFEST, PICTURE, TAB = "stand-and-wind.webmanifest", "home-screen.png", "favicon.png"
SIDES_PX = {PICTURE: PHONE_PX, TAB: 64, "home-screen-192.png": 192, "home-screen-512.png": 512}
HEAD = f"""<meta name="apple-mobile-web-app-title" content="Stand &amp; Wind" />
    <meta name="application-name" content="Stand &amp; Wind" />
    <meta name="theme-color" content="{DARK_PAGE}" />
    <link rel="apple-touch-icon" href="./{PICTURE}" />
    <link rel="manifest" href="./{MANIFEST}" crossorigin="use-credentials" />
  </head>"""
ASKED_WHOLE = (b"accept-encoding", b"if-none-match", b"if-modified-since", b"range")


class HomeScreen:
    """Gives an ASGI application's pages a name and a picture for the home screen.

    Args: the application.
    """

    def __init__(self, app) -> None:
        self.app = app

    async def __call__(self, scope, receive, send) -> None:
        """One request. Args: as ASGI has them."""
        if scope["type"] != "http" or scope.get("method") not in ("GET", "HEAD"):
            await self.app(scope, receive, send)
            return
        file = scope.get("path", "").rpartition("/")[2]
        if file in SIDES_PX:
            await _answer(scope, send, icon_png(SIDES_PX[file]), b"image/png")
        elif file == MANIFEST:
            await _answer(scope, send, manifest(), b"application/manifest+json")
        elif "." in file or "/_stcore/" in scope.get("path", ""):
            await self.app(scope, receive, send)
        else:  # a page, which is wanted whole
            headers = [(n, v) for n, v in scope["headers"] if n.lower() not in ASKED_WHOLE]
            await self.app({**scope, "headers": headers}, receive, _named(send))


def manifest() -> bytes:
    """What browsers ask for to put a page on the home screen (W3C, Web Application Manifest)."""
    icons = [
        {"src": f"./{file}", "sizes": f"{side}x{side}", "type": "image/png"}
        for file, side in SIDES_PX.items()
    ]
    told = {
        "name": NAME,
        "short_name": NAME,
        "start_url": "./",
        "display": "browser",
        "background_color": DARK_PAGE,
        "theme_color": DARK_PAGE,
        "icons": icons,
    }
    return json.dumps(told).encode()


def with_name(page: bytes) -> bytes:
    """Streamlit's page with our name and picture. Args: its HTML, or any other body."""
    named = page.replace(b"<title>Streamlit</title>", b"<title>Stand &amp; Wind</title>", 1)
    return named.replace(b"</head>", HEAD.encode(), 1)


def _named(send):
    """A `send` that holds an HTML page back until it is whole, and names it."""
    start: list[dict] = []
    body = bytearray()

    async def sending(message) -> None:
        if message["type"] == "http.response.start" and _is_html(message):
            start.append(message)
        elif message["type"] == "http.response.body" and start:
            body.extend(message.get("body", b""))
            if not message.get("more_body"):
                page = with_name(bytes(body))
                held = start.pop()
                headers = [(n, v) for n, v in held["headers"] if n.lower() != b"content-length"]
                if body:  # the answer to HEAD has none, and tells no length then
                    headers.append((b"content-length", str(len(page)).encode()))
                await send({**held, "headers": headers})
                await send({"type": "http.response.body", "body": page})
        else:
            await send(message)

    return sending


def _is_html(message) -> bool:
    headers = message.get("headers", ())
    return any(n.lower() == b"content-type" and v.startswith(b"text/html") for n, v in headers)


async def _answer(scope, send, body: bytes, kind: bytes) -> None:
    headers = [
        (b"content-type", kind),
        (b"content-length", str(len(body)).encode()),
        (b"cache-control", b"private, max-age=86400"),
    ]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    shown = b"" if scope["method"] == "HEAD" else body
    await send({"type": "http.response.body", "body": shown})
