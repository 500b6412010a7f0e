"""Meshes as text: arrays in base64, as a page unpacks them; what moves in half the room."""

from __future__ import annotations

import base64
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweep.shape.mesh import Mesh

STEPS = 0xFFFF
"""In so many steps a side of the box round a small mesh is told: 0.02 mm of a blank 1.2 m long, less across."""


def packed(points: NDArray[np.float64], triangles: NDArray[np.int64]) -> dict[str, Any]:
    """Return (n, 3) places, mm, as single floats, and (m, 3) corners."""
    return {"v": in_base64(points.astype("<f4")), **_corners(points, triangles)}


def packed_small(points: NDArray[np.float64], triangles: NDArray[np.int64]) -> dict[str, Any]:
    """Return the same with places as whole steps: `low` and `step`, mm, of each axis tell them. For what only moves."""
    low = points.min(axis=0)
    step = np.maximum(np.ptp(points, axis=0), 1e-9) / STEPS
    counts = np.round((points - low) / step).astype("<u2")
    return {"v": in_base64(counts), "low": low.tolist(), "step": step.tolist(), **_corners(points, triangles)}


def cut_by(mesh: Mesh) -> str:
    """Return the pass that cut each triangle, a byte each where the numbers fit."""
    most = int(mesh.cut_by.max(initial=0))
    return in_base64(mesh.cut_by.astype("u1" if most <= 0xFF else "<u2"))


def in_base64(array: NDArray[Any]) -> str:
    """Return the bytes of an array as text."""
    return base64.b64encode(np.ascontiguousarray(array).tobytes()).decode("ascii")


def _corners(points: NDArray[np.float64], triangles: NDArray[np.int64]) -> dict[str, Any]:
    wide = len(points) > STEPS
    return {"t": in_base64(triangles.astype("<u4" if wide else "<u2")), "wide": wide}
