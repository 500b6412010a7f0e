"""Every finishing operation done again in a boundary-representation kernel, OpenCascade, by its own means.

Rounds and chamfers are its own fillet and chamfer of an edge, on a solid with true circles; rips, rabbets and bevels
are boxes moved into place by its own rotations; for the second cove its solid is turned over by half a turn in space.
Nothing here goes by the plane figures of the package.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
import trimesh
from opencascade import Kernel, Shape, algo, build, gp, prim
from outside.test_brep_kernel import (
    BEVELLED,
    CLEAR,
    FLAT,
    LENGTH,
    THICKNESS,
    WIDTH,
    Job,
    centre_of_mass,
    left_by_kernel,
    placed,
    swept,
    volume,
)

from sweep.cut.finish import Piece, finish
from sweep.cut.stages import Stage, stage
from sweep.scene.finish import Bevel, Chamfer, Operation, Rabbet, Rip, RoundOver, SecondCove
from sweep.shape import section

fillets = Kernel("BRepFilletAPI")
adaptor = Kernel("BRepAdaptor")
topology = Kernel("TopExp")
kinds = Kernel("TopAbs", "TopAbs_ShapeEnum")
cast = Kernel("TopoDS", "TopoDS")

CHORD = 3e-5
"""mm. Of our rims and rounds."""

COVE = Job(FLAT, 28, 0, (16,))
LEANING = Job(BEVELLED, 24, 8, (14,))
EDGES = {"table left": (-WIDTH / 2, 0.0), "table right": (WIDTH / 2, 0.0)}
EDGES |= {"top left": (-WIDTH / 2, THICKNESS), "top right": (WIDTH / 2, THICKNESS)}


@cache
def after_the_passes(job: Job) -> Stage:
    """The stock as the package leaves it to be finished."""
    return stage(job.scene, len(job.heights), chord=CHORD)


@cache
def ours(job: Job, *operations: Operation) -> tuple[Piece, ...]:
    """The pieces that the package leaves."""
    pieces, _ = finish(job.scene.model_copy(update={"finish": operations}), after_the_passes(job))
    return pieces


@pytest.fixture(scope="module", autouse=True)
def let_go() -> Iterator[None]:
    """Let the solids go with this file: their kernel complains of any that outlive the program."""
    yield
    after_the_passes.cache_clear()
    ours.cache_clear()


def parts(body: Shape, kind: kinds) -> list[Shape]:
    """Every solid or edge of a shape, once or more."""
    found, explorer = [], topology.TopExp_Explorer(body, kind)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def volumes(body: Shape) -> list[float]:
    """The volumes of a shape's solids, mm3, from the smallest."""
    return sorted(volume(one) for one in parts(body, kinds.TopAbs_SOLID))


def edge_at(body: Shape, y: float, z: float):
    """The straight edge along the whole stock through (y, z)."""
    for shape in parts(body, kinds.TopAbs_EDGE):
        edge = cast.Edge_s(shape) if hasattr(cast, "Edge_s") else cast.Edge(shape)
        curve = adaptor.BRepAdaptor_Curve(edge)
        ends = [curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())]
        if abs(ends[0].X() - ends[1].X()) > LENGTH - 1e-6 and all(
            math.hypot(end.Y() - y, end.Z() - z) < 1e-6 for end in ends
        ):
            return edge
    raise LookupError(f"no edge at {y}, {z}")


def slab(y: float, z: float, turn: float, low: float, high: float) -> Shape:
    """A plate along the stock, from `low` to `high` across and without end upright, turned about its line at (y, z)."""
    plate = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(-5, low, -500), gp.gp_Pnt(LENGTH + 5, high, 500)).Shape()
    rotation, shift = gp.gp_Trsf(), gp.gp_Trsf()
    rotation.SetRotation(gp.gp_Ax1(gp.gp_Pnt(0, 0, 0), gp.gp_Dir(1, 0, 0)), turn)
    shift.SetTranslation(gp.gp_Vec(0, y, z))
    return build.BRepBuilderAPI_Transform(plate, shift.Multiplied(rotation), True).Shape()


