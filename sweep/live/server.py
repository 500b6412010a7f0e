"""Serves the live page on the loopback address, to pages of its own only."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Awaitable, Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any

import uvicorn
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sweep.errors import SceneError, SweepError
from sweep.live.asked import PageRequest, asked
from sweep.live.connection import Connection
from sweep.live.desk import Desk
from sweep.live.shelf import JOBS, NoJobError, Shelf, asked_of_folder
from sweep.live.traced import TraceDesk, asked_points
from sweep.live.workers import NoAnswerError, RefusedError, Workers
from sweep.scene.keep import RECORD
from sweep.units import Units

HOST = "127.0.0.1"
Endpoint = Callable[[Request], Awaitable[Response]]

MOST_BYTES = 100_000
"""The largest request: settings take a few hundred."""

MOST_OF_FOLDER = 3_000_000
"""The largest of a folder's page: the file of a profile may come with it."""

MOST_SECONDS = 10.0
"""In which a request's body must have come."""

MOST_CONNECTIONS = 100
"""A browser opens about six for a page."""

HEADERS = [
    ("Content-Security-Policy", "frame-ancestors 'none'"),  # the page's own policy stands in it
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("Referrer-Policy", "no-referrer"),
    ("X-Content-Type-Options", "nosniff"),
    ("Cache-Control", "no-store"),
]
"""The headers of every answer: no page of the web may show or read it, and nobody keeps it."""


class NotAskedError(Exception):
    """A request is none that a page of ours sends: too long, or too slow."""

    def __init__(self, sentence: str, status: int) -> None:
        self.status = status
        super().__init__(sentence)


def serve(path: Path, units: Units | None, place: socket.socket, ready: Callable[[], None]) -> None:
    """Serve a scene's page, or that of a folder's jobs, until the program is interrupted.

    Parameters
    ----------
    path : Path
        Of a scene, or of a folder.
    units : Units or None
        In which the page opens; None for those of the scene.
    place : socket
    ready : () -> None
        Called once the page has been worked out and can be asked for.

    Raises
    ------
    RefusedError
        When the scene cannot be used: nothing is served then.
    """
    try:
        asyncio.run(_serve(path, units, place, ready))
    except KeyboardInterrupt:
        pass  # the way to end it


def page_app(desk: Desk) -> Starlette:
    """Return the web application for one scene.

    Notes
    -----
    Only requests to the loopback address by name or number are answered, whatever page of the web a browser may
    be looking at, and only those that a page served from here asks.
    """
    return _app(_job_routes("", lambda request: desk))


def folder_app(shelf: Shelf) -> Starlette:
    """Return the web application for the jobs of a folder: a page of them all, and one of each."""

    async def page(request: Request) -> Response:
        return Response(await shelf.page(), media_type="text/html")

    routes = [Route("/", page), *_job_routes("/job/{job}", lambda request: shelf.desk(request.path_params["job"]))]
    routes += _job_routes(f"/{RECORD}/{{job}}", lambda request: shelf.kept(request.path_params["job"]))
    routes += _job_routes("/shop", lambda request: shelf.shop())
    for name in ("summary", "sketch", "new"):
        routes.append(
            Route(
                f"/{name}",
                _answering(getattr(shelf, name), read=asked_of_folder, most=MOST_OF_FOLDER),
                methods=["POST"],
            )
        )
    return _app(routes)


def trace_app(desk: TraceDesk) -> Starlette:
    """Return the web application for a traced picture."""

    async def page(request: Request) -> Response:
        return Response(await desk.page(), media_type="text/html")

    save = _answering(desk.save, read=asked_points)
    return _app([Route("/", page), Route("/save", save, methods=["POST"])])


def serve_traced(desk: TraceDesk, place: socket.socket, ready: Callable[[], None]) -> None:
    """Serve the page of a traced picture until the program is interrupted; `ready` is called before."""
    ready()
    with suppress(KeyboardInterrupt):
        asyncio.run(server_for(trace_app(desk)).serve(sockets=[place]))


def _app(routes: list[Route]) -> Starlette:
    return Starlette(routes=routes, middleware=[Middleware(TrustedHostMiddleware, allowed_hosts=[HOST, "localhost"])])


