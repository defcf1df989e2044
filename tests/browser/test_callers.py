"""Another site in a real Chromium: it can neither frame the dashboard nor talk to it."""

import contextlib
import http.server
import threading

import pytest

TALK = """url => new Promise(done => {
  const line = new WebSocket(url.replace('http', 'ws') + '/_stcore/stream');
  line.onopen = () => done('open'); line.onerror = () => done('refused');
})"""


@contextlib.contextmanager
def other_site(page_text: str):
    """A page at another port of this machine: for a browser another origin."""

    class Page(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.end_headers()
            self.wfile.write(page_text.encode())

        def log_message(self, *_):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Page)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()


@pytest.mark.parametrize("view", ["desk"], indirect=True)
def test_another_page_can_neither_frame_it_nor_talk_to_it(page, dashboard_url, settled):
    with other_site(f'<iframe src="{dashboard_url}" width="800" height="600"></iframe>') as url:
        with page.expect_console_message(lambda told: "frame" in told.text.lower()):
            page.goto(url)
        framed = page.frames[1]
        assert framed.locator("[data-testid=stApp]").count() == 0
        assert any("frame" in text.lower() for text in page.console_errors)
        assert page.evaluate(TALK, dashboard_url) == "refused"
    page.goto(dashboard_url)  # its own page does both
    settled(page)
    assert page.evaluate(TALK, dashboard_url) == "open"