def without(body: Shape, *cutters: Shape) -> Shape:
    """What the kernel leaves of a body."""
    for cutter in cutters:
        body = algo.BRepAlgoAPI_Cut(body, cutter).Shape()
    return body


def balance(piece: Piece) -> np.ndarray:
    """The centre of mass of a piece's mesh, by trimesh, (3,) mm: what is cut on the wrong side moves it."""
    return trimesh.Trimesh(piece.mesh.vertices, piece.mesh.triangles, process=False).center_mass


def lip(job: Job, side: int) -> tuple[float, float]:
    """Where the cove meets the table, by the closed form."""
    return section.edges_at_table(job.scene.tool, job.scene.feed, job.scene.tilt, job.heights[-1])[max(side, 0)], 0.0


@pytest.mark.parametrize("job", [COVE, LEANING])
@pytest.mark.parametrize(("at", "tilt", "kerf"), [(0, 0, 3.2), (12, 25, 2.4), (-38, -30, 3.2)])
def test_a_rip_leaves_the_kernels_two_pieces(job, at, tilt, kerf):
    """A plate as thick as the kerf, turned about the stock's length by the tilt."""
    rip = Rip(do="rip", at=f"{at} mm", tilt=f"{tilt} deg", kerf=f"{kerf} mm")
    theirs = volumes(without(left_by_kernel(job), slab(at, 0, -math.radians(tilt), -kerf / 2, kerf / 2)))

    assert len(theirs) == 2
    assert theirs == pytest.approx(sorted(piece.volume for piece in ours(job, rip)), rel=1e-6)


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("radius", [2.0, 7.5])
def test_a_round_over_is_the_kernels_fillet(edge, radius):
    """What is taken: never less than its fillet takes, and more by no more than the chords of the arc."""
    body = left_by_kernel(COVE)
    maker = fillets.BRepFilletAPI_MakeFillet(body)
    maker.Add(radius, edge_at(body, *EDGES[edge]))
    theirs = volume(body) - volume(maker.Shape())
    before = ours(COVE)[0].volume
    (piece,) = ours(COVE, RoundOver(do="round over", edge=edge, radius=f"{radius} mm"))
    more = CHORD * radius * math.pi / 2 * LENGTH

    assert theirs - 1e-3 < before - piece.volume < theirs + more


@pytest.mark.parametrize("side", [-1, 1])
def test_two_rounds_that_meet_are_the_kernels_half_cylinder(side):
    """A full bullnose: the side cut away by a box as deep as half the thickness, and half a cylinder put there."""
    radius, hand = THICKNESS / 2, "left" if side < 0 else "right"
    body, inner = left_by_kernel(COVE), side * (WIDTH / 2 - THICKNESS / 2)
    beyond = sorted((inner, side * WIDTH))
    box = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(-5, beyond[0], -50), gp.gp_Pnt(LENGTH + 5, beyond[1], 50)).Shape()
    axis = gp.gp_Ax2(gp.gp_Pnt(0, inner, radius), gp.gp_Dir(1, 0, 0))
    nose = algo.BRepAlgoAPI_Common(prim.BRepPrimAPI_MakeCylinder(axis, radius, LENGTH).Shape(), box).Shape()
    left = algo.BRepAlgoAPI_Fuse(without(body, box), nose).Shape()
    rounds = [RoundOver(do="round over", edge=f"{face} {hand}", radius=f"{radius} mm") for face in ("table", "top")]
    (piece,) = ours(COVE, *rounds)
    theirs, taken = volume(left_by_kernel(COVE)) - volume(left), ours(COVE)[0].volume - piece.volume

    assert theirs - 1e-3 < taken < theirs + CHORD * radius * math.pi * LENGTH
    assert centre_of_mass(left) == pytest.approx(balance(piece), abs=1e-3)


@pytest.mark.parametrize("job", [COVE, LEANING])
@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("radius", [1.0, 3.5])
def test_a_round_over_at_the_coves_edge_is_the_kernels_fillet(job, side, radius):
    """Between the flat and the swept curve, where no textbook's formula helps."""
    body = left_by_kernel(job)
    maker = fillets.BRepFilletAPI_MakeFillet(body)
    maker.Add(radius, edge_at(body, *lip(job, side)))
    theirs = volume(body) - volume(maker.Shape())
    before = ours(job)[0].volume
    name = "cove right" if side > 0 else "cove left"
    (piece,) = ours(job, RoundOver(do="round over", edge=name, radius=f"{radius} mm"))

    assert before - piece.volume == pytest.approx(theirs, abs=3 * CHORD * 2 * radius * LENGTH)
    assert theirs > 100 * CHORD * radius * LENGTH


