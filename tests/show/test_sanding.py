"""The files for sanding, read back by readers that are not ours: sizes on paper and in plastic."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import svgelements
import trimesh
from demos import CORNICE, SCENES
from oracles import Cut

from sweep.cut.passes import pass_sections
from sweep.cut.sanding import sanding_block
from sweep.scene.read import read_scene
from sweep.show.files.meshes import write_stl
from sweep.show.files.sanding import write_scraper
from sweep.units import Units


def drawn(path: Path) -> dict[str, np.ndarray]:
    """Every line of an SVG file by its name, its points in mm as they come out on paper."""
    page = svgelements.SVG.parse(str(path), ppi=25.4)
    return {
        path.id: np.array([(p.x, p.y) for p in map(path.point, np.linspace(0, 1, 2001))])
        for path in page.elements(lambda one: isinstance(one, svgelements.Path))
    }


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "tilted-cove", "picture-rail", "off-the-edge"])
def test_the_template_is_the_cove_at_full_size(tmp_path, name):
    """A blade larger by 0.02 mm takes all of its edge, and one smaller by that none of it."""
    scene = read_scene(SCENES / f"{name}.toml")
    write_scraper(tmp_path, scene, Units(), 0.005)
    page = svgelements.SVG.parse(str(tmp_path / "scraper.svg"), ppi=25.4)
    (shape,) = page.elements(lambda one: isinstance(one, svgelements.Path) and one.id == "scraper")
    corners = np.array([(s.end.x, s.end.y) for s in shape if s.end is not None])
    across, up = corners.T * ((1,), (-1,))
    setup, stock = scene.setup, scene.stock
    cut = Cut(scene.tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt, setup.offset)
    # on the page its place is free: its middle is laid on that of the cove, its back so far below the table
    grid = np.linspace(-stock.width / 2, stock.width / 2, 200_001)
    open_at_table = grid[cut.takes_from_section(np.column_stack([grid, np.full_like(grid, 1e-6)]))]
    on_table = across[np.isclose(up, up.min() + scene.sanding.back, atol=1e-3)] if name != "off-the-edge" else across
    y = across - on_table.max() + open_at_table.max()
    z = up - up.min() - scene.sanding.back
    edge = (z > 0.05) & (np.abs(y) < stock.width / 2 - 0.05)

    assert edge.sum() > 20
    points = np.column_stack([y, z])[edge]
    assert cut.takes_from_section(points, grow=0.02).all()
    assert not cut.takes_from_section(points, grow=-0.02).any()


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "tilted-cove", "picture-rail"])
def test_the_template_names_the_width_that_the_run_names(tmp_path, name):
    """By the closed form of the edges, not by the chords that are drawn."""
    scene = read_scene(SCENES / f"{name}.toml")
    write_scraper(tmp_path, scene, Units(), 0.05)

    assert f"a cove {pass_sections(scene)[-1].width:.2f} mm wide and" in (tmp_path / "scraper.svg").read_text()


@pytest.mark.parametrize(
    ("style", "bars"), [("mm", {"bar-100-mm": 100.0}), ("in", {"bar-100-mm": 100.0, "bar-4-in": 101.6})]
)
def test_the_bars_are_as_long_as_they_say(tmp_path, style, bars):
    """In mm on paper, and in inches for whoever measures in them; all of it on the page."""
    write_scraper(tmp_path, read_scene(SCENES / "picture-rail.toml"), Units(style), 0.005)
    lines = drawn(tmp_path / "scraper.svg")
    page = svgelements.SVG.parse(str(tmp_path / "scraper.svg"), ppi=25.4)

    assert lines.keys() == {"scraper"} | bars.keys()
    for name, length in bars.items():
        assert np.ptp(lines[name][:, 0]) == pytest.approx(length, abs=1e-3)
    for points in lines.values():
        assert (points > 0).all() and (points < (page.width, page.height)).all()


def test_the_block_is_read_back_closed_with_its_size(tmp_path):
    """By trimesh, from the STL: 115 mm high on a bed at 0."""
    write_stl(tmp_path / "sanding-block.stl", sanding_block(read_scene(CORNICE), 0.005))
    block = trimesh.load_mesh(tmp_path / "sanding-block.stl")

    assert block.is_watertight and block.is_winding_consistent
    assert block.bounds[:, 2].tolist() == [0.0, 115.0]
    assert block.extents[:2] == pytest.approx([59.97, 35.6], abs=0.02)


def test_the_same_scene_makes_the_same_files(tmp_path):
    """Byte for byte."""
    for run in ("one", "two"):
        (tmp_path / run).mkdir()
        scene = read_scene(SCENES / "tilted-cove.toml")
        write_scraper(tmp_path / run, scene, Units(), 0.005)
        write_stl(tmp_path / run / "sanding-block.stl", sanding_block(scene, 0.005))

    for name in ("sanding-block.stl", "scraper.svg"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
