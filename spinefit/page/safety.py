"""Who is let in, and what may a browser do with what it gets?

In: every request, before anything else sees it. Out: 403 for a foreign Host or Origin and for an
address without the secret; every reply with the headers that keep a page to itself. Pure ASGI, so
that no reply is held back.
"""

from __future__ import annotations

import hmac
from contextlib import suppress

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HOST = "127.0.0.1"
"""The one name of the page, so that what a browser keeps under it is found again."""

MOST_BYTES = 20 * 1024 * 1024
"""Of a request: a font, or a table of books."""

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; font-src 'self' blob:; form-action 'none'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
_HEADERS = {
    "content-security-policy": _POLICY,
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "cache-control": "no-store",
}
_TURNED_AWAY = (
    "This address does not open the page of spinefit. Take the one that 'spinefit page' prints.\n"
)


class Guard:
    """Lets in who has the secret, on this machine, from the page itself.

    Args:
        app: what answers who is let in; it sees paths without the secret.
        secret: the first part of every path.
        port: what the page is served on.
    """

    def __init__(self, app: ASGIApp, secret: str, port: int) -> None:
        self._app = app
        self._prefix = f"/{secret}"
        self._host = f"{HOST}:{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or turn it away."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if not (self._is_ours(headers) and self._has_secret(scope["path"])):
            await _with_headers(PlainTextResponse(_TURNED_AWAY, 403), scope, receive, send)
            return
        inner = {**scope, "path": scope["path"][len(self._prefix) :] or "/", "raw_path": None}
        with suppress(Exception):  # a fault of ours has been replied to, and is handed on
            await _with_headers(self._app, inner, receive, send)

    def _is_ours(self, headers: Headers) -> bool:
        """Whether a request is to this server, and not sent by a page of another."""
        origin = headers.get("origin")
        from_page = headers.get("sec-fetch-site", "none") in ("none", "same-origin")
        own = origin is None or origin == f"http://{self._host}"
        return headers.getlist("host") == [self._host] and own and from_page

    def _has_secret(self, path: str) -> bool:
        given = path[: len(self._prefix)].encode()
        same = hmac.compare_digest(given, self._prefix.encode())
        return same and path[len(self._prefix) : len(self._prefix) + 1] == "/"


def too_large() -> Response:
    """The reply to a body past its bound."""
    return PlainTextResponse(f"more than {MOST_BYTES // 1024 // 1024} MB at once\n", 413)


async def _with_headers(app: ASGIApp, scope: Scope, receive: Receive, send: Send) -> None:
    async def send_with(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers[name] = value
        await send(message)

    await app(scope, receive, send_with)
