"""Mesh files through trimesh: STL and 3MF in mm, GLB in metres, each taken by the strictest readers.

The one door to trimesh. STL and GLB hold 32-bit numbers. Corners that share a vertex are rounded alike, so what is
closed stays closed. What trimesh writes is mended in two places: its 3MF carries identifiers of an extension that it
does not declare, and its GLB does not say what each part of the buffer is for.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import trimesh
from trimesh.exchange.stl import export_stl

from sweep.shape.mesh import Mesh, joined

_IDENTIFIERS = re.compile(rb' (?:p:UUID|xmlns:\w+)="[^"]*"')
_CORE = b' xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"'
_ZIP_EPOCH = (1980, 1, 1, 0, 0, 0)
_Y_UP = np.array([[1e-3, 0, 0, 0], [0, 0, 1e-3, 0], [0, -1e-3, 0, 0], [0, 0, 0, 1]])
"""mm with z up to metres with y up."""

_ARRAY_BUFFER, _ELEMENT_ARRAY_BUFFER = 34962, 34963


def write_meshes(folder: Path, files: Mapping[str, Sequence[Mesh]]) -> None:
    """Write mesh files by their names; an STL holds all its meshes as one."""
    for name, meshes in files.items():
        if name.endswith(".3mf"):
            write_3mf(folder / name, meshes)
        elif name.endswith(".glb"):
            write_glb(folder / name, meshes)
        else:
            write_stl(folder / name, joined(meshes))


def write_stl(path: Path, mesh: Mesh) -> None:
    """Write a binary STL, mm. Its normals are those of the corners as they are read, in 32 bits."""
    as_read = mesh.vertices.astype(np.float32).astype(np.float64)
    path.write_bytes(export_stl(trimesh.Trimesh(as_read, mesh.triangles, process=False)))


def write_3mf(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a 3MF, mm, one object for each mesh, by the core specification alone. Same meshes, same bytes."""
    bodies = _named([_plain(mesh) for mesh in meshes])
    bodies.units = "millimeter"
    path.write_bytes(_core_only(bodies.export(file_type="3mf")))


def write_glb(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a binary glTF, metres and y up, as that standard wants, one node for each mesh."""
    bodies = _named([_plain(mesh).apply_transform(_Y_UP) for mesh in meshes])
    path.write_bytes(bodies.export(file_type="glb", tree_postprocessor=_tell_buffers))


def _named(bodies: list[trimesh.Trimesh]) -> trimesh.Scene:
    """Return several bodies as one scene, named as pieces from left to right."""
    scene = trimesh.Scene()
    for number, body in enumerate(bodies, start=1):
        body.units = "millimeter"
        scene.add_geometry(body, node_name=f"piece-{number}", geom_name=f"piece-{number}")
    return scene


def _plain(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)


def _core_only(archive: bytes) -> bytes:
    """Return a 3MF without its random identifiers and times, and without the extensions that only they are of."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(archive)) as source, zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            content = _IDENTIFIERS.sub(b"", source.read(name))
            content = content.replace(b"<item" + _CORE, b"<item")  # it is the namespace of the whole part
            target.writestr(zipfile.ZipInfo(name, _ZIP_EPOCH), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _tell_buffers(tree: dict[str, Any]) -> None:
    """Say of each part of the buffer whether it holds vertices or the order in which they are drawn."""
    for mesh in tree["meshes"]:
        for one in mesh["primitives"]:
            for accessor in one["attributes"].values():
                tree["bufferViews"][tree["accessors"][accessor]["bufferView"]]["target"] = _ARRAY_BUFFER
            tree["bufferViews"][tree["accessors"][one["indices"]]["bufferView"]]["target"] = _ELEMENT_ARRAY_BUFFER
