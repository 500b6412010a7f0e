"""The light of pictures: Lambert's law (Photometria, 1760, from memory) for two lamps behind whoever looks."""

from __future__ import annotations

import numpy as np
import pytest
from reports import report_of
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkRenderingCore import vtkRenderer

from sweep.show.solids.light import PAINTED, WOOD_IN_LIGHT, Light, flat_normals
from sweep.show.solids.stock import corner_normals
from sweep.show.vtk.surface import DrawnSurface

AHEAD = Light.of((0.0, 0.0, 100.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
"""The light for somebody above who looks straight down."""


def random_corners(seed, count=200):
    """Triangles here and there, below whoever looks."""
    return np.random.default_rng(seed).uniform(-10, 10, (count, 3, 3))


def random_motion(seed):
    """A rotation and a shift, (4, 4)."""
    rng = np.random.default_rng(seed)
    turn, _ = np.linalg.qr(rng.standard_normal((3, 3)))
    motion = np.eye(4)
    motion[:3, :3], motion[:3, 3] = turn * np.linalg.det(turn), rng.uniform(-50, 50, 3)
    return motion


def test_a_face_square_to_the_view_gets_the_cosine_of_each_lamp():
    """The lamps stand at (0.4, 0.9, 0.7) and (-0.5, 0.1, 1) to the right, up and back; 0.60 and 0.62 strong."""
    corners = np.array([[[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]])
    cosines = 0.7 / np.sqrt(0.4**2 + 0.9**2 + 0.7**2), 1.0 / np.sqrt(0.5**2 + 0.1**2 + 1.0)
    falls = 0.60 * cosines[0] + 0.62 * cosines[1]

    brightness = AHEAD.on(corners, flat_normals(corners), PAINTED)

    assert brightness == pytest.approx(PAINTED.around + PAINTED.lamps * falls, rel=1e-12)


def test_a_face_is_as_light_from_behind_as_from_in_front():
    """Its corners told the other way round turn its normal, and change nothing."""
    corners = random_corners(1)
    other = corners[:, ::-1]

    there = AHEAD.on(corners, flat_normals(corners), WOOD_IN_LIGHT)

    assert AHEAD.on(other, flat_normals(other), WOOD_IN_LIGHT) == pytest.approx(there, rel=1e-12)
    assert there.min() >= WOOD_IN_LIGHT.around
    assert np.ptp(there) > 0.5


@pytest.mark.parametrize("seed", range(5))
def test_light_in_the_frame_of_a_moved_thing_is_the_light_on_it_where_it_stands(seed):
    """Corners moved and lit are as light as corners lit by the light brought into their frame."""
    corners, motion = random_corners(seed), random_motion(seed)
    moved = corners @ motion[:3, :3].T + motion[:3, 3]

    there = AHEAD.on(moved, flat_normals(moved), PAINTED)
    here = AHEAD.on_a_thing_moved(motion).on(corners, flat_normals(corners), PAINTED)

    assert here == pytest.approx(there, abs=1e-9)


def test_what_whoever_looks_sees_does_not_depend_on_where_they_stand():
    """The lamps go with the camera: turned together, thing and camera leave the picture as it was."""
    corners, motion = random_corners(7), random_motion(7)
    moved, axes = corners @ motion[:3, :3].T + motion[:3, 3], motion[:3, :3].T
    with_it = Light.of(motion[:3, :3] @ AHEAD.eye + motion[:3, 3], *axes)

    assert with_it.on(moved, flat_normals(moved), PAINTED) == pytest.approx(
        AHEAD.on(corners, flat_normals(corners), PAINTED), abs=1e-9
    )


def test_a_surface_that_is_drawn_is_lit_anew_once_it_or_whoever_looks_has_moved():
    """Its colours are those of the light on it as it stands, however often it was lit before; they are of 256 tones."""
    surface, corners = DrawnSurface(vtkRenderer(), PAINTED), random_corners(11)
    surface.put(corners, np.array([0.5, 0.4, 0.3]))
    elsewhere = Light.of((40.0, 0.0, 100.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    turned = Light.of((40.0, 0.0, 100.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    for motion in (np.eye(4), random_motion(11)):
        surface.pose(motion)
        for light in (AHEAD, elsewhere, turned, turned):
            surface.light(light)
            drawn = vtk_to_numpy(surface.actor.GetMapper().GetInput().GetPointData().GetScalars())
            moved = corners @ motion[:3, :3].T + motion[:3, 3]
            tones = 255 * np.array([0.5, 0.4, 0.3]) * light.on(moved, flat_normals(moved), PAINTED)
            assert drawn.reshape(-1, 3, 3) == pytest.approx(np.repeat(tones[:, None], 3, axis=1), abs=0.51)


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "stopped-cove"])
def test_a_corner_is_lit_by_the_faces_that_curve_on_from_its_own(name):
    """Their normals weighted by their areas; faces that stand at more than 25 degrees to it are across an edge."""
    mesh = report_of(name).job.stages[-1].mesh
    corners = mesh.vertices[mesh.triangles]
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    unit = flat_normals(corners)[:, 0]
    found = corner_normals(mesh)
    for face, triangle in enumerate(mesh.triangles):
        for corner, vertex in enumerate(triangle):
            around = (mesh.triangles == vertex).any(axis=1)
            curves_on = around & (unit @ unit[face] > np.cos(np.radians(25.0)))
            wanted = areas[curves_on].sum(axis=0)
            assert found[face, corner] == pytest.approx(wanted / np.linalg.norm(wanted), abs=1e-12)
