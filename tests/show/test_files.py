"""What a run leaves: numbers and meshes that others can read, the same bytes every time."""

from __future__ import annotations

import csv
import json
import struct
import tomllib
import zipfile

import numpy as np
import pytest
import trimesh
from demos import CORNICE, SCENES
from hypothesis import given
from strategies import fewer, scenes

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.stages import stage
from sweep.scene.read import read_scene, scene_from
from sweep.show.files.folder import mesh_files, write_numbers
from sweep.show.files.meshes import write_3mf, write_glb, write_meshes, write_stl
from sweep.show.say.report import Report
from sweep.tolerance import CHORD
from sweep.units import Units


@pytest.fixture(scope="module")
def outcome():
    """The cornice, cut and judged."""
    return judge(simulate(read_scene(CORNICE)))


def test_the_numbers_have_every_key_that_was_promised(outcome, tmp_path):
    """result.json keeps its keys; passes.csv has one row a pass."""
    write_numbers(tmp_path, Report(outcome, Units()))
    result = json.loads((tmp_path / "result.json").read_text())
    rows = list(csv.DictReader((tmp_path / "passes.csv").read_text().splitlines()))

    assert result["setup"].keys() >= {"fence_angle_deg", "blade_tilt_deg", "blade_height_mm", "offset_mm"}
    for one in result["passes"]:
        assert one.keys() >= {
            "number", "height_mm", "rise_mm", "width_mm", "area_mm2", "volume_mm3", "feed_per_tooth_mm",
            "chip_thickness_max_mm", "chip_volume_per_tooth_mm3", "power_w", "flags", "feed_force_n", "fence_force_n",
            "lift_force_n", "side_force_n", "side_deflection_mm", "gullet_fill", "ridge_height_mm",
            "chip_thickness_mean_mm", "power_low_w", "power_high_w", "governing_limit",
        }  # fmt: skip
        assert one["feed_force_low_n"] <= one["feed_force_n"] <= one["feed_force_high_n"]
        assert one["power_low_w"] <= one["power_w"] <= one["power_high_w"]
    assert result["check"].keys() >= {"max_deviation_mm", "rms_deviation_mm", "tolerance_mm", "within_tolerance"}
    assert result["finished"].keys() >= {"volume_mm3", "watertight", "triangles"}
    assert [row["number"] for row in rows] == [str(n) for n in range(1, 9)]
    assert result["setup"]["fence_angle_deg"] == pytest.approx(28)
    assert result["finished"]["watertight"] is True


def test_the_volumes_of_the_passes_add_up_to_what_is_gone(outcome, tmp_path):
    """900 x 92 x 22.5 mm less the finished moulding."""
    write_numbers(tmp_path, Report(outcome, Units()))
    result = json.loads((tmp_path / "result.json").read_text())
    gone = 900 * 92 * 22.5 - result["finished"]["volume_mm3"]

    assert sum(one["volume_mm3"] for one in result["passes"]) == pytest.approx(gone, rel=1e-9)
    assert sum(one["share"] for one in result["passes"]) == pytest.approx(1)


def test_every_mesh_is_read_back_closed_with_its_volume(outcome, tmp_path):
    """By trimesh, from the files: 32-bit STL, 3MF in mm, GLB in metres."""
    write_meshes(tmp_path, mesh_files(Report(outcome, Units()), CHORD))
    stages = outcome.job.stages

    for number in range(1, 9):
        body = trimesh.load_mesh(tmp_path / f"pass-{number:02d}.stl")
        assert body.is_watertight
        assert stages[number].volume == pytest.approx(body.volume, rel=1e-6)
    for name, scale in (("finished.stl", 1), ("finished.3mf", 1), ("finished.glb", 1e-9)):
        body = trimesh.load(tmp_path / name, force="mesh")
        assert body.is_watertight
        assert outcome.job.finished.volume * scale == pytest.approx(body.volume, rel=1e-6)


def test_the_3mf_says_that_it_is_in_millimetres(outcome, tmp_path):
    """The 3MF core specification's unit attribute."""
    write_3mf(tmp_path / "a.3mf", [outcome.job.finished.mesh])
    with zipfile.ZipFile(tmp_path / "a.3mf") as archive:
        model = next(archive.read(name) for name in archive.namelist() if name.endswith(".model"))

    assert b'unit="millimeter"' in model


def test_the_glb_is_in_metres_with_y_up(outcome, tmp_path):
    """GlTF 2.0, section 3.4: right-handed, +Y up, metres. The stock is 0.9 m long and 22.5 mm high."""
    write_glb(tmp_path / "a.glb", [outcome.job.finished.mesh])
    low, high = trimesh.load(tmp_path / "a.glb", force="mesh").bounds

    assert high - low == pytest.approx([0.9, 0.0225, 0.092], abs=1e-6)
    assert low[1] == pytest.approx(0.0, abs=1e-9)


def test_an_stl_holds_one_record_of_fifty_bytes_for_each_triangle(outcome, tmp_path):
    """The binary STL layout: 80 bytes, a count, then 50 bytes a triangle."""
    write_stl(tmp_path / "a.stl", outcome.job.finished.mesh)
    content = (tmp_path / "a.stl").read_bytes()

    assert struct.unpack("<I", content[80:84])[0] == len(outcome.job.finished.mesh.triangles)
    assert len(content) == 84 + 50 * len(outcome.job.finished.mesh.triangles)


