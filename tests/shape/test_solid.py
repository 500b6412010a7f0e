"""The swept solid against the volume of a convex body swept along a line, and against the plane section."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
import shapely
from hypothesis import given
from oracles import disc_section_area
from strategies import between, fewer, scenes

from sweep.cut.passes import passes_of
from sweep.cut.stages import travel_range
from sweep.scene.model import Scene
from sweep.shape import section, solid
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import centre_height, reach_along, rim_points
from sweep.shape.tool import flat_tips
from sweep.tolerance import BELOW_TABLE, CHORD, FINE_CHORD


def hull_section(scene: Scene) -> shapely.Geometry:
    """The mid-length section of the stock with its deepest pass hulled and taken away."""
    start, end = travel_range(scene, len(scene.passes.heights))
    cutters = solid.swept(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height, (start, end))
    stock = scene.stock
    left = solid.subtract(solid.box(stock.length, stock.width, stock.thickness), cutters)
    mesh = solid.to_mesh(left, {})

    assert mesh.is_closed()
    segments, _ = mesh.section(stock.length / 2)
    return shapely.build_area(shapely.multilinestrings(shapely.linestrings(segments.round(9))))


def no_part_of_the_rim_above_the_table_is_beyond_its_reach(scene: Scene) -> None:
    """The closed form against points drawn along all circles: none goes further, one comes as far."""
    tool, tilt, height, way = scene.tool, scene.tilt, scene.setup.blade_height, scene.feed.direction
    centre = centre_height(tool, tilt, height)
    far = reach_along(tool, way, tilt, height, BELOW_TABLE)
    points = np.vstack([rim_points(a, r, np.linspace(0, math.pi, 20_001), tilt, centre) for a, r in tool.profile])
    above = np.abs(points @ way)[points[:, 2] >= -BELOW_TABLE].max(initial=0.0)

    assert above <= far + 1e-9
    assert far <= np.abs(np.vstack(solid.rim_of_bands(tool, tilt, height, CHORD)) @ way).max() + CHORD


@fewer(1 / 4)  # that hulls and drawn-out sections make one solid is a law of `cut/test_laws.py`
@given(scene=scenes(stops=False, passes=3))
def test_the_solid_cut_by_hulls_has_the_exact_section_at_mid_length(scene):
    """Two derivations that share no code: hulls of rims in space, and circles in the sheared plane."""
    no_part_of_the_rim_above_the_table_is_beyond_its_reach(scene)
    stock = scene.stock
    planed = section.stock_section(stock.width, stock.thickness)
    exact = planed
    for one in passes_of(scene):
        exact = section.minus(exact, section.cut_section(scene.tool, scene.feed, scene.tilt, one.height))
    got = hull_section(scene)

    # the mesh leaves up to a chord more wood (measured slantwise in the corner where a cut leaves the stock)
    # and takes none; the exact figure has fine chords of its own
    assert section.area(section.minus(exact, shapely.buffer(got, 2 * FINE_CHORD))) <= 1e-9
    assert section.area(section.minus(got, shapely.buffer(exact, CHORD + 2 * FINE_CHORD))) <= CHORD**2


@given(
    radius=between(60, 180),
    kerf=between(1, 6),
    angle=between(1, 90),
    height=between(2, 30),
    run=between(1, 500),
)
@fewer(1 / 8)
def test_a_rim_swept_along_a_line_has_its_own_volume_and_its_shadow_times_the_way(radius, kerf, angle, height, run):
    """A convex body K swept a length L: V(K) + L x shadow(K); here K is the part of a disc above the table."""
    theta, chord = math.radians(angle), 0.001
    tool, feed = flat_tips(radius, kerf), StraightFeed(theta)
    (swept,) = solid.swept(tool, feed, 0.0, height, (1000.0, 1000.0 + run), chord)
    above = solid.prism([np.array([[-900.0, 0.0], [900, 0], [900, 400], [-900, 400]])], 4000.0)
    whole = solid.common(swept, above)
    segment = radius**2 * math.acos(1 - height / radius) - (radius - height) * math.sqrt(
        2 * radius * height - height**2
    )
    shadow = disc_section_area(radius, kerf, theta, height)

    exact = kerf * segment + run * shadow

    assert 0 <= exact - solid.volume(whole) <= chord * 2 * (kerf + run) * (radius * height) ** 0.5 * 2


def test_a_finer_chord_brings_the_volume_closer_by_its_square_in_facets():
    """Volume error falls in proportion to the chord tolerance, which is the square of the facet count."""
    tool, feed = flat_tips(127, 3.2), StraightFeed(math.radians(28))
    exact = 600 * (90 * 25 - disc_section_area(127, 3.2, feed.fence_angle, 16))
    errors = []
    for chord in (0.4, 0.1, 0.025):
        left = solid.subtract(solid.box(600, 90, 25), solid.swept(tool, feed, 0.0, 16, (-400, 1000), chord))
        errors.append(solid.volume(left) - exact)

    assert all(error > 0 for error in errors)
    assert pytest.approx(errors[0] / errors[1], rel=0.25) == 4
    assert pytest.approx(errors[1] / errors[2], rel=0.25) == 4


CUT_ONCE = """
import os
os.sched_setaffinity(0, range(os.cpu_count()))
cores = os.sched_getaffinity(0)
from sweep.shape import solid
threads = len(os.listdir("/proc/self/task"))
solid.subtract(solid.box(900.0, 80.0, 20.0), [solid.box(500.0, 30.0, 9.0)])
print(len(os.listdir("/proc/self/task")) - threads, cores == os.sched_getaffinity(0))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="what is asked of the system is Linux's own")
def test_the_kernel_works_by_one_thread_and_leaves_all_cores_to_the_program():
    """A program that has cut has no more threads than before, and may run on as many cores."""
    told = subprocess.run([sys.executable, "-c", CUT_ONCE], capture_output=True, text=True, check=True)

    assert told.stdout.split() == ["0", "True"]


@pytest.mark.skipif(sys.platform != "linux", reason="what is asked of the system is Linux's own")
def test_where_the_system_lets_nobody_choose_cores_the_kernel_works_all_the_same(monkeypatch):
    """What is refused, as in a closed box, only costs some of the processor."""

    def refused(process: int, cores: set[int]) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(solid.os, "sched_setaffinity", refused)

    solid._work_alone()
