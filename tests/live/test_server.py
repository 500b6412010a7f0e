"""The live page's server, knocked at by what is no page of its own."""

from __future__ import annotations

import asyncio
import json
import re
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import ExitStack
from pathlib import Path

import pytest
from demos import CORNICE, cornice_in_passes
from serving import served

from sweep.live import answers, connection, server
from sweep.live.asked import asked as read_asked
from sweep.live.desk import KEPT, Desk
from sweep.live.opened import version_of
from sweep.units import Units


class Here:
    """What workers answer, worked out in the tests' own process: to start one takes a second."""

    async def work(self, name: str, *given: object) -> object:
        return getattr(answers, name)(*given)


class OpenedOnly(Here):
    """Workers that put no page around a scene that is opened."""

    async def work(self, name: str, *given: object) -> object:
        if name != "page":
            return await super().work(name, *given)
        path, units, _, before = given
        return answers.opened(path, units, before), b""


@pytest.fixture(scope="module")
def address():
    """The demo scene, served."""
    with served(CORNICE) as address:
        yield address


@pytest.fixture(scope="module")
def body(address):
    """What a page of it asks with."""
    version = re.search(r'"version":"(\w+)"', asked(address)[1])[1]
    return {"version": version, "units": "mm", "changes": {}}


def asked(address: str, path: str = "", body: dict | bytes | None = None, **headers: str) -> tuple[int, str]:
    """Return the status and the words that a request is answered with."""
    request = urllib.request.Request(address + path, headers=headers)
    if body is not None:
        request.data = body if isinstance(body, bytes) else json.dumps(body).encode()
        request.add_header("Content-Type", "application/json")
    try:
        with urllib.request.urlopen(request) as reply:
            return reply.status, reply.read().decode()
    except urllib.error.HTTPError as wrong:
        with wrong:
            return wrong.code, wrong.read().decode()


def test_the_server_answers_only_its_own_name_paths_and_pages(address, body):
    """Another host's name, another page's request, a path outside, a body that is no request."""
    assert asked(address, "solve", body)[0] == 200
    assert asked(address, Host="rebound.example")[0] == 400
    assert asked(address, "cut", body, Origin="http://elsewhere.example")[0] == 403
    assert asked(address, "../../etc/passwd")[0] == 404
    assert asked(address, "scenes/corner-cupboard-cornice.toml")[0] == 404
    assert asked(address, "file/../../README.md", body)[0] == 404
    assert asked(address, "file/..%2f..%2fREADME.md", body)[0] in (404, 422)
    assert asked(address, "file/result.json", body)[0] == 422
    assert asked(address, "cut")[0] == 405
    for nonsense in ({}, {**body, "changes": [1]}, {**body, "changes": {"setup.fence_angle": {"a": 1}}}):
        assert asked(address, "cut", nonsense)[0] in (400, 422)
    for outside in ("/etc/passwd", "../shop.csv", "..\\shop.csv"):
        status, words = asked(address, "cut", {**body, "changes": {"target.file": outside}})
        assert (status, "does not lie beside the scene" in words) == (422, True)
    status, words = asked(address, "cut", {**body, "version": "an old one"})
    assert status == 422
    assert "reload" in words


def test_a_page_speaks_the_units_of_its_scene_unless_others_are_asked_for():
    """The picture rail is written in inches; an option goes before."""
    for asked_for, units in ((None, b"in"), (Units("mm"), b"mm")):
        page = asyncio.run(Desk(CORNICE.with_name("picture-rail.toml"), asked_for, Here()).page())
        assert re.search(rb'"units":"([a-z-]+)"', page)[1] == units


def test_the_server_keeps_nothing_for_a_page(tmp_path):
    """However many pages and requests: only the text of the scene, once for each version of the file."""
    scene, text = tmp_path / "mine.toml", cornice_in_passes("16 mm")
    scene.write_text(text)

    async def visits() -> tuple[int, int]:
        desk, version = Desk(scene, Units(), OpenedOnly()), version_of(text)
        for _ in range(3):
            await desk.page()
            body = {
                "version": version,
                "units": "mm",
                "changes": {"setup.offset": "3 mm"},
                "pass": 4,
                "travel": 100.0,
            }
            await desk.answer("cut", read_asked(json.dumps(body).encode()))
        once = len(desk._opened)
        for number in range(KEPT + 3):
            scene.write_text(f"{text}# {number}\n")
            await desk.page()
        return once, len(desk._opened)

    assert asyncio.run(visits()) == (1, KEPT)


