"""The profile check against deviations that are known beforehand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from demos import cornice_with
from hypothesis import assume, given
from hypothesis import strategies as st
from oracles import Cut
from strategies import between, fewer, scenes

from sweep.check.judge import judge
from sweep.check.profile import check_profile, signed_distance, surface_deviation, surface_deviations
from sweep.check.target import target_line
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.scene.read import scene_from
from sweep.scene.target import Target
from sweep.shape.mesh import UNCUT


def scene(target: dict, **sections: dict):
    """The demo scene with another target, and with some values changed."""
    return scene_from(cornice_with(**sections) | {"target": target})


def line_of(scene):
    """The scene's target as a line."""
    return target_line(scene.target, scene.tool, scene.tilt)


COVE = {"shape": "cove", "width": "60.7667 mm", "depth": "16 mm"}


def test_a_cove_cut_as_set_lies_on_the_line_that_its_three_marks_ask_for():
    """60.7667 mm is what 28 deg cuts at 16 mm: only the chords of the rim are left over."""
    check = check_profile(simulate(scene(COVE)))

    assert check.within_tolerance
    assert check.max_deviation <= 0.025  # the chord tolerance, slantwise where the cove meets the table
    assert check.rms_deviation <= 0.006


@pytest.mark.parametrize(("across", "where"), [("0.4 mm", 1), ("-0.4 mm", -1)])
def test_a_cove_set_off_to_one_side_deviates_one_way_on_each_flank(across, where):
    """Moved 0.4 mm, one flank has wood left and the other is cut too deep, by 0.4 times the sine of the slope."""
    check = check_profile(simulate(scene(COVE | {"across": across})))
    samples, deviations = np.array(check.samples), np.array(check.deviations)
    right = deviations[np.argmin(np.abs(samples[:, 0] - 25))]
    left = deviations[np.argmin(np.abs(samples[:, 0] + 25))]
    bottom = deviations[np.argmin(np.abs(samples[:, 0]))]

    assert where * right > 0.1
    assert where * left < -0.1
    assert abs(bottom) < 0.01
    assert 0.2 < check.max_deviation <= 0.41


def test_a_cove_cut_too_shallow_leaves_its_shortfall_at_the_bottom():
    """0.7 mm short in depth is 0.7 mm of wood left, and the sign says so."""
    shallow = {"blade_height": "15.3 mm"}, {"heights": ["5 mm", "10 mm", "15.3 mm"]}
    check = check_profile(simulate(scene(COVE, setup=shallow[0], passes=shallow[1])))
    bottom = np.array(check.deviations)[np.argmin(np.abs(np.array(check.samples)[:, 0]))]

    assert pytest.approx(bottom, abs=0.01) == 0.7
    assert not check.within_tolerance


def test_the_rms_of_a_flat_target_beside_the_cut_is_the_depth_of_a_segment():
    """A target drawn as points a little above the table, closed form of the mean square by hand."""
    line = [[-20.0, 0.0], [-20.0, 4.0], [20.0, 4.0], [20.0, 0.0]]
    check = check_profile(simulate(scene({"shape": "points", "points": line, "tolerance": "1 mm"})))

    assert check.max_deviation == pytest.approx(12.0, abs=0.05)  # 16 mm deep, 4 mm wanted
    assert check.worst[2] < 0


def test_both_ways_are_looked_at():
    """A narrow target that the cut covers deviates little from target to cut, but much from cut to target."""
    target = {"shape": "arc", "width": "20 mm", "depth": "2 mm"}
    check = check_profile(simulate(scene(target)))

    assert check.max_deviation > max(abs(d) for d in check.deviations) - 1e-9
    assert check.max_deviation == pytest.approx(math.hypot(30.383 - 10, 0), abs=0.1)


def test_the_arc_goes_through_its_edges_and_its_depth_on_one_circle():
    """Chord 60, depth 16: the radius is (60^2 / 4 + 16^2) / 32 = 36.125."""
    line = line_of(scene({"shape": "arc", "width": "60 mm", "depth": "16 mm"}))
    middle = np.array([0.0, 16.0 - 36.125])

    assert np.linalg.norm(line - middle, axis=1) == pytest.approx(36.125)
    assert line[0] == pytest.approx((-30, 0))
    assert line[-1] == pytest.approx((30, 0))
    assert line[:, 1].max() == pytest.approx(16)


def test_the_ellipse_has_the_axes_asked_for():
    """Width 60 and depth 16: (y/30)^2 + (z/16)^2 = 1."""
    line = line_of(scene({"shape": "ellipse", "width": "60 mm", "depth": "16 mm", "across": "3 mm"}))

    assert ((line[:, 0] - 3) / 30) ** 2 + (line[:, 1] / 16) ** 2 == pytest.approx(1.0)


def test_the_cove_hits_its_three_marks_tilted_or_not():
    """Two edges and a depth."""
    for tilt in ("0 deg", "12 deg"):
        target = {"shape": "cove", "width": "55 mm", "depth": "14 mm", "across": "2 mm"}
        line = line_of(scene(target, setup={"blade_tilt": tilt}))

        assert line[0] == pytest.approx((2 - 27.5, 0), abs=1e-6)
        assert line[-1] == pytest.approx((2 + 27.5, 0), abs=1e-6)
        assert line[:, 1].max() == pytest.approx(14, abs=5e-4)
        assert np.all(np.diff(line[:, 0]) >= -1e-9)


