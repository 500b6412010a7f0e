"""Profiles from drawings: an arc drawn by other programs' rules comes out as the arc it is."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest

from sweep.errors import SceneError
from sweep.scene.drawing import read_drawing

RADIUS, HALF = 36.125, math.atan2(30, 36.125 - 16)
"""Of the arc 60 mm wide and 16 mm deep."""


def assert_is_the_arc(points: list[list[float]], within: float) -> None:
    line = np.array(points)

    assert line[0] == pytest.approx((-30, 0), abs=within)
    assert line[-1] == pytest.approx((30, 0), abs=within)
    assert np.hypot(line[:, 0], line[:, 1] - (16 - RADIUS)) == pytest.approx(RADIUS, abs=within)


@pytest.mark.parametrize(("units", "scale"), [(4, 1.0), (1, 1 / 25.4), (0, 1.0)])
def test_an_arc_of_a_dxf_drawing_in_any_units(tmp_path, units, scale):
    """Group code 70 of $INSUNITS: 4 is mm, 1 inches, 0 nothing, taken as mm (DXF reference)."""
    document = ezdxf.new(units=units)
    document.modelspace().add_arc(
        (100 * scale, -7 * scale), RADIUS * scale, 90 - math.degrees(HALF), 90 + math.degrees(HALF)
    )
    document.modelspace().add_line((0, 0), (5 * scale, 0))
    document.saveas(tmp_path / "a.dxf")

    assert_is_the_arc(read_drawing(tmp_path / "a.dxf"), 0.003)


def test_a_polyline_of_a_dxf_drawing_from_right_to_left(tmp_path):
    """Its own corners, placed on the stock and turned left to right."""
    document = ezdxf.new(units=4)
    document.modelspace().add_lwpolyline([(40, 3), (30, 9), (12, 11), (0, 3)])
    document.saveas(tmp_path / "a.dxf")

    assert np.array(read_drawing(tmp_path / "a.dxf")) == pytest.approx(np.array([[-20, 0], [-8, 8], [10, 6], [20, 0]]))


def test_an_arc_of_an_svg_drawing(tmp_path):
    """In mm by its viewBox, y counted downwards as SVG does."""
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
        f'<path d="M 20 60 A {RADIUS} {RADIUS} 0 0 1 80 60" fill="none" stroke="black"/></svg>'
    )

    assert_is_the_arc(read_drawing(tmp_path / "a.svg"), 0.003)


def test_a_polyline_of_an_svg_drawing(tmp_path):
    """Its own corners."""
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">'
        '<polyline points="0,40 12,32 30,34 40,40" fill="none" stroke="black"/></svg>'
    )

    assert np.array(read_drawing(tmp_path / "a.svg")) == pytest.approx(
        np.array([[-20, 0], [-8, 8], [10, 6], [20, 0]]), abs=1e-4
    )


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("a.dxf", "nonsense", "cannot be read as DXF"),
        ("a.svg", "<nonsense", "cannot be read as SVG"),
        ("a.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>', "no line in this drawing"),
        (
            "a.svg",
            '<svg xmlns="http://www.w3.org/2000/svg"><polyline points="0,0 9,5 3,8 20,0"/></svg>',
            "turns back on itself",
        ),
    ],
)
def test_what_holds_no_profile_is_refused(tmp_path, name, content, says):
    """In one sentence that names the file."""
    (tmp_path / name).write_text(content)

    with pytest.raises(SceneError, match=says):
        read_drawing(tmp_path / name)


def test_a_drawing_that_is_not_there_is_refused(tmp_path):
    """It names the path."""
    with pytest.raises(SceneError, match="none.dxf"):
        read_drawing(tmp_path / "none.dxf")