def sent(address: str, *parts: bytes, seconds: float = 10.0) -> bytes:
    """Return all that comes back over a connection of its own, until the server closes it."""
    host, port = re.match(r"http://([\d.]+):(\d+)/", address).groups()
    with socket.create_connection((host, int(port)), timeout=seconds) as line:
        try:
            for part in parts:
                line.sendall(part)
        except OSError:
            pass  # closed while it is sent: what came back is still read
        came = b""
        try:
            while more := line.recv(65536):
                came += more
        except ConnectionResetError:
            pass
        return came


HEAD = b"POST /cut HTTP/1.1\r\nHost: 127.0.0.1\r\n"


def test_a_body_that_comes_in_pieces_is_bounded_too(address):
    """Though it never says how long it is."""
    piece = b"4000\r\n" + b" " * 0x4000 + b"\r\n"
    came = sent(address, HEAD + b"Transfer-Encoding: chunked\r\n\r\n", *[piece] * 200)

    assert came.startswith(b"HTTP/1.1 413 ")
    assert b"longer than anything" in came


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "null",
        "[]",
        "[" * 90_000,
        '{"a":' * 15_000 + "1" + "}" * 15_000,
        '{"version": %s}' % ("[" * 40_000 + "]" * 40_000),
        "\ufeff{}",
        '{"version": "\\ud800"}',
        '{"version": ' + "9" * 90_000 + "}",
        "NaN",
    ],
    ids=lambda text: text[:12],
)
def test_what_is_no_request_is_told_so(address, text):
    """At once, in JSON, and the server goes on."""
    started = time.monotonic()
    status, words = asked(address, "cut", text.encode())

    assert status == 400
    assert "not what the page asks" in json.loads(words)["sentence"]
    assert time.monotonic() - started < 1.0


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("pass", "1e999"),
        ("pass", "-1"),
        ("pass", "1" + "0" * 400),
        ("pass", "3.5"),
        ("pass", '"3"'),
        ("travel", "1e999"),
        ("travel", "-1e300"),
        ("travel", "NaN"),
        ("units", '"furlongs"'),
        ("changes", '{"setup.offset": 1e999}'),
        ("changes", '{"stock": {"density": null}}'),
        ("changes", '{"accuracy.seed": 9223372036854775808}'),
        ("edits", '[{"path": "stock.length", "do": "burn"}]'),
        ("edits", '[{"path": "stock.length", "value": 1e999}]'),
        ("changes", "[]"),
        ("version", "7"),
        ("more", "1"),
    ],
)
def test_values_that_no_page_sends_are_refused(body, name, value):
    """Before anything is worked out with them."""
    text = json.dumps({**body, "pass": 1, "travel": 0.0, name: None})
    with pytest.raises(ValueError, match="validation error"):
        read_asked(re.sub(rf'"{name}": null', f'"{name}": {value}', text).encode())


@pytest.mark.parametrize("heights", [[], ["1e999 mm"], ["0 mm"], ["1 mm*9^9^9"], ["1 mm"] * 400, ["nan mm"]])
def test_heights_that_are_none_are_refused_in_a_sentence(address, body, heights):
    """In the words of a scene's reader."""
    status, words = asked(address, "cut", {**body, "changes": {"passes.heights": heights}})

    assert status == 422
    assert json.loads(words)["sentence"].endswith(".")


@pytest.mark.parametrize("name", ["cut", "feed"])
@pytest.mark.parametrize("moment", [(0, None), (10_000, None), (10_000, 5.0), (1, -100_000.0), (8, 100_000.0)])
def test_moments_beyond_the_job_are_answered_with_its_ends(address, body, name, moment):
    """A page that asks for a pass that is gone gets the last one."""
    assert asked(address, name, {**body, "pass": moment[0], "travel": moment[1]})[0] == 200