def test_a_cove_wider_than_the_blade_can_cut_is_refused_with_the_widest_it_can():
    """No fence angle gives it."""
    with pytest.raises(
        SceneError, match=r"target.width: no blade of the scene cuts a cove .* 16 mm deep; the widest there is 123.4 mm"
    ):
        judge(simulate(scene({"shape": "cove", "width": "190 mm", "depth": "16 mm"}, stock={"width": "200 mm"})))


def test_a_point_above_the_line_has_cut_too_deep_and_one_below_has_wood_left():
    """The sign convention, on a line that can be read off."""
    line = np.array([[-10.0, 0.0], [-10.0, 5.0], [10.0, 5.0], [10.0, 0.0]])

    assert signed_distance(np.array([[0.0, 7.0], [0.0, 4.5], [12.0, 2.0]]), line) == pytest.approx([-2.0, 0.5, -2.0])


def test_every_vertex_of_the_cut_surface_carries_its_deviation_and_no_other_does():
    """What the pictures colour."""
    job = simulate(scene(COVE))
    mesh = job.finished.mesh
    deviation = surface_deviation(mesh, line_of(job.scene))
    cut = np.unique(mesh.triangles[mesh.cut_by != UNCUT])

    assert np.all(np.isfinite(deviation[cut]))
    assert np.abs(deviation[cut]).max() <= 0.025
    assert np.isnan(deviation).sum() == len(mesh.vertices) - len(cut)


def traced(scene) -> np.ndarray:
    """The edge of a scene's cove from left to right, (n, 2) mm, by halving rays from within it until they end there."""
    setup = scene.setup
    cut = Cut(scene.tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt, setup.offset)
    turns = np.linspace(math.pi, 0.0, 400)
    rays = np.column_stack([np.cos(turns), np.sin(turns)])
    within = np.array([6.0, 0.0])
    near, far = np.zeros(len(turns)), np.full(len(turns), 200.0)
    for _ in range(50):
        middle = (near + far) / 2
        inside = cut.takes_from_section(within + middle[:, None] * rays)
        near, far = np.where(inside, middle, near), np.where(inside, far, middle)
    return within + near[:, None] * rays


@pytest.mark.parametrize(("tilt", "overhangs"), [(45, 1), (-45, -1)])
def test_a_target_that_overhangs_is_compared_both_ways(tilt, overhangs):
    """The cove's own edge, from the independent oracle; moved across, its upright part is off by just as much."""
    setup = {"blade_tilt": f"{tilt} deg", "fence_angle": "18 deg", "blade_height": "15 mm"}
    passes = {"heights": ["8 mm", "15 mm"]}
    line = traced(scene(COVE, setup=setup, passes=passes))
    target = {"shape": "points", "points": line.tolist()}
    job = simulate(scene(target, setup=setup, passes=passes))
    exact = check_profile(job)
    moved = check_profile(simulate(scene(target | {"across": "0.3 mm"}, setup=setup, passes=passes)))
    y, off = np.array(moved.samples)[:, 0], np.array(moved.deviations)
    upright = y > line[:, 0].max() if overhangs > 0 else y < line[:, 0].min() + 0.6

    assert (np.diff(line[:, 0]) < -0.01).any()
    assert exact.max_deviation < 0.03
    assert moved.max_deviation == pytest.approx(0.3, abs=0.03)
    assert overhangs * off[upright] == pytest.approx(0.3, abs=0.06)
    assert np.nanmax(np.abs(surface_deviation(job.finished.mesh, line_of(job.scene)))) < 0.03


def test_a_cove_that_runs_off_an_edge_is_compared_where_there_is_wood():
    """Half of the target lies in the air."""
    off = scene(COVE | {"across": "-30 mm"}, setup={"offset": "30 mm"})
    check = check_profile(simulate(off))

    assert check.within_tolerance
    assert min(y for y, _ in check.samples) >= -46


def test_a_blade_that_misses_the_stock_leaves_all_the_wood_the_target_wants_gone():
    """Nothing is cut: the deviation at the bottom is the whole depth."""
    check = check_profile(simulate(scene(COVE, setup={"offset": "200 mm"})))

    assert check.max_deviation == pytest.approx(16, abs=0.01)
    assert check.worst[2] > 0


@given(cut=scenes(stops=False), width=between(5, 60), share=st.floats(0.05, 0.49))
@fewer(1 / 10)
def test_no_curve_is_closer_to_a_line_than_their_tops_are(cut, width, share):
    """For any cut and any arc that lies within the stock; the largest deviation is never less."""
    depth = width * share
    assume(width < cut.stock.width and depth < cut.stock.thickness)
    arc = Target(shape="arc", width=f"{width} mm", depth=f"{depth} mm")
    job = simulate(cut.model_copy(update={"target": arc}))
    check = check_profile(job)

    assert check.max_deviation >= abs(job.sections[-1].top - depth) - 0.01
    assert check.rms_deviation <= check.max_deviation


def test_deviations_of_several_surfaces_at_once_are_those_of_each_alone():
    """Every stage of the cornice is looked at, the planed stock too, which nothing has cut."""
    job = simulate(scene(COVE))
    meshes, line = [stage.mesh for stage in job.stages], line_of(job.scene)
    together = surface_deviations(meshes, line)

    for mesh, found in zip(meshes, together, strict=True):
        cut = np.unique(mesh.triangles[mesh.cut_by != UNCUT])
        assert np.isnan(np.delete(found, cut)).all()
        assert found[cut] == pytest.approx(signed_distance(mesh.vertices[cut, 1:], line), abs=1e-8)
