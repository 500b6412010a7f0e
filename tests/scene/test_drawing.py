"""Profiles from drawings: an arc drawn by other programs' rules comes out as the arc it is."""

from __future__ import annotations

import math
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextvars import ContextVar

import ezdxf
import numpy as np
import pytest
from fuzz.drawings import HOSTILE, circle_of, dxf, svg

from sweep.errors import SceneError
from sweep.scene.drawing import child, read, reader
from sweep.scene.drawing.read import read_drawing
from sweep.scene.drawing.svg import MM, lines
from sweep.scene.target import MOST_POINTS

RADIUS, HALF = 36.125, math.atan2(30, 36.125 - 16)
"""The radius, mm, and half the angle, rad, of the arc 60 mm wide and 16 mm deep."""


@pytest.fixture(scope="module")
def one_process() -> Iterator[reader.DrawingReader]:
    """One process for all drawings of which only what is read is asked."""
    with reader.DrawingReader() as one:
        yield one


@pytest.fixture
def by_one(one_process, monkeypatch) -> None:
    """Have drawings read by it."""
    monkeypatch.setattr(read, "_READER", ContextVar("reader", default=one_process))


def assert_is_the_arc(points: list[list[float]], within: float) -> None:
    """Both ends of the line are the arc's, and every point of it lies on the arc's circle."""
    line = np.array(points)

    assert line[0] == pytest.approx((-30, 0), abs=within)
    assert line[-1] == pytest.approx((30, 0), abs=within)
    assert np.hypot(line[:, 0], line[:, 1] - (16 - RADIUS)) == pytest.approx(RADIUS, abs=within)


@pytest.mark.parametrize(("units", "scale"), [(4, 1.0), (1, 1 / 25.4), (0, 1.0)])
@pytest.mark.usefixtures("by_one")
def test_an_arc_of_a_dxf_drawing_in_any_units(tmp_path, units, scale):
    """Group code 70 of $INSUNITS: 4 is mm, 1 inches, 0 nothing, taken as mm (DXF reference)."""
    document = ezdxf.new(units=units)
    document.modelspace().add_arc(
        (100 * scale, -7 * scale), RADIUS * scale, 90 - math.degrees(HALF), 90 + math.degrees(HALF)
    )
    document.modelspace().add_line((0, 0), (5 * scale, 0))
    document.saveas(tmp_path / "a.dxf")

    assert_is_the_arc(read_drawing(tmp_path / "a.dxf", MOST_POINTS), 0.003)


@pytest.mark.usefixtures("by_one")
def test_a_dxf_drawing_without_a_header_is_in_mm(tmp_path):
    """Entities alone are a whole DXF file (DXF reference, release 12); where nothing is told of units they are mm."""
    corners = [(0, 0), (30, 10), (60, 0)]
    pairs = [(0, "SECTION"), (2, "ENTITIES"), (0, "POLYLINE"), (8, "0"), (66, 1)]
    for x, y in corners:
        pairs += [(0, "VERTEX"), (8, "0"), (10, x), (20, y)]
    pairs += [(0, "SEQEND"), (0, "ENDSEC"), (0, "EOF")]
    (tmp_path / "drawn.dxf").write_text("".join(f"{code}\n{value}\n" for code, value in pairs))

    assert np.array(read_drawing(tmp_path / "drawn.dxf", MOST_POINTS)) == pytest.approx(
        np.array([(-30, 0), (0, 10), (30, 0)])
    )


@pytest.mark.usefixtures("by_one")
def test_a_polyline_of_a_dxf_drawing_from_right_to_left(tmp_path):
    """Its own corners, placed on the stock and turned left to right."""
    document = ezdxf.new(units=4)
    document.modelspace().add_lwpolyline([(40, 3), (30, 9), (12, 11), (0, 3)])
    document.saveas(tmp_path / "a.dxf")

    assert np.array(read_drawing(tmp_path / "a.dxf", MOST_POINTS)) == pytest.approx(
        np.array([[-20, 0], [-8, 8], [10, 6], [20, 0]])
    )


@pytest.mark.usefixtures("by_one")
def test_an_arc_of_an_svg_drawing(tmp_path):
    """In mm by its viewBox, y counted downwards as SVG does."""
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
        f'<path d="M 20 60 A {RADIUS} {RADIUS} 0 0 1 80 60" fill="none" stroke="black"/></svg>'
    )

    assert_is_the_arc(read_drawing(tmp_path / "a.svg", MOST_POINTS), 0.003)


