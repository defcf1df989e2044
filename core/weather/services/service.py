"""The only file that opens a connection: one GET at a time, bounded and checked.

An answer is checked before it is taken or cached, so that a sign-in page or a cut-off
body never stands for a forecast. What is asked for, and in what order, is decided in
`core.weather.services.fetching`.
"""

import contextlib
import io
import logging
import re
import shutil
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

import requests
import requests_cache
import urllib3
from requests.adapters import HTTPAdapter

from core.errors import StandWindError
from core.weather.services.sources import Services, host_of, is_of

# how long an answer is good for, by its address; the first that fits. A forecast is not
# cached here: `core.weather.services.kept` has it, and no stale copy can pass for a new one.
GOOD_FOR: dict[Any, Any] = {
    re.compile(r"/points/"): timedelta(days=30),
    re.compile(r"/gridpoints/.*/stations"): timedelta(days=30),
    re.compile(r"/observations/latest"): timedelta(minutes=5),
    re.compile(r"."): requests_cache.DO_NOT_CACHE,
}
LARGEST_BYTES = 10_000_000
HOPS = 3  # times that an answer may name another address of the same host
PARTIAL = 206
ONCE_MORE = (500, 502, 503, 504)
TRY_LATER = "Try again when there is signal, or in an hour."
ANYTHING = {"Accept": "*/*", "Accept-Encoding": "identity"}
SIGN_IN = "Open a browser, sign in to this network, and try again."

Check = Callable[[bytes], object]


class Odd(Exception):
    """An answer that is none: no connection, a status, or a body that its check refuses.

    `status` is the answer's, 0 without one; `cached` is set where it came from the cache.
    """

    def __init__(
        self, what: str, fix: str = TRY_LATER, status: int = 0, *, cached: bool = False
    ) -> None:
        super().__init__(what)
        self.what, self.fix, self.status, self.cached = what, fix, status, cached


@contextlib.contextmanager
def open_line(
    cache: Path | None, at: Services, deadline: float, wanted: str = "forecast"
) -> Iterator["Line"]:
    """A session for the requests of one fetch.

    Args: the cache's folder, None for no cache; the services; when to give up, by
    time.monotonic; what is asked for, in messages. Raises: OSError where there can be no
    such folder.
    """
    # it writes a whole traceback for each answer that it passes over
    logging.getLogger("requests_cache").setLevel(logging.CRITICAL)
    line = Line(cache, at, deadline, wanted)
    try:
        yield line
    finally:
        line.session.close()


def drop_cache(cache: Path) -> None:
    """Removes a cache that can't be used, as far as the disk allows. Args: its folder."""
    if cache.is_dir():
        shutil.rmtree(cache, ignore_errors=True)
    else:
        cache.unlink(missing_ok=True)


def _cache(folder: Path | None) -> requests_cache.BaseCache:
    """Answers as JSON files in a folder; in memory without one.

    Not the library's SQLite file: where a disk is full or read-only, its 1.3.3 tries to
    lock that for ever, on a whole processor.
    """
    cache = requests_cache.BaseCache()
    if folder is not None:
        cache.responses = requests_cache.FileDict(folder, serializer="json")
    return cache


class Line:
    """GET requests with a cache, one time limit for all, and a check for each."""

    def __init__(self, cache: Path | None, at: Services, deadline: float, wanted: str) -> None:
        self.at, self.deadline, self.wanted = at, deadline, wanted
        self.session = requests_cache.CachedSession(
            backend=_cache(cache),
            urls_expire_after=GOOD_FOR,
            allowable_codes=(200,),
            allowable_methods=("GET",),
            stale_if_error=False,
            cache_control=False,
        )
        # without Accept the service may hand out a forecast of yesterday
        self.session.headers.update({"User-Agent": at.agent, "Accept": "application/geo+json"})
        self.session.auth = _no_password
        for scheme in ("https://", "http://"):
            self.session.mount(scheme, _Bounded(deadline, wanted))

    def get(self, url: object, check: Check, fresh: bool = False) -> bytes:
        """A body that its check took.

        Args:
            url: an address on one of the services' hosts.
            check: raises StandWindError, ValueError, KeyError or TypeError for a body
                that is not what was asked for.
            fresh: whether to ask even if there is one that is still good.

        Raises: Odd.
        """
        return self._once_more(url, _hook(check, self.wanted), fresh).content

    def get_file(self, url: str, check: Check) -> bytes:
        """The whole of a file that is no text. Args and raises: as `get`."""
        return self._once_more(url, _hook(check, self.wanted), False, ANYTHING).content

    def get_part(self, url: str, first: int, count: int) -> bytes:
        """Some bytes of a file, fewer where it ends; a service may send all of a small one.

        Args: an address on one of the services' hosts; the first byte; how many.
        Raises: Odd.
        """
        told = ANYTHING | {"Range": f"bytes={first}-{first + count - 1}"}
        answer = self._once_more(url, _hook(_is_no_page, self.wanted, first), False, told)
        body = answer.content
        return body if answer.status_code == PARTIAL else body[first : first + count]

    def _once_more(self, url, hook, fresh: bool, headers=None):
        """The answer, asked for once more where that can help."""
        try:
            return self._follow(url, hook, fresh, headers)
        except Odd as odd:
            again = odd.cached or odd.status in ONCE_MORE
            pause_s = 0.0 if odd.cached else self.at.pause_s
            if not again or time.monotonic() + pause_s > self.deadline:
                raise
        time.sleep(pause_s)
        return self._follow(url, hook, True, headers)

    def _follow(self, url, hook, fresh: bool, headers):
        for _ in range(HOPS):
            if not any(is_of(base, url) for base in self.at.bases):
                raise Odd(f"the answer leads elsewhere ({host_of(str(url))})", SIGN_IN)
            answer = self._answer(url, hook, fresh, headers)
            if answer.status_code in (200, PARTIAL):
                return answer
            if not answer.is_redirect:
                raise Odd("it says that nothing is new, and nothing is there")
            url = urljoin(url, answer.headers["Location"])
        raise Odd("the answers lead round in a circle", SIGN_IN)

    def _answer(self, url: str, hook, fresh: bool, headers):
        limits = (self.at.connect_s, self.at.answer_s)
        try:
            return self.session.get(
                url,
                headers=headers,
                timeout=limits,
                force_refresh=fresh,
                allow_redirects=False,
                hooks={"response": hook},
            )
        except requests.exceptions.SSLError as fault:
            raise Odd(
                "the answer does not come from the service itself (its certificate does not fit)",
                f"{SIGN_IN} Check this machine's clock too.",
            ) from fault
        except requests.exceptions.Timeout as fault:
            raise Odd("it did not answer in time") from fault
        except (requests.exceptions.ChunkedEncodingError, urllib3.exceptions.HTTPError) as fault:
            raise Odd("the answer was cut off", status=504) from fault
        except requests.exceptions.RequestException as fault:
            dropped = "RemoteDisconnected" in repr(fault) or "reset" in repr(fault).lower()
            raise Odd("it can't be reached", status=504 if dropped else 0) from fault


