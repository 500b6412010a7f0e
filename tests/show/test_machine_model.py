"""The saw as triangles: closed, the right way out, and set up where the scene says."""

from __future__ import annotations

import ast
from pathlib import Path

import numpy as np
import pytest
from demos import CORNICE, SCENES

from sweep.scene.read import read_scene
from sweep.shape.mesh import Mesh
from sweep.show.solids import saw as machine_model

NAMES = ["corner-cupboard-cornice", "picture-rail", "tilted-cove", "off-the-edge"]


@pytest.fixture(params=NAMES)
def scene(request):
    """Teeth both flat and bevelled, blade upright and tilted, cut inside and over the edge."""
    return read_scene(SCENES / f"{request.param}.toml")


def closed(points, *triangles):
    """Make one mesh of some triangles of the same points."""
    triangles = np.vstack(triangles)
    return Mesh(points, triangles, np.zeros(len(triangles), int))


def test_table_and_fence_are_closed_boxes_seen_from_outside(scene):
    """Volume by the divergence theorem is length by breadth by height, and not its negative."""
    window = machine_model.window_of(scene)
    table, fence = machine_model.table(scene, window), machine_model.fence(scene, window)
    for part, breadth, height in (
        (table, window.right - window.left, machine_model.PLATE),
        (fence, window.fence[1] - window.fence[0], window.fence_height),
    ):
        solid = closed(part.points, part.triangles)
        assert solid.is_closed()
        assert solid.volume == pytest.approx(2 * window.half * breadth * height)


def test_the_whole_table_and_the_whole_fence_have_the_size_that_the_scene_says():
    """27 by 40 in with the blade 18 in from the front and 24 in from the left, and a fence of 36 in."""
    scene = read_scene(CORNICE)
    inch = 25.4
    saw = {"table_depth": 27 * inch, "table_width": 40 * inch, "front_to_blade": 18 * inch, "left_to_blade": 24 * inch}
    scene = scene.model_copy(
        update={
            "saw": scene.saw.model_copy(update=saw),
            "fence": scene.fence.model_copy(update={"length": 36 * inch}),
        }
    )
    table, fence = machine_model.whole_table(scene), machine_model.whole_fence(scene)
    solid = closed(table.points, table.triangles)
    assert solid.is_closed()
    assert solid.volume == pytest.approx(27 * 40 * inch**2 * machine_model.PLATE)
    assert table.points.min(axis=0) == pytest.approx([-24 * inch, -18 * inch, -machine_model.PLATE])
    solid = closed(fence.points, fence.triangles)
    assert solid.is_closed()
    assert solid.volume > 0
    assert np.ptp(fence.points @ scene.feed.direction) == pytest.approx(36 * inch)


def test_body_and_tips_together_are_one_closed_blade(scene):
    """A little less than the disc through the tips, and outwards."""
    body, tips = machine_model.blade(scene)
    solid = closed(body.points, body.triangles, tips.triangles)
    assert solid.is_closed()
    a, r = np.array(scene.tool.profile).T
    disc = np.pi / 3 * (np.diff(a) * (r[1:] ** 2 + r[1:] * r[:-1] + r[:-1] ** 2)).sum()  # frusta
    assert 0.85 * disc < solid.volume < 1.001 * disc


def test_flat_patches_face_up_and_are_not_folded(scene):
    """Every triangle of plate, slot and arrow looks up."""
    window = machine_model.window_of(scene)
    patches = machine_model.throat_plate(scene), machine_model.slot(scene), machine_model.feed_arrow(scene, window)
    for patch in patches:
        a, b, c = (patch.points[patch.triangles[:, k]] for k in range(3))
        assert (np.cross(b - a, c - a)[:, 2] > 0).all()


def test_the_highest_point_of_the_blade_as_set_up_is_its_height(scene):
    """However it has turned, a tip passes the top within what one step of the drawn rim hides."""
    height = scene.setup.blade_height
    points = np.vstack([part.points for part in machine_model.blade(scene)])
    tops = []
    for turned in np.linspace(0, 2 * np.pi / scene.blade.teeth, 60):
        pose = machine_model.blade_pose(scene, height, turned)
        tops.append((points @ pose[:3, :3].T + pose[:3, 3])[:, 2].max())
    assert max(tops) == pytest.approx(height, abs=0.02)
    assert max(tops) < height + 1e-6


def test_the_model_of_the_saw_needs_no_drawing_library():
    """A page in a browser draws the same triangles."""
    tree = ast.parse(Path(machine_model.__file__).read_text())
    names = {a.name for node in ast.walk(tree) if isinstance(node, ast.Import) for a in node.names}
    names |= {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not any(name.split(".")[0] in ("pyvista", "vtkmodules") for name in names)
