"""How does the page reach a browser, and what is asked reach who answers?

In: requests of the page itself; `safety` has turned all others away. Out: its files, and answers of
two processes: one for what is typed, where a newer question takes the place of an older one, one
for what is made. The server works nothing out and keeps nothing but the files that were opened.
"""

from __future__ import annotations

import asyncio
import base64
import json
import os
import re
import socket
import tempfile
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from importlib.resources import files
from typing import Any

import uvicorn
from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from spinefit.errors import OutputError, SpinefitError
from spinefit.job.house import NO_HOUSE, House
from spinefit.page.children import Child, NotAnsweredError
from spinefit.page.making import WAYS, made
from spinefit.page.safety import HOST, MOST_BYTES, Guard, too_large
from spinefit.page.store import Store

PORT = 8377
"""The usual one, the same at every start, so that a browser finds again what it has kept."""

_LIVE = ("answer", "settings")  # what a newer question of the same tab makes idle
_LIVE_S, _MADE_S = 20.0, 120.0
_TURN = re.compile("[0-9]{1,12}")
_MOST_MADE = 2  # at a time, each a process
_KINDS = {
    ".html": "text/html",
    ".css": "text/css",
    ".js": "text/javascript",
    ".svg": "image/svg+xml",
}


class PageServer:
    """The page on one port.

    Args:
        secret: what its address begins with.
        port: where it is served; 0 for any that is free.
        opened: job file, or None, that is shown when the page is first opened: its name and text
            and the files that it names.
        house: the file of a house, for what is said nowhere else.

    Attributes:
        address: what to open.

    Raises:
        OutputError: the port is taken.
    """

    def __init__(
        self,
        secret: str,
        port: int = PORT,
        *,
        opened: tuple[str, str, dict[str, bytes]] | None = None,
        house: House = NO_HOUSE,
    ) -> None:
        self._house = house
        self._socket = _bound(port)
        number = self._socket.getsockname()[1]
        self.address = f"http://{HOST}:{number}/{secret}/"
        self._opened = opened
        routes = [
            Route("/", self._index),
            Route("/opened", self._job_opened),
            Route("/part/{name}", _part),
            Route("/file", self._file, methods=["POST"]),
            Route("/ask/{question}", self._ask, methods=["POST"]),
            Route("/make/{what}", self._make, methods=["POST"]),
        ]
        self._app = Starlette(
            routes=routes, lifespan=self._life, exception_handlers={Exception: _internal_fault}
        )
        self._guard = Guard(self._app, secret, number)

    def run(self, ready: Callable[[], None]) -> None:
        """Serve until Ctrl-C or a request to end.

        Args:
            ready: called when it listens.
        """
        config = uvicorn.Config(
            self._guard, log_level="warning", access_log=False, server_header=False, lifespan="on",
            timeout_graceful_shutdown=1,
        )  # fmt: skip
        server = uvicorn.Server(config)
        self._ready = ready
        server.run(sockets=[self._socket])

    @asynccontextmanager
    async def _life(self, _app: Starlette) -> AsyncIterator[None]:
        with tempfile.TemporaryDirectory(prefix="spinefit-page-") as folder:
            self._folder, self._store = folder, Store(folder)
            self._live = Child(folder, self._house, _LIVE_S)
            self._making = Child(folder, self._house, _MADE_S)
            self._one_made = asyncio.Semaphore(_MOST_MADE)
            self._live.warm()
            self._ready()
            try:
                yield
            finally:
                self._live.end()
                self._making.end()

    async def _index(self, _request: Request) -> Response:
        return _of_package("page.html")

    async def _job_opened(self, _request: Request) -> Response:
        """The job file that the command was given; null where it was given none."""
        if self._opened is None:
            return JSONResponse(None)
        name, text, beside = self._opened
        told = {
            own: {"sha256": self._store.keep(data), "data": base64.b64encode(data).decode()}
            for own, data in beside.items()
        }
        return JSONResponse({"name": name, "text": text, "files": told})

    async def _file(self, request: Request) -> Response:
        """Keep a file that was opened, for as long as the server runs."""
        data = await _body(request)
        if data is None:
            return too_large()
        return JSONResponse({"sha256": self._store.keep(data)})

    async def _ask(self, request: Request) -> Response:
        """Put a question to a child; it may be overtaken by a newer one of its tab."""
        asked = await self._asked(request)
        if isinstance(asked, Response):
            return asked
        question, query = request.path_params["question"], request.query_params
        child = self._live if question in _LIVE else self._making
        tab, turn = query.get("tab", ""), query.get("turn", "")
        try:
            told = await child.ask(
                question, asked, tab=tab if question in _LIVE else "",
                turn=int(turn) if _TURN.fullmatch(turn) else 0,
            )  # fmt: skip
        except NotAnsweredError as why:
            if why.overtaken:
                return JSONResponse({"overtaken": True})
            return JSONResponse({"fault": {"text": str(why), "where": ""}})
        return JSONResponse(told)

    async def _make(self, request: Request) -> Response:
        """Let the command line make a file."""
        asked = await self._asked(request)
        if isinstance(asked, Response):
            return asked
        what = request.path_params["what"]
        if what not in WAYS:
            return PlainTextResponse("nothing of that name is made\n", 404)
        try:
            async with self._one_made:
                found = await made(what, asked, self._folder, self._house)
        except SpinefitError as fault:
            return JSONResponse({"fault": {"text": str(fault), "where": fault.where}})
        except TimeoutError:
            return JSONResponse({"fault": {"text": "it took too long", "where": ""}})
        files = [
            {"name": name, "data": base64.b64encode(data).decode()} for name, data in found.files
        ]
        return JSONResponse({"files": files, "said": found.said, "withheld": found.withheld})

    async def _asked(self, request: Request) -> dict[str, Any] | Response:
        """What a question is about; or why it is not put: no JSON, or a file has to come first."""
        data = await _body(request)
        if data is None:
            return too_large()
        try:
            asked = json.loads(data)
        except (ValueError, RecursionError):
            return PlainTextResponse("no JSON\n", 400)
        if not isinstance(asked, dict):
            return PlainTextResponse("no JSON object\n", 400)
        lacking = self._store.lacking(asked.get("files"))
        return JSONResponse({"needs": lacking}) if lacking else asked


