"""Our mesh in the hands of trimesh, a library that knows nothing of us: as it is, and through a binary STL."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
import trimesh

from sweep.cut.passes import pass_sections, passes_of
from sweep.cut.stages import Stage, stage
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.tolerance import CHORD

SINGLE = 1e-6
"""Share of a volume lost when coordinates of a metre are rounded to 32 bits, as a binary STL holds them."""


def job(blade: dict, setup: dict, heights: list[str], stop: str = "through") -> Scene:
    """Return a scene over stock 900 x 92 x 22.5 mm; the last of the heights is the blade's."""
    return scene_from(
        {
            "stock": {"length": "900 mm", "width": "92 mm", "thickness": "22.5 mm"},
            "blade": blade,
            "saw": {"speed": "4000 rpm"},
            "setup": setup | {"blade_height": heights[-1]},
            "passes": {"heights": heights, "feed_speed": "2 m/min", "stop": stop},
        }
    )


BLADE = {"diameter": "254 mm", "kerf": "3.2 mm", "teeth": 40}
BEVELLED = BLADE | {"tip": "alternate bevel", "bevel": "15 deg"}
BEAD = {"teeth": 3, "profile": [[-9.5, 60.0], [-7.0, 64.5], [-2.5, 67.0], [2.5, 67.0], [7.0, 64.5], [9.5, 60.0]]}
RISES = ["4.8 mm", "9 mm", "13 mm", "16 mm"]

THROUGH = [
    pytest.param(job(BLADE, {"fence_angle": "28 deg"}, RISES), id="untilted"),
    pytest.param(job(BLADE, {"fence_angle": "28 deg", "blade_tilt": "10 deg"}, RISES), id="tilted"),
    pytest.param(job(BLADE, {"fence_angle": "28 deg", "offset": "30 mm"}, RISES), id="off an edge"),
    pytest.param(job(BEVELLED, {"fence_angle": "12 deg"}, ["8 mm"]), id="alternate bevel"),
    pytest.param(job(BEAD, {"fence_angle": "35 deg"}, ["14 mm"]), id="bead"),
]
STOPPED = [
    pytest.param(job(BLADE, {"fence_angle": "28 deg"}, RISES, "300 mm"), id="stopped"),
    pytest.param(
        job(BEVELLED, {"fence_angle": "28 deg", "blade_tilt": "-7 deg"}, RISES, "300 mm"), id="stopped, tilted"
    ),
]


def finished(scene: Scene) -> Stage:
    """Return the stock after every pass."""
    return stage(scene, len(passes_of(scene)))


def given_to_trimesh(one: Stage) -> trimesh.Trimesh:
    """Return our mesh as trimesh's own, with nothing merged or mended on the way."""
    return trimesh.Trimesh(one.mesh.vertices, one.mesh.triangles, process=False)


def through_stl(solid: trimesh.Trimesh, folder: Path) -> trimesh.Trimesh:
    """Return a solid written as a binary STL and read again."""
    path = folder / "finished.stl"
    solid.export(path, file_type="stl")
    assert path.stat().st_size == 84 + 50 * len(solid.faces)  # the format: a header of 84 bytes, 50 a triangle
    return trimesh.load_mesh(path)


def outline(solid: trimesh.Trimesh, x: float) -> shapely.Polygon:
    """Return trimesh's own section of a solid at a station, as one polygon of (y, z)."""
    (loop,) = solid.section(plane_origin=(x, 0, 0), plane_normal=(1, 0, 0)).discrete
    return shapely.Polygon(loop[:, 1:])


@pytest.mark.parametrize("scene", THROUGH + STOPPED)
def test_the_mesh_is_watertight_and_holds_the_same_volume(scene):
    """Closed, consistently wound, in one piece, with the volume that the solid kernel reports."""
    one = finished(scene)
    solid = given_to_trimesh(one)

    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert 1 == solid.body_count
    assert 2 == solid.euler_number  # a closed surface without holes: Euler's formula
    assert one.volume == pytest.approx(solid.volume, rel=1e-12)
    assert one.volume == pytest.approx(one.mesh.volume, rel=1e-12)


@pytest.mark.parametrize("scene", THROUGH + STOPPED)
def test_a_binary_stl_comes_back_watertight_with_the_same_volume(scene, tmp_path):
    """Rounded to 32 bits and its corners found again by trimesh alone, it is still closed, and as large."""
    one = finished(scene)
    solid = through_stl(given_to_trimesh(one), tmp_path)

    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert len(one.mesh.triangles) == len(solid.faces)
    assert one.volume == pytest.approx(solid.volume, rel=SINGLE)
    assert np.allclose([[0, -46, 0], [900, 46, 22.5]], solid.bounds, rtol=0, atol=1e-4)


@pytest.mark.parametrize("scene", THROUGH)
def test_the_section_that_trimesh_cuts_is_the_exact_one(scene, tmp_path):
    """Outline and area half-way along, from the STL: within the chord tolerance, and never less wood than is left."""
    solid = through_stl(given_to_trimesh(finished(scene)), tmp_path)
    cut, exact = outline(solid, 450.0), pass_sections(scene)[-1].left

    assert shapely.hausdorff_distance(exact, cut) < 1.01 * CHORD
    assert 0 < cut.area - exact.area < CHORD * exact.length
