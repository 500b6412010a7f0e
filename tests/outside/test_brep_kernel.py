"""The same cuts in a boundary-representation kernel, OpenCascade: true circles and cones, no facets anywhere.

A body swept along the feed is the body where it stops, and everything that its shadow passed through on
the way. A frustum has the shadow of three plane figures: its two discs, and the trapezoid between the lines at
which the feed grazes it (a straight line along the feed that goes in and comes out through the cone meets
that plane half-way between). So a sweep is a frustum and three prisms of plane figures; it shares neither the
hulls nor the section of the package.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
import shapely
import trimesh
from numpy.typing import NDArray
from opencascade import Kernel, Shape, algo, build, gp, prim
from oracles import disc_section_area

from sweep.cut.passes import pass_sections
from sweep.cut.stages import stage
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape.mesh import UNCUT, Mesh

props = Kernel("GProp")
measure = Kernel("BRepGProp", "BRepGProp")

LENGTH, WIDTH, THICKNESS = 300.0, 90.0, 25.0
"""mm. The stock."""
RADIUS, KERF = 127.0, 3.2
"""mm. The blade."""
CLEAR = 400.0
"""mm. A travel so short, or so far past the stock's length, that the blade does not touch it."""
KERNEL = 1e-7
"""Share of a volume or an area by which the kernel itself may err."""

FLAT = ((-KERF / 2, RADIUS), (KERF / 2, RADIUS))
BEVELLED = ((-KERF / 2, RADIUS), (0.0, RADIUS - KERF / 2 * math.tan(math.radians(15))), (KERF / 2, RADIUS))

Profile = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Job:
    """A tool, its setting in degrees and mm, and where every pass stops, mm of travel; None goes through."""

    profile: Profile
    fence_angle: float
    tilt: float
    heights: tuple[float, ...]
    stop: float | None = None

    @property
    def scene(self) -> Scene:
        """The job as the package takes it."""
        heights = [f"{height} mm" for height in self.heights]
        return scene_from(
            {
                "stock": {"length": f"{LENGTH} mm", "width": f"{WIDTH} mm", "thickness": f"{THICKNESS} mm"},
                "blade": {"teeth": 40, "profile": [list(point) for point in self.profile]},
                "saw": {"speed": "4000 rpm"},
                "setup": {
                    "fence_angle": f"{self.fence_angle} deg",
                    "blade_tilt": f"{self.tilt} deg",
                    "blade_height": heights[-1],
                },
                "passes": {
                    "heights": heights,
                    "feed_speed": "2 m/min",
                    "stop": "through" if self.stop is None else f"{self.stop} mm",
                },
            }
        )


@dataclass(frozen=True, eq=False)
class Placed:
    """Where a tool stands in the stock frame, mm: its centre, and directions along the arbor and in the blade's plane.

    `level` runs along the table, `up` square to it.
    """

    centre: NDArray[np.float64]
    arbor: NDArray[np.float64]
    level: NDArray[np.float64]
    up: NDArray[np.float64]

    def rim(self, a: float, r: float, angle: float) -> gp.gp_Pnt:
        """Return a point of one circle of the tool."""
        return gp.gp_Pnt(
            *(self.centre + a * self.arbor + r * (math.cos(angle) * self.level + math.sin(angle) * self.up))
        )

    def plane(self, a: float) -> gp.gp_Ax2:
        """Return the plane of one circle; its first direction points down, so that seams stay below the table."""
        return gp.gp_Ax2(gp.gp_Pnt(*(self.centre + a * self.arbor)), gp.gp_Dir(*self.arbor), gp.gp_Dir(*-self.up))


def placed(job: Job, height: float, travel: float) -> Placed:
    """Return where the tool stands after some travel, from the frames of the design's first section."""
    theta, tilt = math.radians(job.fence_angle), math.radians(job.tilt)
    to_stock = np.array(
        [
            [-math.sin(theta), -math.cos(theta), 0.0],  # back from the leading end
            [math.cos(theta), -math.sin(theta), 0.0],  # across
            [0.0, 0.0, 1.0],
        ]
    )
    centre_height = height - max(r * math.cos(tilt) - a * math.sin(tilt) for a, r in job.profile)
    return Placed(
        centre=to_stock @ [centre_height * math.tan(tilt), 0.0, centre_height] + [travel, 0.0, 0.0],
        arbor=to_stock @ [math.cos(tilt), 0.0, -math.sin(tilt)],
        level=to_stock @ [0.0, 1.0, 0.0],
        up=to_stock @ [math.sin(tilt), 0.0, math.cos(tilt)],
    )


