"""The boundary-representation kernel, OpenCascade: true elliptic arcs, no facets until a mesh is asked for.

Two ways, like the package's own: the cove drawn out and taken from the stock as solids, and the cove taken
from the stock's section in the plane and the rest drawn out. Each stage is cut from fresh stock, which is
also this kernel's faster order.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from bench.yardstick import Job, Outcome
from OCP.BRep import BRep_Tool
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepGProp import BRepGProp
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfEllipse
from OCP.gp import gp_Ax2, gp_Dir, gp_Elips, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape

from sweep.shape.mesh import Mesh

CLEAR = 1.0
"""mm. How far the cove is drawn below the table and beyond the ends, so that no two faces coincide."""

FINE_MESH = 1e-4
"""mm. Chord of the mesh off which the section of an exact shape is read."""

AS_FACE = getattr(TopoDS, "Face_s", None) or TopoDS.Face  # the binding's name for it before and after 8.0


def solids(job: Job) -> list[TopoDS_Shape]:
    """Return every stage as the stock less the cove drawn out."""
    length, width, thickness = job.box
    stages = []
    for height in job.heights:
        stock = BRepPrimAPI_MakeBox(gp_Pnt(0.0, -width / 2, 0.0), length, width, thickness).Shape()
        cove = BRepPrimAPI_MakePrism(_cove(job, height, -CLEAR), gp_Vec(length + 2 * CLEAR, 0.0, 0.0)).Shape()
        stages.append(BRepAlgoAPI_Cut(stock, cove).Shape())
    return stages


def sections(job: Job) -> list[TopoDS_Shape]:
    """Return every stage as the stock's section less the cove, drawn out."""
    length, _, _ = job.box
    stages = []
    for height in job.heights:
        left = BRepAlgoAPI_Cut(_planed(job), _cove(job, height, 0.0)).Shape()
        stages.append(BRepPrimAPI_MakePrism(left, gp_Vec(length, 0.0, 0.0)).Shape())
    return stages


def meshed(shapes: Sequence[TopoDS_Shape], chord: float) -> Sequence[TopoDS_Shape]:
    """Mesh the shapes where they are, with chords no further from the true surface than this, mm."""
    for shape in shapes:
        BRepMesh_IncrementalMesh(shape, chord, False, 0.5, False)
    return shapes


def read_exact(shapes: Sequence[TopoDS_Shape], job: Job) -> Outcome:
    """Return the figures of shapes as they are; their section is read off a fine mesh."""
    volumes = [_volume(shape) for shape in shapes]
    fine = _mesh_of(*meshed(shapes[-1:], FINE_MESH))
    return Outcome(volumes, [fine.section(job.box[0] / 2)[0]])


def read_meshed(shapes: Sequence[TopoDS_Shape], job: Job) -> Outcome:
    """Return the figures of the meshes of shapes."""
    meshes = [_mesh_of(shape) for shape in shapes]
    last = meshes[-1]
    return Outcome([mesh.volume for mesh in meshes], [last.section(job.box[0] / 2)[0]], len(last.triangles))


def _planed(job: Job) -> TopoDS_Face:
    _, width, thickness = job.box
    outline = BRepBuilderAPI_MakePolygon()
    for y, z in ((-width / 2, 0.0), (width / 2, 0.0), (width / 2, thickness), (-width / 2, thickness)):
        outline.Add(gp_Pnt(0.0, y, z))
    outline.Close()
    return BRepBuilderAPI_MakeFace(outline.Wire()).Face()


def _cove(job: Job, height: float, x: float) -> TopoDS_Face:
    """Return the exact section of the cut at one station: a flat, two elliptic arcs, and a foot below the table."""
    flat, centre = job.kerf / 2 * math.cos(job.angle), height - job.radius
    across = job.radius * math.sin(job.angle)
    foot = flat + across * math.sqrt(1 - ((centre + CLEAR) / job.radius) ** 2)
    corners = [gp_Pnt(x, y, z) for y, z in ((foot, -CLEAR), (flat, height), (-flat, height), (-foot, -CLEAR))]
    outline = BRepBuilderAPI_MakeWire()
    for side, start, end in ((flat, *corners[:2]), (-flat, *corners[2:])):
        around = gp_Ax2(gp_Pnt(x, side, centre), gp_Dir(1, 0, 0), gp_Dir(0, 0, 1))
        arc = GC_MakeArcOfEllipse(gp_Elips(around, job.radius, across), start, end, True)
        outline.Add(BRepBuilderAPI_MakeEdge(arc.Value()).Edge())
        if side > 0:
            outline.Add(BRepBuilderAPI_MakeEdge(corners[1], corners[2]).Edge())
    outline.Add(BRepBuilderAPI_MakeEdge(corners[3], corners[0]).Edge())
    return BRepBuilderAPI_MakeFace(outline.Wire()).Face()


def _volume(shape: TopoDS_Shape) -> float:
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, 1e-9)
    return abs(properties.Mass())


def _mesh_of(shape: TopoDS_Shape) -> Mesh:
    """Return the triangles that lie on a meshed shape's faces."""
    vertices, triangles, count = [], [], 0
    faces = TopExp_Explorer(shape, TopAbs_FACE)
    while faces.More():
        face = AS_FACE(faces.Current())
        place = TopLoc_Location()
        part = BRep_Tool.Triangulation_s(face, place)
        nodes = [part.Node(k).Transformed(place.Transformation()) for k in range(1, part.NbNodes() + 1)]
        vertices += [(p.X(), p.Y(), p.Z()) for p in nodes]
        corners = np.array([part.Triangle(k).Get() for k in range(1, part.NbTriangles() + 1)]) - 1 + count
        triangles.append(corners[:, ::-1] if face.Orientation() == TopAbs_REVERSED else corners)
        count += len(nodes)
        faces.Next()
    joined = np.vstack(triangles)
    mesh = Mesh(np.array(vertices), joined, np.zeros(len(joined), int))
    return mesh if mesh.volume > 0 else Mesh(mesh.vertices, mesh.triangles[:, ::-1], mesh.cut_by)
