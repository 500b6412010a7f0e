"""Several set-ups done again in a boundary-representation kernel, OpenCascade, its solid turned by its own rotations.

Obliquely fed passes are prisms of plane figures as in `test_brep_kernel`; straight rips are boxes leaned by the kernel.
Only how far the stock is moved to lie on the table, which settings tell, is taken from the package.
"""

from __future__ import annotations

import math

import pytest
import trimesh
from opencascade import Kernel, Shape, build, gp, prim
from outside.test_brep_kernel import (
    BEVELLED,
    CLEAR,
    FLAT,
    KERF,
    LENGTH,
    THICKNESS,
    WIDTH,
    Job,
    centre_of_mass,
    placed,
    section_area,
    swept,
    volume,
)
from outside.test_finish_kernel import parts, without

from sweep.cut.moulding import mould
from sweep.cut.settings import Setting, cuts_asked, laid, settled
from sweep.scene.keys import Passes
from sweep.scene.model import WholeScene
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.tolerance import Fineness

kinds = Kernel("TopAbs", "TopAbs_ShapeEnum")

FINE = Fineness(chord=3e-5, section_chord=1e-5, angles=16, ends=0)
ROLLS = {"table": 0.0, "top": math.pi, "left edge": math.pi / 2, "right edge": -math.pi / 2}
"""By what angle about x, from y towards z, stock is rolled until a face is down."""

COVE = {"do": "cove", "fence_angle": "24 deg", "blade_height": "9 mm"}
SMALL = {"do": "cove", "fence_angle": "12 deg", "blade_height": "6 mm", "blade_tilt": "12 deg"}
GROOVE = {"do": "rip", "at": "-14 mm", "blade_height": "7 mm", "blade_tilt": "-20 deg"}
STEP = {"do": "rabbet", "edge": "right", "width": "11 mm", "depth": "8 mm"}

LISTS = {
    "a cove off either edge, end for end": [
        COVE | {"offset": "-38 mm"},
        COVE | {"offset": "-38 mm", "ends": "end for end"},
    ],
    "coves back to back": [COVE, SMALL | {"face": "top", "offset": "7 mm"}],
    "coves back to back, end for end": [COVE, SMALL | {"face": "top", "ends": "end for end", "offset": "7 mm"}],
    "a cove in an edge": [COVE, SMALL | {"face": "left edge"}],
    "a cove in the other edge, end for end": [SMALL | {"face": "right edge", "ends": "end for end"}, COVE],
    "a groove beside a cove": [COVE | {"offset": "-20 mm"}, GROOVE],
    "a rip right through": [COVE, {"do": "rip", "at": "30 mm", "blade_tilt": "15 deg"}],
    "a bevel over an edge": [{"do": "rip", "at": "36 mm", "blade_tilt": "-30 deg", "face": "top"}, COVE],
    "a step beside a cove": [COVE | {"offset": "10 mm"}, STEP | {"edge": "left"}],
    "a step on its edge, then a cove": [
        STEP | {"face": "left edge", "ends": "end for end"},
        COVE | {"blade_tilt": "5 deg"},
    ],
}


def moved(body: Shape, motion: gp.gp_Trsf) -> Shape:
    """The solid moved."""
    return build.BRepBuilderAPI_Transform(body, motion, True).Shape()


def turned(body: Shape, axis: tuple[int, int, int], angle: float) -> Shape:
    """The solid turned about a line through the middle of the stock's length, at y = z = 0."""
    motion = gp.gp_Trsf()
    motion.SetRotation(gp.gp_Ax1(gp.gp_Pnt(LENGTH / 2, 0, 0), gp.gp_Dir(*axis)), angle)
    return moved(body, motion)


def shifted(body: Shape, y: float, z: float) -> Shape:
    """The solid moved across."""
    motion = gp.gp_Trsf()
    motion.SetTranslation(gp.gp_Vec(0, y, z))
    return moved(body, motion)