def _job_routes(below: str, desk_of: Callable[[Request], Desk]) -> list[Route]:
    """Return the routes of a scene's page, which lie below a path."""

    def page(of: Callable[[Desk], Awaitable[bytes]]) -> Endpoint:
        async def endpoint(request: Request) -> Response:
            try:
                return Response(await of(desk_of(request)), media_type="text/html")
            except NoJobError:
                return Response("There is no such job in this folder.", 404, media_type="text/plain")
            except NoAnswerError as wrong:
                return Response(f"error: {wrong}", 503, media_type="text/plain")
            except SweepError as wrong:  # the file has been changed since, and cannot be used as it is
                return Response(f"error: {wrong}", 422, media_type="text/plain")

        return endpoint

    def answered(
        ask: Callable[[Desk, Request], Callable[[PageRequest], Awaitable[bytes]]], kind: str = "application/json"
    ) -> Endpoint:
        async def endpoint(request: Request) -> Response:
            try:
                work = ask(desk_of(request), request)
            except NoJobError:
                return _refusal("", "There is no such job in this folder.", 404)
            return await _answering(work, kind)(request)

        return endpoint

    def named(name: str) -> Callable[[Desk, Request], Callable[[PageRequest], Awaitable[bytes]]]:
        return lambda desk, request: partial(desk.answer, name)

    routes = [Route(f"{below}/", page(Desk.page)), Route(f"{below}/saw", page(Desk.saw))]
    asks: dict[str, Callable[[Desk, Request], Callable[[PageRequest], Awaitable[bytes]]]] = {
        "save": lambda desk, request: desk.save,
        "now": lambda desk, request: desk.now,
        "take": lambda desk, request: desk.take,
        "both": lambda desk, request: desk.both,
        "copy": lambda desk, request: desk.copy,
    } | {name: named(name) for name in ("cut", "feed", "solve", "beside")}
    routes += [Route(f"{below}/{name}", answered(ask), methods=["POST"]) for name, ask in asks.items()]
    file = answered(lambda desk, request: partial(desk.file, request.path_params["name"]), "application/octet-stream")
    shop = answered(lambda desk, request: partial(desk.shop, request.path_params["section"]))
    routes.append(Route(f"{below}/shop/{{section}}", shop, methods=["POST"]))
    return [*routes, Route(f"{below}/file/{{name}}", file, methods=["POST"])]


def bound(port: int) -> socket.socket:
    """Return a socket on the loopback address; port 0 takes a free one.

    Raises
    ------
    SceneError
        When the port is taken.
    """
    place = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
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


async def _serve(path: Path, units: Units | None, place: socket.socket, ready: Callable[[], None]) -> None:
    workers, of_folder = Workers(), Workers(JOBS, count=1)
    try:
        server = await server_of(path, units, workers, of_folder)
        ready()
        await server.serve(sockets=[place])
    finally:
        await workers.close()
        await of_folder.close()


async def server_of(path: Path, units: Units | None, workers: Workers, folder_workers: Workers) -> uvicorn.Server:
    """Return a server of a scene's page, or of a folder's jobs, once that page has been worked out.

    Raises
    ------
    RefusedError
        When the scene cannot be used.
    """
    if path.is_dir():
        shelf = Shelf(path, units, workers, folder_workers)
        app = folder_app(shelf)
        await shelf.page()
    else:
        desk = Desk(path, units, workers)
        app = page_app(desk)
        await desk.page()
    return server_for(app)


def server_for(app: Starlette) -> uvicorn.Server:
    """Return a server of a web application, small and quiet."""
    config = uvicorn.Config(
        app,
        http=Connection,
        ws="none",
        log_level="error",
        access_log=False,
        server_header=False,
        headers=HEADERS,
        limit_concurrency=MOST_CONNECTIONS,
        timeout_graceful_shutdown=1,
    )
    return uvicorn.Server(config)


def _answering(
    work: Callable[[Any], Awaitable[bytes]],
    kind: str = "application/json",
    read: Callable[[bytes], Any] = asked,
    most: int = MOST_BYTES,
) -> Endpoint:
    """Return an endpoint: a body in JSON to an answer, or to the sentence that says what is wrong."""

    async def endpoint(request: Request) -> Response:
        origin = request.headers.get("origin")
        if origin is not None and origin != f"{request.url.scheme}://{request.headers['host']}":
            return _refusal("", "Only the page served from here may ask.", 403)
        try:
            return Response(await work(read(await _body(request, most))), media_type=kind)
        except (RefusedError, SceneError) as wrong:
            return _refusal(wrong.field, str(wrong), 422)
        except NoAnswerError as wrong:
            return _refusal("", str(wrong), 503)
        except SweepError as wrong:
            return _refusal("", str(wrong), 422)
        except NotAskedError as wrong:
            return _refusal("", str(wrong), wrong.status)
        except (ValueError, ClientDisconnect):
            return _refusal("", "This is not what the page asks; reload it.", 400)

    return endpoint


async def _body(request: Request, most: int) -> bytes:
    """Return a request's body, however it comes, within its bounds of length and time."""
    body = b""
    try:
        async with asyncio.timeout(MOST_SECONDS):
            async for part in request.stream():
                body += part
                if len(body) > most:
                    raise NotAskedError("This is longer than anything that the page asks.", 413)
    except TimeoutError:
        raise NotAskedError("This came too slowly.", 408) from None
    return body


def _refusal(field: str, sentence: str, status: int) -> Response:
    headers = {"Connection": "close"} if status in (408, 413) else None
    return JSONResponse({"field": field, "sentence": sentence}, status, headers)