async def _internal_fault(_request: Request, fault: Exception) -> Response:
    """A fault of ours: the page goes on."""
    return PlainTextResponse(f"internal fault: {type(fault).__name__}; please report it\n", 500)


async def _body(request: Request) -> bytes | None:
    """The body of a request; None where it is larger than one may be, heard out all the same.

    Who sends it would else not hear why it was refused.
    """
    found, length = bytearray(), 0
    try:
        async for piece in request.stream():
            length += len(piece)
            if length <= MOST_BYTES:
                found += piece
    except ClientDisconnect:
        return b""
    return bytes(found) if length <= MOST_BYTES else None


async def _part(request: Request) -> Response:
    """A script or style of the page; only names that the package holds."""
    return _of_package(request.path_params["name"])


def _of_package(name: str) -> Response:
    folder = files("spinefit.page").joinpath("static")
    known = {one.name: one for one in folder.iterdir() if one.is_file()}
    kind = _KINDS.get(os.path.splitext(name)[1])
    if name not in known or kind is None:
        return PlainTextResponse("no such part of the page\n", 404)
    return Response(known[name].read_bytes(), media_type=kind)


def _bound(port: int) -> socket.socket:
    """A socket on this machine alone."""
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it would let two servers have one port
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((HOST, port))
        found.listen()  # before the address is told, so that nobody is turned away at first
    except (OSError, OverflowError) as fault:
        found.close()
        reason = fault.strerror if isinstance(fault, OSError) else "no such port"
        raise OutputError(
            f"the page cannot be served there ({reason})", value=port, where="--port",
            remedy="end the page that runs already, or give --port 0 for any that is free",
        ) from None  # fmt: skip
    return found