def test_no_other_page_may_show_or_keep_what_is_answered(address, body):
    """Whatever the answer is."""
    for path, data in (("", None), ("nowhere", None), ("cut", None), ("cut", {"a": 1}), ("cut", body)):
        request = urllib.request.Request(address + path, data and json.dumps(data).encode())
        try:
            with urllib.request.urlopen(request) as reply:
                headers = reply.headers
        except urllib.error.HTTPError as wrong:
            with wrong:
                headers = wrong.headers
        assert headers["Content-Security-Policy"] == "frame-ancestors 'none'"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert headers["Cache-Control"] == "no-store"
        assert headers["Server"] is None


def test_whoever_keeps_a_connection_for_nothing_loses_it(address, monkeypatch):
    """One that says nothing, one that says its head or its body letter by letter, one that does not read."""
    monkeypatch.setattr(connection, "PATIENCE", 0.2)  # so that the test needs none
    monkeypatch.setattr(server, "MOST_SECONDS", 0.2)
    port = int(address.rstrip("/").rpartition(":")[2])
    lines = {}
    with ExitStack() as ends:
        for name, head in (
            ("silent", b""),
            ("slow head", b"POST /cut HTTP/1.1\r\nHo"),
            ("slow body", HEAD + b"Content-Length: 1000\r\n\r\n{"),
            ("idle", b"GET /nowhere HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"),
            ("deaf", b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n" * 200),
        ):
            lines[name] = ends.enter_context(socket.socket())
            lines[name].setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)  # so that little fills it
            lines[name].connect(("127.0.0.1", port))
            lines[name].sendall(head)
        lost, started = {}, time.monotonic()
        while len(lost) < len(lines) and time.monotonic() - started < 20:
            for name, line in lines.items():
                if name not in lost and _lost(line, name):
                    lost[name] = time.monotonic() - started
            time.sleep(0.05)
            assert asked(address, "nowhere")[0] == 404

    assert set(lost) == set(lines)


def _lost(line: socket.socket, name: str) -> bool:
    """Send another letter where the line is a slow one, and see whether it is closed."""
    line.settimeout(0.01)
    try:
        if name in ("slow head", "slow body"):
            line.sendall(b"s")
        if name == "deaf":
            line.sendall(b"GET")
            return False
        while line.recv(65536):
            pass
        return True
    except TimeoutError:
        return False
    except OSError:
        return True


def test_many_connections_leave_it_answering(address):
    """More than it takes at once: those beyond are turned away, and once they are gone it answers as before."""
    port = int(address.rstrip("/").rpartition(":")[2])
    with ExitStack() as ends:
        lines = [ends.enter_context(socket.create_connection(("127.0.0.1", port))) for _ in range(150)]
        assert asked(address, "nowhere")[0] in (404, 503)
        assert len(lines) == 150
    started = time.monotonic()
    while asked(address, "nowhere")[0] != 404:
        assert time.monotonic() - started < 5
        time.sleep(0.05)


@pytest.mark.skipif(
    not Path("/proc").exists(), reason="this system does not tell which processes a process has started"
)
def test_the_program_answers_by_processes_and_nothing_is_left_running_when_it_is_killed():
    """However it ends."""
    command = [sys.executable, "-m", "sweep", "view", str(CORNICE), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as program:
        address = re.search(r"http://\S+", program.stdout.readline())[0]
        version = re.search(r'"version":"(\w+)"', asked(address)[1])[1]
        edits = [{"path": "setup.fence_angle", "do": "type", "value": angle} for angle in ("29", "wide")]
        status, words = asked(address, "cut", {"version": version, "units": "mm", "changes": {}, "edits": edits})
        assert (status, json.loads(words)["model"]["fence"][:18]) == (200, "fence at 29.00 deg")
        assert asked(address, "cut", {"version": "another", "units": "mm", "changes": {}})[0] == 422
        children = Path(f"/proc/{program.pid}/task/{program.pid}/children").read_text().split()
        program.kill()
    started = time.monotonic()
    assert children
    while any(_runs(child) for child in children):
        assert time.monotonic() - started < 10
        time.sleep(0.05)


def _runs(process: str) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False