@pytest.mark.usefixtures("by_one")
def test_a_polyline_of_an_svg_drawing(tmp_path):
    """Its own corners."""
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">'
        '<polyline points="0,40 12,32 30,34 40,40" fill="none" stroke="black"/></svg>'
    )

    assert np.array(read_drawing(tmp_path / "a.svg", MOST_POINTS)) == pytest.approx(
        np.array([[-20, 0], [-8, 8], [10, 6], [20, 0]]), abs=1e-4
    )


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("a.dxf", "nonsense", "cannot be read as DXF"),
        ("a.svg", "<nonsense", "cannot be read as SVG"),
        ("a.dxf", "%PDF-1.7", "this is a PDF document"),
        ("a.svg", "<!--" + " " * read.MOST_BYTES + "-->", "larger than 2 MB"),
        ("a.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>', "no line in this drawing"),
        (
            "a.svg",
            '<svg xmlns="http://www.w3.org/2000/svg"><polyline points="0,0 9,5 3,8 20,0"/></svg>',
            "turns back on itself",
        ),
    ],
)
@pytest.mark.usefixtures("by_one")
def test_what_holds_no_profile_is_refused(tmp_path, name, content, says):
    """In one sentence that names the file."""
    (tmp_path / name).write_text(content)

    with pytest.raises(SceneError, match=says):
        read_drawing(tmp_path / name, MOST_POINTS)


def test_a_drawing_that_is_not_there_is_refused(tmp_path):
    """It names the path."""
    with pytest.raises(SceneError, match=r"none\.dxf"):
        read_drawing(tmp_path / "none.dxf", MOST_POINTS)


AT_ONCE = {name: content for name, content in HOSTILE.items() if len(content) < 200_000 and "use" not in name}
"""Those that need no limit of time; `uses.svg` is read below."""


@pytest.mark.parametrize("name", AT_ONCE)
def test_whatever_the_libraries_throw_becomes_a_sentence(tmp_path, name):
    """Half a sentence that names no inside of theirs, or a line within the bounds; and at once."""
    (tmp_path / name).write_bytes(AT_ONCE[name])
    start = time.process_time()

    answer = child.answer(tmp_path / name, reader.LARGEST, MOST_POINTS)

    assert time.process_time() - start < 2
    if "line" in answer:
        assert 1 < len(answer["line"]) <= MOST_POINTS
        assert np.abs(answer["line"]).max() <= reader.LARGEST
    else:
        assert "\n" not in answer["problem"]
        assert "object" not in answer["problem"]
        assert answer["remedy"]


@pytest.mark.parametrize("name", ["laughs.svg", "laughs-utf16.svg", "outside.svg", "outside-parameter.svg"])
@pytest.mark.usefixtures("by_one")
def test_a_drawing_that_defines_entities_is_refused(tmp_path, name):
    """Whatever its encoding: eight levels of ten stand for a hundred million, and one may name another file."""
    (tmp_path / name).write_bytes(HOSTILE[name])

    with pytest.raises(SceneError, match="defines entities"):
        read_drawing(tmp_path / name, MOST_POINTS)


@pytest.mark.usefixtures("by_one")
def test_a_plain_document_type_is_no_reason_to_refuse(tmp_path):
    """As SVG 1.1 asked for (W3C, SVG 1.1, section 1.3)."""
    doctype = b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    (tmp_path / "a.svg").write_bytes(doctype + svg('<path d="M0 0L9 9"/>'))

    assert len(read_drawing(tmp_path / "a.svg", MOST_POINTS)) == 2


def test_reading_that_waits_is_ended_by_the_clock(tmp_path, monkeypatch):
    """Waiting takes no time of the processor."""
    monkeypatch.setattr(reader, "WALL_SECONDS", 0.01)
    (tmp_path / "a.svg").write_bytes(svg('<path d="M0 0L9 9"/>'))

    with pytest.raises(SceneError, match="reading it takes more than"):
        read_drawing(tmp_path / "a.svg", MOST_POINTS)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_a_drawing_whose_reader_somebody_kills_is_read_by_another(tmp_path):
    """Kill -9 says nothing of the drawing; its limits end it by other signals, and are told."""
    (tmp_path / "a.svg").write_bytes(svg('<path d="M0 0L9 9"/>'))
    with reader.DrawingReader() as one:
        first = one.answer(tmp_path / "a.svg", MOST_POINTS)
        os.kill(one._process.pid, signal.SIGKILL)
        assert one.answer(tmp_path / "a.svg", MOST_POINTS) == first
    assert len(first["line"]) == 2


@pytest.mark.skipif(sys.platform != "linux", reason="macOS does not keep this limit, Windows has none")
def test_reading_that_takes_too_much_memory_is_refused(tmp_path, monkeypatch):
    """The libraries alone take more than 60 MB."""
    monkeypatch.setattr(reader, "MEMORY_BYTES", 60_000_000)
    (tmp_path / "a.dxf").write_bytes(dxf(circle_of("5")))

    with pytest.raises(SceneError):
        read_drawing(tmp_path / "a.dxf", MOST_POINTS)