def frustum(tool: Placed, band: Profile) -> Shape:
    """Return one band of the tool as a cylinder or a cone."""
    (a1, r1), (a2, r2) = band
    if r1 == r2:
        return prim.BRepPrimAPI_MakeCylinder(tool.plane(a1), r1, a2 - a1).Shape()
    return prim.BRepPrimAPI_MakeCone(tool.plane(a1), r1, r2, a2 - a1).Shape()


def disc(tool: Placed, a: float, r: float) -> Shape:
    """Return the plane face inside one circle of the tool."""
    edge = build.BRepBuilderAPI_MakeEdge(gp.gp_Circ(tool.plane(a), r)).Edge()
    return build.BRepBuilderAPI_MakeFace(build.BRepBuilderAPI_MakeWire(edge).Wire()).Face()


def trapezoid(tool: Placed, band: Profile) -> Shape:
    """Return the plane face between the two lines at which the feed, along x, grazes a band.

    The normal at rim angle p is (a2 - a1) (cos p level + sin p up) - (r2 - r1) arbor; there it is square to the feed.
    """
    (a1, r1), (a2, r2) = band
    level, up, arbor = tool.level[0], tool.up[0], tool.arbor[0]
    middle, half = math.atan2(up, level), math.acos((r2 - r1) * arbor / ((a2 - a1) * math.hypot(level, up)))
    polygon = build.BRepBuilderAPI_MakePolygon()
    for a, r, angle in ((a1, r1, -half), (a2, r2, -half), (a2, r2, half), (a1, r1, half)):
        polygon.Add(tool.rim(a, r, middle + angle))
    polygon.Close()
    return build.BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face()


def swept(tool: Placed, profile: Profile, way: float) -> list[Shape]:
    """Return what the shadow of a tool passes through that goes so far along the feed, mm, one prism a figure.

    Where two bands meet they have one disc; taken away twice it would only cost time, as would the discs at the end.
    """
    shadows = [disc(tool, *end) for end in profile] + [trapezoid(tool, band) for band in pairwise(profile)]
    return [prim.BRepPrimAPI_MakePrism(face, gp.gp_Vec(way, 0, 0)).Shape() for face in shadows]


@cache
def left_by_kernel(job: Job) -> Shape:
    """Return the stock after every pass, each cut from what the one before left."""
    body = prim.BRepPrimAPI_MakeBox(gp.gp_Pnt(0, -WIDTH / 2, 0), gp.gp_Pnt(LENGTH, WIDTH / 2, THICKNESS)).Shape()
    stop = LENGTH + CLEAR if job.stop is None else job.stop
    for height in job.heights:
        first, last = placed(job, height, -CLEAR), placed(job, height, stop)
        ends = [frustum(last, band) for band in pairwise(job.profile)]
        for tool in [*swept(first, job.profile, stop + CLEAR), *ends]:
            body = algo.BRepAlgoAPI_Cut(body, tool).Shape()
    return body


def volume(body: Shape) -> float:
    """Return the volume the kernel finds, mm3."""
    found = props.GProp_GProps()
    measure.VolumeProperties_s(body, found, 1e-9)
    return found.Mass()


def centre_of_mass(body: Shape) -> NDArray[np.float64]:
    """Return the centre of mass the kernel finds, (3,) mm."""
    found = props.GProp_GProps()
    measure.VolumeProperties_s(body, found, 1e-9)
    centre = found.CentreOfMass()
    return np.array([centre.X(), centre.Y(), centre.Z()])


def section_area(body: Shape, x: float) -> float:
    """Return the area the kernel finds where a plane across the stock cuts the body, mm2."""
    station = gp.gp_Pln(gp.gp_Pnt(x, 0, 0), gp.gp_Dir(1, 0, 0))
    plane = build.BRepBuilderAPI_MakeFace(station, -WIDTH, WIDTH, -WIDTH, WIDTH).Face()
    found = props.GProp_GProps()
    measure.SurfaceProperties_s(algo.BRepAlgoAPI_Common(body, plane).Shape(), found, 1e-9)
    return found.Mass()


