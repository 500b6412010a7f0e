"""Serves the live page on the loopback address, to pages of its own only."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

import uvicorn
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from sweep.errors import SceneError, SweepError
from sweep.live.desk import Desk
from sweep.show.page.page import TAKEN_AWAY
from sweep.units import Units

HOST = "127.0.0.1"
MOST_BYTES = 100_000
"""Of a request: settings take a few hundred."""


def page_app(path: Path, units: Units | None) -> Starlette:
    """Return the web application for one scene, which answers in its own units where none are given.

    Raises
    ------
    SceneError
        When the scene cannot be used: nothing is served then.

    Notes
    -----
    Only requests to the loopback address by name or number are answered, whatever page of the web a browser may
    be looking at, and only those that a page served from here asks.
    """
    desk = Desk(path, units)

    def page(request: Request) -> Response:
        try:
            return HTMLResponse(desk.page(), headers={"Cache-Control": "no-store"})
        except SweepError as wrong:  # the file has been changed since, and cannot be used as it is
            return Response(f"error: {wrong}", 422, media_type="text/plain")

    routes = [Route("/", page)]
    for name in ("cut", "feed", "solve", "save"):
        routes.append(Route(f"/{name}", _answering(getattr(desk, name), JSONResponse), methods=["POST"]))
    for name in TAKEN_AWAY:
        give = _answering(lambda body, name=name: desk.file(name, body), _as_file)
        routes.append(Route(f"/file/{name}", give, methods=["POST"]))
    return Starlette(routes=routes, middleware=[Middleware(TrustedHostMiddleware, allowed_hosts=[HOST, "localhost"])])


def bound(port: int) -> socket.socket:
    """Return a socket on the loopback address; port 0 takes a free one.

    Raises
    ------
    SceneError
        When the port is taken.
    """
    place = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    place.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        place.bind((HOST, port))
        place.listen(64)  # whoever reads the address may ask at once
    except (OSError, OverflowError) as wrong:
        place.close()
        raise SceneError("--port", f"{port} cannot be used ({wrong})", "give another, or leave it out") from None
    return place


def address(place: socket.socket) -> str:
    """Return what to write into a browser."""
    return f"http://{HOST}:{place.getsockname()[1]}/"


def serve(app: Starlette, place: socket.socket) -> None:
    """Serve until the program is interrupted."""
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", access_log=False, timeout_graceful_shutdown=1))
    try:
        server.run(sockets=[place])
    except KeyboardInterrupt:
        pass  # the way to end it


def _answering(work: Callable[[dict[str, Any]], Any], reply: Callable[[Any], Response]) -> Callable:
    """Return an endpoint: a body in JSON to an answer, or to the sentence that says what is wrong."""

    async def endpoint(request: Request) -> Response:
        origin = request.headers.get("origin")
        if origin is not None and origin != f"{request.url.scheme}://{request.headers['host']}":
            return _refusal("origin", "only the page served from here may ask", 403)
        try:
            body = await _body(request)
            return reply(await run_in_threadpool(work, body))
        except SceneError as wrong:
            return _refusal(wrong.field, str(wrong), 422)
        except SweepError as wrong:
            return _refusal("", str(wrong), 422)
        except (KeyError, TypeError, ValueError, AttributeError) as wrong:
            return _refusal("", f"this is not what the page asks ({type(wrong).__name__})", 400)

    return endpoint


async def _body(request: Request) -> dict[str, Any]:
    if int(request.headers.get("content-length", MOST_BYTES + 1)) > MOST_BYTES:
        raise ValueError("too long")
    return dict(await request.json())


def _refusal(field: str, sentence: str, status: int) -> Response:
    return JSONResponse({"field": field, "sentence": sentence}, status)


def _as_file(content: bytes) -> Response:
    return Response(content, media_type="application/octet-stream")