@pytest.mark.usefixtures("by_one")
def test_a_line_of_too_many_points_is_refused(tmp_path):
    """The comparison with the cut takes time and memory for each."""
    (tmp_path / "a.svg").write_bytes(svg(f'<path d="M0 0{"h1" * 100}"/>'))

    assert len(read_drawing(tmp_path / "a.svg", 101)) == 101
    with pytest.raises(SceneError, match="more than 100 points"):
        read_drawing(tmp_path / "a.svg", 100)


def test_drawings_are_read_by_many_threads_at_once(tmp_path):
    """As the live page's server asks for them; each gets its own line."""
    for width in range(1, 5):
        (tmp_path / f"{width}.svg").write_bytes(svg(f'<path d="M0 0h{width}"/>'))
    with ThreadPoolExecutor(4) as threads:
        lines = list(threads.map(lambda k: read_drawing(tmp_path / f"{k}.svg", MOST_POINTS), range(1, 5)))

    assert [line[-1][0] - line[0][0] for line in lines] == pytest.approx([k * MM for k in range(1, 5)])


def test_a_drawing_is_read_once_until_it_changes(tmp_path, monkeypatch):
    """A setting held on the live page asks for it many times a second."""
    path, started = tmp_path / "a.svg", []
    begun = subprocess.Popen
    monkeypatch.setattr(subprocess, "Popen", lambda *given, **more: started.append(1) or begun(*given, **more))

    widths = []
    for width in (3, 3, 7, 7):
        path.write_bytes(svg(f'<path d="M0 0h{width}"/>'))
        line = read_drawing(path, MOST_POINTS)
        widths.append(line[-1][0] - line[0][0])

    assert widths == pytest.approx([3 * MM, 3 * MM, 7 * MM, 7 * MM])
    assert len(started) == 2


def test_many_drawings_are_read_by_one_process_and_by_a_new_one_after_it_had_to_be_ended(tmp_path, monkeypatch):
    """Each gets its own line or its own sentence, whatever stood before it.

    The fifth would take for ever: groups that use one another ten times over, eight deep, a hundred million lines. The
    child's time is kept to.
    """
    monkeypatch.setattr(reader, "CPU_SECONDS", 1)
    begun, started = subprocess.Popen, []
    monkeypatch.setattr(subprocess, "Popen", lambda *given, **more: started.append(1) or begun(*given, **more))
    for width in (3, 4, 6, 7):
        (tmp_path / f"{width}.svg").write_bytes(svg(f'<path d="M0 0h{width}"/>'))
    (tmp_path / "2.svg").write_text("<nonsense")
    (tmp_path / "5.svg").write_bytes(HOSTILE["uses.svg"])

    found, before = {}, os.times().children_user
    with read.read_by_one():
        for number in range(2, 8):
            try:
                line = read_drawing(tmp_path / f"{number}.svg", MOST_POINTS)
                found[number] = round((line[-1][0] - line[0][0]) / MM)
            except SceneError as wrong:
                found[number] = wrong.problem.said()[:26]

    assert found == {2: "this cannot be read as SVG", 3: 3, 4: 4, 5: "reading it takes more than", 6: 6, 7: 7}
    assert len(started) == 2
    assert os.times().children_user - before < 1.6


def test_nothing_beside_a_drawing_is_run_and_nothing_of_the_users_is_written(tmp_path, monkeypatch):
    """Modules of a library's name in the folder, and a library that would keep a list of fonts in the user's home."""
    for name in ("ezdxf", "json", "sweep"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit")
    (tmp_path / "a.dxf").write_bytes(dxf(circle_of("5")))
    (tmp_path / "home").mkdir()
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)

    assert len(read_drawing(read.Path("a.dxf"), MOST_POINTS)) > 10
    assert list((tmp_path / "home").iterdir()) == []


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("letter", ["C", "Q"])
def test_chords_of_a_curve_lie_within_the_tolerance(tmp_path, letter, seed):
    """Against the Bernstein polynomials (SVG 1.1, section 8.3): each chord's points and the curve between them."""
    chance, degree, tolerance = random.Random(seed), {"C": 3, "Q": 2}[letter], 0.01
    corners = np.array([(chance.uniform(-99, 99), chance.uniform(-99, 99)) for _ in range(degree + 1)])
    words = [f"{x!r} {y!r}" for x, y in corners.tolist()]
    (tmp_path / "a.svg").write_bytes(svg(f'<path d="M{words[0]}{letter}{" ".join(words[1:])}"/>'))
    (line,) = lines(tmp_path / "a.svg", tolerance, reader.LARGEST)
    along = np.linspace(0, 1, 100 * (len(line) - 1) + 1)
    powers = [math.comb(degree, k) * along**k * (1 - along) ** (degree - k) for k in range(degree + 1)]
    curve = np.einsum("kn,kd->nd", powers, corners * (MM, -MM))
    chords = np.array([np.interp(along, along[::100], part) for part in np.array(line).T]).T

    assert np.array(line) == pytest.approx(curve[::100], abs=1e-5)
    assert np.hypot(*(curve - chords).T).max() < tolerance + 1e-5
    assert len(line) < 200
