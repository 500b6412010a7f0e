"""Mesh files through trimesh: STL and 3MF in mm, GLB in metres, each closed when it is read back.

The one door to trimesh. STL and GLB hold 32-bit numbers; coordinates are rounded to them first and
triangles that the rounding flattens are taken out with their neighbours joined, so nothing opens.
"""

from __future__ import annotations

import io
import re
import uuid
import zipfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import trimesh

from sweep.shape.mesh import Mesh

_ZIP_EPOCH = (1980, 1, 1, 0, 0, 0)


def write_stl(path: Path, mesh: Mesh) -> None:
    """Write a binary STL, mm."""
    path.write_bytes(_plain(mesh).export(file_type="stl"))


def write_3mf(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a 3MF, mm, one object for each mesh. The same meshes give the same bytes."""
    bodies = _named([_plain(mesh) for mesh in meshes])
    bodies.units = "millimeter"
    path.write_bytes(_settled(bodies.export(file_type="3mf")))


def write_glb(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a binary glTF, metres and y up, as that standard wants, one node for each mesh."""
    y_up = np.array([[1.0, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1]])
    bodies = [_plain(mesh).apply_transform(y_up @ np.diag([1e-3, 1e-3, 1e-3, 1.0])) for mesh in meshes]
    path.write_bytes(_named(bodies).export(file_type="glb"))


def _named(bodies: list[trimesh.Trimesh]) -> trimesh.Scene:
    """Return several bodies as one scene, named as pieces from left to right."""
    scene = trimesh.Scene()
    for number, body in enumerate(bodies, start=1):
        body.units = "millimeter"
        scene.add_geometry(body, node_name=f"piece-{number}", geom_name=f"piece-{number}")
    return scene


def _plain(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)


def _settled(archive: bytes) -> bytes:
    """Return a 3MF with its random identifiers and times replaced by ones that follow from its content."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(archive)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            seen: dict[bytes, bytes] = {}
            content = re.sub(
                rb"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}",
                lambda match, seen=seen, name=name: seen.setdefault(
                    match[0], str(uuid.uuid5(uuid.NAMESPACE_URL, f"{name}#{len(seen)}")).encode()
                ),
                content,
            )
            target.writestr(zipfile.ZipInfo(name, _ZIP_EPOCH), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()