def cut_surface(mesh: Mesh) -> float:
    """Return the area of the faces that passes cut, mm2."""
    a, b, c = (mesh.vertices[mesh.triangles[mesh.cut_by != UNCUT, k]] for k in range(3))
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


def outline_area(mesh: Mesh, x: float) -> float:
    """Return the area of the section of a mesh at a station, mm2."""
    solid = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)
    loops = solid.section(plane_origin=(x, 0, 0), plane_normal=(1, 0, 0)).discrete
    return float(sum(shapely.Polygon(loop[:, 1:]).area for loop in loops))


THROUGH = [
    pytest.param(Job(FLAT, 28, 0, (16,)), id="untilted"),
    pytest.param(Job(FLAT, 28, 10, (16,)), id="tilted"),
    pytest.param(Job(BEVELLED, 28, 0, (16,)), id="alternate bevel"),
]
STOPPED = [
    pytest.param(Job(FLAT, 28, 0, (16,), 150), id="untilted, stopped"),
    pytest.param(Job(FLAT, 28, -10, (16,), 150), id="tilted, stopped"),
    pytest.param(Job(BEVELLED, 12, 6, (8,), 150), id="alternate bevel, tilted, stopped"),
    pytest.param(Job(FLAT, 28, 0, (8, 16), 150), id="two passes, stopped"),
]


def test_the_kernel_itself_meets_the_closed_form():
    """A through pass untilted: the kernel's section is the segment seen obliquely and the kerf."""
    job = Job(FLAT, 28, 0, (16,))
    taken = WIDTH * THICKNESS - section_area(left_by_kernel(job), LENGTH / 2)

    assert disc_section_area(RADIUS, KERF, math.radians(28), 16) == pytest.approx(taken, rel=KERNEL)


@pytest.mark.parametrize("job", THROUGH)
def test_the_exact_section_is_the_kernels(job):
    """Area of what a through pass takes from the section; ours is less by the fine chord, some 1e-6 of it."""
    ours = WIDTH * THICKNESS - pass_sections(job.scene)[-1].left.area
    theirs = WIDTH * THICKNESS - section_area(left_by_kernel(job), LENGTH / 2)

    assert theirs == pytest.approx(ours, rel=1e-6)


@pytest.mark.parametrize("chord", [1e-3, 1e-4])
@pytest.mark.parametrize("job", THROUGH + STOPPED)
def test_the_solid_is_the_kernels_but_for_the_chords(job, chord):
    """Volume taken: never more than the kernel takes, and less by no more than a skin as thick as the chord error."""
    one = stage(job.scene, len(job.heights), chord=chord)
    whole = LENGTH * WIDTH * THICKNESS
    ours, theirs = whole - one.volume, whole - volume(left_by_kernel(job))

    assert theirs - chord * cut_surface(one.mesh) < ours < theirs * (1 + KERNEL)


@pytest.mark.parametrize("job", THROUGH + STOPPED)
def test_the_solid_balances_where_the_kernels_does(job):
    """Centre of mass of what is left, mm: a cut on the wrong side, or leaning the wrong way, moves it."""
    mesh = stage(job.scene, len(job.heights), chord=1e-4).mesh
    ours = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False).center_mass
    theirs = centre_of_mass(left_by_kernel(job))

    assert theirs == pytest.approx(ours, abs=1e-4)
    assert abs(theirs[1]) > 1e-3 or job.tilt == 0


@pytest.mark.parametrize("x", [60.0, 100.0, 150.0, 185.0])
@pytest.mark.parametrize("job", STOPPED[:2])
def test_the_section_is_the_kernels_along_the_run_out(job, x):
    """Area taken from the section before, within and near the end of the blade's own shape at the stop."""
    chord = 1e-4
    ours = WIDTH * THICKNESS - outline_area(stage(job.scene, 1, chord=chord).mesh, x)
    theirs = WIDTH * THICKNESS - section_area(left_by_kernel(job), x)

    assert theirs == pytest.approx(ours, rel=1e-4)
    assert theirs > 1.0
