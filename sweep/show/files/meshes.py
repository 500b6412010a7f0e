"""Mesh files in three open formats: STL and 3MF in mm, GLB in metres.

STL and GLB hold 32-bit numbers. Corners that share a vertex are rounded alike, so what is closed stays closed.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from sweep.shape.mesh import Mesh

_STL_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
_STL_HEADER = b"binary, mm"  # a header that began with "solid" would be taken for text

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
_RELATIONSHIPS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"
_MODEL_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_MODEL_PART = "3D/3dmodel.model"
_ZIP_EPOCH = (1980, 1, 1, 0, 0, 0)

_GLB_MAGIC, _GLB_VERSION = b"glTF", 2
_FLOAT, _UNSIGNED_INT = 5126, 5125
_ARRAY_BUFFER, _ELEMENT_ARRAY_BUFFER = 34962, 34963


def write_stl(path: Path, mesh: Mesh) -> None:
    """Write a binary STL, mm: 80 bytes of header, a count, 50 bytes a triangle. A flattened triangle has no normal."""
    corners = mesh.vertices.astype("<f4").astype(float)[mesh.triangles]  # (m, 3, 3), as they are read
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    records = np.zeros(len(corners), _STL_RECORD)
    records["normal"] = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
    records["corners"] = corners
    count = np.array(len(records), "<u4")
    path.write_bytes(_STL_HEADER.ljust(80, b"\0") + count.tobytes() + records.tobytes())


def write_3mf(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a 3MF, mm, one object for each mesh, by the core specification 1.3 alone. Same meshes, same bytes."""
    types = ElementTree.Element("Types", xmlns=f"{_PACKAGE}/content-types")
    for extension, content in (("rels", _RELATIONSHIPS_TYPE), ("model", _MODEL_TYPE)):
        ElementTree.SubElement(types, "Default", Extension=extension, ContentType=content)
    relations = ElementTree.Element("Relationships", xmlns=f"{_PACKAGE}/relationships")
    ElementTree.SubElement(relations, "Relationship", Id="model", Type=_MODEL_RELATION, Target=f"/{_MODEL_PART}")
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as parts:
        for name, root in (
            ("[Content_Types].xml", types),
            ("_rels/.rels", relations),
            (_MODEL_PART, _model_of_3mf(meshes)),
        ):
            content = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
            parts.writestr(zipfile.ZipInfo(name, _ZIP_EPOCH), content, zipfile.ZIP_DEFLATED)
    path.write_bytes(archive.getvalue())


def write_glb(path: Path, meshes: Sequence[Mesh]) -> None:
    """Write a binary glTF 2.0, metres and y up, as that standard wants, one node for each mesh."""
    content, views, accessors = b"", [], []

    def stored(values: NDArray[np.generic], target: int, **accessor: object) -> int:
        """Add an array to the buffer; return the number of its accessor."""
        nonlocal content
        views.append({"buffer": 0, "byteOffset": len(content), "byteLength": values.nbytes, "target": target})
        accessors.append({"bufferView": len(views) - 1, "count": len(values)} | accessor)
        content += values.tobytes()
        return len(accessors) - 1

    bodies = []
    for name, mesh in _named(meshes):
        x, y, z = mesh.vertices.T
        points = (np.column_stack([x, z, -y]) / 1000).astype("<f4")
        indices = mesh.triangles.astype("<u4").ravel()
        low, high = (bound.tolist() for bound in (points.min(axis=0), points.max(axis=0)))
        place = stored(points, _ARRAY_BUFFER, componentType=_FLOAT, type="VEC3", min=low, max=high)
        order = stored(indices, _ELEMENT_ARRAY_BUFFER, componentType=_UNSIGNED_INT, type="SCALAR")
        bodies.append({"name": name, "primitives": [{"attributes": {"POSITION": place}, "indices": order}]})
    document = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(bodies)))}],
        "nodes": [{"name": body["name"], "mesh": number} for number, body in enumerate(bodies)],
        "meshes": bodies,
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(content)}],
    }
    text = json.dumps(document, separators=(",", ":")).encode("ascii")
    text = text.ljust(-(-len(text) // 4) * 4)  # chunks begin at multiples of 4 bytes
    head = np.array([_GLB_VERSION, 12 + 8 + len(text) + 8 + len(content), len(text)], "<u4").tobytes()
    chunk = np.array(len(content), "<u4").tobytes()
    path.write_bytes(_GLB_MAGIC + head + b"JSON" + text + chunk + b"BIN\0" + content)


def _named(meshes: Sequence[Mesh]) -> list[tuple[str, Mesh]]:
    """Return the meshes named as pieces from left to right."""
    return [(f"piece-{number}", mesh) for number, mesh in enumerate(meshes, start=1)]


def _model_of_3mf(meshes: Sequence[Mesh]) -> ElementTree.Element:
    model = ElementTree.Element("model", {"unit": "millimeter", "xml:lang": "en", "xmlns": _CORE})
    resources, build = ElementTree.SubElement(model, "resources"), ElementTree.SubElement(model, "build")
    for number, (name, mesh) in enumerate(_named(meshes), start=1):
        body = ElementTree.SubElement(resources, "object", id=str(number), type="model", name=name)
        shape = ElementTree.SubElement(body, "mesh")
        for group, one, keys, rows in (
            ("vertices", "vertex", ("x", "y", "z"), mesh.vertices),
            ("triangles", "triangle", ("v1", "v2", "v3"), mesh.triangles),
        ):
            parent = ElementTree.SubElement(shape, group)
            for row in rows.tolist():
                ElementTree.SubElement(parent, one, dict(zip(keys, map(repr, row), strict=True)))
        ElementTree.SubElement(build, "item", objectid=str(number), partnumber=name)
    return model