def _no_password(request):
    """Keeps the passwords of other programs on this machine out of the request."""
    return request


def _hook(check: Check, wanted: str, first: int | None = None):
    """What looks at an answer before it is cached, and again when it comes from there.

    Args: what refuses a body; what is asked for; the first byte where a part is.
    """

    def look(answer, **_: Any) -> None:
        cached = getattr(answer, "from_cache", False)
        if answer.status_code == 200:
            _look_at(answer.content, check, cached, wanted)
        elif answer.status_code == PARTIAL and first is not None:
            _look_at_part(answer.headers.get("Content-Range", ""), first)
        elif not (answer.is_redirect or answer.status_code == 304):
            raise Odd(
                f"it answers {_error_words(answer)}", status=answer.status_code, cached=cached
            )

    return look


def _look_at_part(told: str, first: int) -> None:
    if not told.lower().startswith(f"bytes {first}-"):
        raise Odd(f"another part of the file came than was asked for ({told[:40]})")


def _look_at(body: bytes, check: Check, cached: bool, wanted: str) -> None:
    if _starts_a_page(body):
        raise Odd(f"a web page came instead of a {wanted}", SIGN_IN, 200, cached=cached)
    try:
        check(body)
    except StandWindError as fault:
        raise Odd(f"no {wanted} that can be used came: {fault.what}", cached=cached) from fault
    except (ValueError, KeyError, TypeError, RecursionError) as fault:
        raise Odd("a broken or cut-off answer came", cached=cached) from fault


def _starts_a_page(body: bytes) -> bool:
    # the first byte of numbers can be any, but no text of a service starts like this
    return body.lstrip()[:1] == b"<" and b"\0" not in body[:200]


def _is_no_page(_body: bytes) -> None:
    """All that can be asked of bytes from the middle of a file."""


def _error_words(answer) -> str:
    """A status, and the service's own word for it where it gives one."""
    told = ""
    with contextlib.suppress(ValueError, AttributeError):
        problem = answer.json()
        told = str(problem.get("title") or problem.get("reason") or "")
    return f"with error {answer.status_code} {told}".strip()[:120]


class _Bounded(HTTPAdapter):
    """Reads a whole answer while it watches the clock and the size."""

    def __init__(self, deadline: float, wanted: str) -> None:
        super().__init__()
        self.deadline, self.wanted = deadline, wanted

    def send(self, request, stream=False, timeout=None, verify=True, cert=None, proxies=None):  # noqa: ARG002
        left_s = self.deadline - time.monotonic()
        if left_s <= 0:
            raise requests.exceptions.Timeout("no time left", request=request)
        connect_s, answer_s = (min(part, left_s) for part in timeout)
        answer = super().send(request, True, (connect_s, answer_s), verify, cert, proxies)
        body = bytearray()
        for piece in answer.iter_content(65_536):
            body += piece
            if len(body) > LARGEST_BYTES:
                answer.close()
                raise Odd(
                    f"an answer of over 10 MB came, which is no {self.wanted}",
                    SIGN_IN,
                    status=answer.status_code,
                )
        return self._whole(request, answer, bytes(body))

    def _whole(self, request, answer, body: bytes):
        headers = {
            name: value
            for name, value in answer.headers.items()
            if name.lower() not in ("content-encoding", "transfer-encoding", "content-length")
        }
        raw = urllib3.HTTPResponse(
            io.BytesIO(body),
            headers=headers,
            status=answer.status_code,
            reason=answer.reason,
            preload_content=False,
            request_url=request.url,
        )
        answer.close()
        return self.build_response(request, raw)