@pytest.mark.parametrize("edge", EDGES)
def test_a_chamfer_is_the_kernels_chamfer(edge):
    """The same set-back on both faces."""
    body = left_by_kernel(COVE)
    maker = fillets.BRepFilletAPI_MakeChamfer(body)
    maker.Add(4.5, edge_at(body, *EDGES[edge]))
    (piece,) = ours(COVE, Chamfer(do="chamfer", edge=edge, size="4.5 mm"))

    assert volume(body) - volume(maker.Shape()) == pytest.approx(ours(COVE)[0].volume - piece.volume, rel=1e-7)


@pytest.mark.parametrize(("spring", "wall"), [(38, "left"), (38, "right"), (45, "left"), (60, "left")])
def test_a_bevelled_back_is_cut_by_two_turned_plates(spring, wall):
    """Each as far in on the back as its flat is wide across it; one turned by the spring, one by the rest of 90 deg."""
    flat = 12.0
    bevel = Bevel(do="bevel", spring=f"{spring} deg", wall_flat=f"{flat} mm", wall=wall)
    side = -1 if wall == "left" else 1
    body = left_by_kernel(LEANING)
    for hand, angle in ((side, math.radians(spring)), (-side, math.radians(90 - spring))):
        start = hand * (WIDTH / 2 - flat * math.cos(angle))
        beyond = (-600, 0) if hand < 0 else (0, 600)
        # an upright plate beyond the line, turned until its inner face runs down outwards at the angle to the back
        body = without(body, slab(start, THICKNESS, hand * (math.pi / 2 - angle), *beyond))
    (piece,) = ours(LEANING, bevel)

    assert volume(body) == pytest.approx(piece.volume, rel=1e-6)
    assert centre_of_mass(body) == pytest.approx(balance(piece), abs=1e-4)


def test_a_rabbet_is_a_box_at_the_corner():
    """6 mm across and 3 mm deep, at every corner in turn."""
    body, operations = left_by_kernel(COVE), []
    for edge, (y, z) in EDGES.items():
        box = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(-5, y - 6, z - 3), gp.gp_Pnt(LENGTH + 5, y + 6, z + 3)).Shape()
        body = without(body, box)
        operations.append(Rabbet(do="rabbet", edge=edge, width="6 mm", depth="3 mm"))
    (piece,) = ours(COVE, *operations)

    assert volume(body) == pytest.approx(piece.volume, rel=1e-6)


@pytest.mark.parametrize("turn", ["about its length", "end for end"])
def test_a_second_cove_is_cut_into_the_kernels_solid_turned_over(turn):
    """Half a turn about the stock's length or about the line across its middle, a pass, and half a turn back."""
    second = Job(BEVELLED, 21, 11, (5,))
    axis = (1, 0, 0) if turn == "about its length" else (0, 1, 0)
    half_turn = gp.gp_Trsf()
    half_turn.SetRotation(gp.gp_Ax1(gp.gp_Pnt(LENGTH / 2, 0, THICKNESS / 2), gp.gp_Dir(*axis)), math.pi)
    body = build.BRepBuilderAPI_Transform(left_by_kernel(LEANING), half_turn, True).Shape()
    body = without(body, *swept(placed(second, 5, -CLEAR), second.profile, LENGTH + 2 * CLEAR))
    cove = SecondCove(do="cove", fence_angle="21 deg", blade_tilt="11 deg", blade_height="5 mm", turn=turn)
    (piece,) = ours(LEANING, cove)
    back = build.BRepBuilderAPI_Transform(body, half_turn, True).Shape()

    assert volume(back) == pytest.approx(piece.volume, rel=1e-6)
    assert centre_of_mass(back) == pytest.approx(balance(piece), abs=1e-4)