@pytest.fixture(scope="module")
def two_pieces():
    """The demo scene ripped in two, each half bevelled, and wrapped round a rectangle."""
    table = tomllib.loads((CORNICE).read_text())
    table["finish"] = [
        {"do": "rip", "at": "4 mm"},
        {"do": "bevel", "spring": "38 deg", "wall_flat": "9 mm", "ceiling_flat": "6 mm"},
        {"do": "round over", "edge": "table left", "radius": "3 mm", "piece": 1},
    ]
    table["order"] = {"rectangle": ["400 mm", "300 mm"]}
    return judge(simulate(scene_from(table)))


def test_pieces_stay_apart_in_every_file(two_pieces, tmp_path):
    """Two objects in 3MF, two nodes in GLB, two bodies in one STL, and one STL for each; all closed, volumes kept."""
    write_meshes(tmp_path, mesh_files(Report(two_pieces, Units()), CHORD))
    volumes = [piece.volume for piece in two_pieces.job.pieces]
    bodies = trimesh.load_mesh(tmp_path / "finished.stl").split()

    assert sorted(body.volume for body in bodies) == pytest.approx(sorted(volumes), rel=1e-6)
    for number, volume in enumerate(volumes, start=1):
        body = trimesh.load_mesh(tmp_path / f"piece-{number}.stl")
        assert body.is_watertight
        assert body.volume == pytest.approx(volume, rel=1e-6)
        for name, scale in (("finished.3mf", 1), ("finished.glb", 1e-9)):
            body = trimesh.load(tmp_path / name).geometry[f"piece-{number}"]
            assert body.is_watertight
            assert body.volume == pytest.approx(volume * scale, rel=1e-6)


def test_the_mitred_rectangle_is_four_bodies_in_one_file(two_pieces, tmp_path):
    """Read back they are still apart: the mitres stand open by a hair."""
    write_meshes(tmp_path, mesh_files(Report(two_pieces, Units()), CHORD))
    sides = trimesh.load_mesh(tmp_path / "mitred.stl").split()
    write_numbers(tmp_path, Report(two_pieces, Units()))
    told = json.loads((tmp_path / "result.json").read_text())["mitre"]

    assert len(sides) == 4
    assert all(side.is_watertight for side in sides)
    assert sum(side.volume for side in sides) == pytest.approx(told["volume_mm3"], rel=1e-6)
    assert (told["mitre_deg"], told["bevel_deg"]) == pytest.approx((31.62, 33.86), abs=0.005)
    assert told["piece"] == 1


def test_the_numbers_tell_every_piece_and_every_operation(two_pieces, tmp_path):
    """What the passes left is the pieces and what finishing took."""
    write_numbers(tmp_path, Report(two_pieces, Units()))
    result = json.loads((tmp_path / "result.json").read_text())
    pieces, finished = result["finished"]["pieces"], result["finished"]

    assert [piece["number"] for piece in pieces] == [1, 2]
    assert all(piece["watertight"] is True for piece in pieces)
    assert finished["volume_mm3"] == pytest.approx(sum(piece["volume_mm3"] for piece in pieces))
    assert finished["triangles"] == sum(piece["triangles"] for piece in pieces)
    assert [one["do"] for one in result["finish"]] == ["rip", "bevel", "round over"]
    gone = sum(one["volume_mm3"] for one in [*result["passes"], *result["finish"]])
    assert 900 * 92 * 22.5 - gone == pytest.approx(finished["volume_mm3"], rel=1e-9)
    for piece in pieces:
        assert piece["section_mm2"] * 900 == pytest.approx(piece["volume_mm3"], rel=1e-9)


def test_without_finishing_there_is_one_piece_and_no_mitre(outcome, tmp_path):
    """No piece files, no mitred file, and the keys are there all the same."""
    write_meshes(tmp_path, mesh_files(Report(outcome, Units()), CHORD))
    write_numbers(tmp_path, Report(outcome, Units()))
    result = json.loads((tmp_path / "result.json").read_text())

    assert not list(tmp_path.glob("piece-*.stl"))
    assert len(result["finished"]["pieces"]) == 1
    assert result["finish"] == []


@given(scene=scenes())
@fewer(3 / 16)
def test_any_moulding_survives_rounding_to_32_bits(scene, tmp_path_factory):
    """STL re-read closed, volume kept, for tilted, stopped, offset and shaped cuts."""
    finished = stage(scene, len(scene.passes.heights))
    path = tmp_path_factory.mktemp("stl") / "finished.stl"
    write_stl(path, finished.mesh)
    body = trimesh.load_mesh(path)

    assert body.is_watertight
    assert body.is_winding_consistent
    assert finished.volume == pytest.approx(body.volume, rel=1e-5)


def test_the_same_scene_makes_the_same_bytes(tmp_path):
    """Two runs, one after the other: meshes and numbers are identical."""
    written = []
    for run in ("one", "two"):
        written.append({})
        for scene in ("stopped-cove", "cornice-to-fit"):
            folder = tmp_path / run / scene
            folder.mkdir(parents=True)
            again = judge(simulate(read_scene(SCENES / f"{scene}.toml")))
            write_numbers(folder, Report(again, Units()))
            write_meshes(folder, mesh_files(Report(again, Units()), CHORD))
            written[-1] |= {path: path.read_bytes() for path in sorted(folder.iterdir())}
        written[-1] = {path.relative_to(tmp_path / run): content for path, content in written[-1].items()}

    assert written[0].keys() == written[1].keys()
    assert all(written[0][name] == written[1][name] for name in written[0])


def test_a_mesh_knows_its_colours_after_a_round_trip_of_arrays(outcome):
    """Every face has a pass number, and the cove is cut by the last pass alone."""
    mesh = outcome.job.finished.mesh

    assert set(np.unique(mesh.cut_by)) == {0, 8}
