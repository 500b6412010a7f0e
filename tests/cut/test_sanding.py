"""The sanding block keeps its distance to the wood everywhere, and can be printed as it stands."""

from __future__ import annotations

import math

import numpy as np
import pytest
from demos import SCENES, cornice_with
from hypothesis import assume, given
from hypothesis import strategies as st
from oracles import Cut
from strategies import fewer, scenes

from sweep.cut.sanding import SMALLEST, filling, sanding_block
from sweep.scene.model import Scene
from sweep.scene.read import read_scene, scene_from
from sweep.scene.sanding import Sanding

CHORD = 0.005
COARSE, FINE = 720, 5760
"""Places on a circle at which wood is looked for; fine enough not to miss a feather edge."""


def is_wood(scene: Scene, points: np.ndarray) -> np.ndarray:
    """Which points (y, z) the finished section holds, by the independent oracle."""
    setup = scene.setup
    cut = Cut(scene.tool.profile, setup.fence_angle, scene.passes.heights[-1], setup.blade_tilt, setup.offset)
    y, z = points.T
    inside = (np.abs(y) <= scene.stock.width / 2) & (z >= 0) & (z <= scene.stock.thickness)
    return inside & ~cut.takes_from_section(points)


def wood_within(scene: Scene, points: np.ndarray, distance: float, places: int) -> np.ndarray:
    """Which points have wood on the circle of this radius about them."""
    around = np.linspace(0, 2 * math.pi, places, endpoint=False)
    circles = points[:, None] + distance * np.column_stack([np.cos(around), np.sin(around)])
    return is_wood(scene, circles.reshape(-1, 2)).reshape(len(points), -1).any(axis=1)


def face_of(scene: Scene, block) -> np.ndarray:
    """The corners of the block's section and the middles between them, back where it works, (y, z) of the stock."""
    base = block.vertices[block.vertices[:, 2] == 0.0][:, :2]
    outline = filling(scene, scene.sanding.paper, CHORD)
    assert {tuple(point) for point in base.round(9).tolist()} == {tuple(p) for p in outline.round(9).tolist()}
    return np.vstack([outline, (outline + np.roll(outline, 1, axis=0)) / 2]) - (0.0, scene.sanding.back)


@given(scene=scenes(stops=False), paper=st.sampled_from([0.2, 0.4, 1.0]))
@fewer(1 / 16)
def test_the_face_stands_off_the_wood_by_the_paper_and_no_part_of_it_nearer(scene, paper):
    """Tilted, offset, bevelled and shaped cuts, off an edge or not, are told by what a point's surroundings are."""
    scene = scene.model_copy(update={"sanding": Sanding.model_validate({"paper": f"{paper} mm"})})
    block = sanding_block(scene, CHORD)
    assume(block is not None)
    points = face_of(scene, block)
    slack = 0.015  # chords of cove and block, and steps round the circle
    for nearer in (0.25, 0.5, 0.75, 1 - slack / paper):
        assert not wood_within(scene, points, nearer * paper, COARSE).any()
    half = scene.stock.width / 2
    face = points[(points[:, 1] > slack) & (np.abs(points[:, 0]) < half - slack)]

    assert wood_within(scene, face, paper + slack, FINE).all()


@given(scene=scenes(stops=False))
@fewer(1 / 16)
def test_any_block_is_closed_and_stands_flat_without_overhang(scene):
    """One face lies on the printer's bed; every other one is upright or on top."""
    block = sanding_block(scene)
    assume(block is not None)
    corners = block.vertices[block.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    on_bed = np.all(corners[:, :, 2] == 0.0, axis=1)

    assert block.is_closed()
    assert block.vertices[:, 2].min() == 0.0
    assert block.vertices[:, 2].max() == pytest.approx(115.0)
    assert -normals[on_bed, 2].sum() * 115 == pytest.approx(block.volume, rel=1e-9)
    assert np.abs(normals[~on_bed, 2].clip(max=0)).max(initial=0.0) == 0.0


def test_the_cornices_block_has_the_coves_size_less_the_paper():
    """60.77 mm less 0.4 mm on either side, 16 mm and a back of 20 mm less 0.4 mm; 115 mm long."""
    block = sanding_block(scene_from(cornice_with()), CHORD)
    size = np.ptp(block.vertices, axis=0)

    assert size == pytest.approx([60.767 - 0.8, 36 - 0.4, 115], abs=0.02)


def test_without_paper_the_block_is_the_scraper_and_fills_the_cove():
    """The closed form of the cove's area, and a back of its width."""
    outline = filling(scene_from(cornice_with()), 0.0, 1e-5)
    y, z = outline.T
    area = abs(np.dot(y, np.roll(z, 1)) - np.dot(z, np.roll(y, 1))) / 2

    assert area == pytest.approx(671.478 + 20 * 60.767, abs=0.01)


def test_where_the_cove_runs_off_the_edge_the_block_ends_flush_with_the_stock():
    """No wood is there to keep clear of."""
    scene = read_scene(SCENES / "off-the-edge.toml")
    block = sanding_block(scene)

    assert block.vertices[:, 0].min() == -scene.stock.width / 2


@pytest.mark.parametrize("paper", ["0.3 mm", "1.3 mm", "9 mm"])
def test_a_cove_too_narrow_for_its_paper_gets_no_block(paper):
    """A groove 3.4 mm wide has room for paper of 0.3 mm only."""
    table = cornice_with(sanding={"paper": paper}, setup={"fence_angle": "0.1 deg"})
    del table["target"]
    block = sanding_block(scene_from(table))

    assert (block is None) == (paper != "0.3 mm")
    if block is not None:
        assert np.ptp(block.vertices[:, 0]) > SMALLEST


def test_a_blade_beside_the_stock_leaves_nothing_to_sand():
    """Nor to scrape."""
    table = cornice_with(setup={"offset": "300 mm"})
    del table["target"]

    assert sanding_block(scene_from(table)) is None
    assert filling(scene_from(table), 0.0) is None