def laid_by_kernel(body: Shape, setting: Setting, back: bool = False) -> Shape:
    """The planed stock as it lies for a setting, or that back again."""
    asked = setting.asked
    turns = [((1, 0, 0), ROLLS[asked.setup.face])]
    if asked.setup.ends == "end for end":
        turns.append(((0, 0, 1), math.pi))
    if asked.part == 2:
        turns.append(((1, 0, 0), ROLLS[f"{asked.setup.edge} edge"]))
    y, z = setting.lying.shift
    if back:
        body = shifted(body, -y, -z)
        for axis, angle in reversed(turns):
            body = turned(body, axis, -angle)
        return body
    for axis, angle in turns:
        body = turned(body, axis, angle)
    return shifted(body, y, z)


def cut_by_kernel(body: Shape, setting: Setting, profile: tuple) -> Shape:
    """The solid after the last pass of a setting, its largest piece."""
    setup = setting.scene.setup
    height, tilt, offset = setup.blade_height, setup.blade_tilt, setup.offset
    if setup.fence_angle == 0.0:
        top = (height - KERF / 2 * math.sin(abs(tilt))) / math.cos(tilt)
        box = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(-9, -KERF / 2, -60), gp.gp_Pnt(LENGTH + 9, KERF / 2, top)).Shape()
        body = without(body, shifted(turned(box, (1, 0, 0), -tilt), -offset, 0))
    else:
        job = Job(profile, math.degrees(setup.fence_angle), math.degrees(tilt), (height,))
        for prism in swept(placed(job, height, -CLEAR), profile, LENGTH + 2 * CLEAR):
            body = without(body, shifted(prism, -offset, 0))
    return max(parts(body, kinds.TopAbs_SOLID), key=volume)


def settings_of(listed: list[dict], profile: tuple) -> tuple:
    """The scene, and its settings, each in one pass."""
    scene = scene_from(
        {
            "stock": {"length": f"{LENGTH} mm", "width": f"{WIDTH} mm", "thickness": f"{THICKNESS} mm"},
            "blade": {"teeth": 40, "profile": [list(point) for point in profile]},
            "saw": {"speed": "4000 rpm"},
            "setups": listed,
        }
    )
    done: list[Setting] = []
    for asked in cuts_asked(scene):
        setting = laid(scene, asked, done[-1] if done else None)
        if not isinstance(setting.scene, WholeScene):
            heights = (setting.scene.setup.blade_height,)
            passes = Passes.model_construct(heights=heights, feed_speed=30.0, last_feed_speed=None, stop=(None,))
            setting = setting.with_passes(passes)
        done.append(settled(setting))
    return scene, done


@pytest.mark.parametrize("name", LISTS)
def test_what_several_set_ups_leave_is_what_the_kernel_leaves(name):
    """Volume and balance of the solid, and the area of its section, the stock lying as it was planed."""
    listed = LISTS[name]
    # only a tool that is not the same from both sides tells one end of the stock from the other; a rip is a box's
    lopsided = any("ends" in setup for setup in listed) and all(setup["do"] == "cove" for setup in listed)
    profile = BEVELLED if lopsided else FLAT
    scene, settings = settings_of(listed, profile)
    body = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(0, -WIDTH / 2, 0), gp.gp_Pnt(LENGTH, WIDTH / 2, THICKNESS)).Shape()
    for setting in settings:
        body = laid_by_kernel(cut_by_kernel(laid_by_kernel(body, setting), setting, profile), setting, back=True)
    made = mould(scene, settings, FINE)
    (piece,) = made.pieces
    balance = trimesh.Trimesh(piece.mesh.vertices, piece.mesh.triangles, process=False).center_mass

    assert volume(body) == pytest.approx(piece.volume, rel=1e-6)
    assert centre_of_mass(body) == pytest.approx(balance, abs=1e-4)
    assert section_area(body, LENGTH / 3) == pytest.approx(section.area(made.section_before(len(settings))), rel=1e-6)
