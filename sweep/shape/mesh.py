"""A closed triangle mesh whose faces know what cut them. Plain arrays; no kernel behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

UNCUT = 0
"""`cut_by` of a face of the stock as it was planed."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed, outward-oriented mesh in the stock frame; its arrays are read-only.

    Parameters
    ----------
    vertices : (n, 3) float, mm
    triangles : (m, 3) int
    cut_by : (m,) int
        Number of the pass that cut the face, or `UNCUT`; finishing operations count on after the passes.
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    cut_by: NDArray[np.int64]

    def __post_init__(self) -> None:
        for name in ("vertices", "triangles", "cut_by"):
            array = np.array(getattr(self, name), copy=True)
            array.setflags(write=False)
            object.__setattr__(self, name, array)

    @property
    def volume(self) -> float:
        """The volume enclosed, mm3, by the divergence theorem; positive when faces point outwards."""
        a, b, c = (self.vertices[self.triangles[:, k]] for k in range(3))
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)

    def is_closed(self) -> bool:
        """Return whether every edge has exactly one neighbour that runs it the other way."""
        edges = np.vstack([self.triangles[:, [0, 1]], self.triangles[:, [1, 2]], self.triangles[:, [2, 0]]])
        if len(edges) == 0:
            return False
        forward = edges[np.lexsort(edges.T)]
        backward = edges[:, ::-1][np.lexsort(edges[:, ::-1].T)]
        unique = not np.any(np.all(forward[1:] == forward[:-1], axis=1))
        return bool(unique and np.array_equal(forward, backward))

    def section(self, x: float) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
        """Cut the mesh square across at one station.

        Parameters
        ----------
        x : float, mm
            Station from the leading end. At a vertex the section just behind it is taken.

        Returns
        -------
        segments : (k, 2, 2) float, mm
            Pieces of outline in (y, z).
        cut_by : (k,) int
            The pass that cut each piece.
        """
        corners = self.vertices[self.triangles]  # (m, 3, 3)
        beyond = corners[:, :, 0] > x
        crossing = np.flatnonzero(beyond.any(axis=1) & ~beyond.all(axis=1))
        corners, beyond = corners[crossing], beyond[crossing]
        lone = np.where(beyond.sum(axis=1) == 1, beyond.argmax(axis=1), (~beyond).argmax(axis=1))
        rows = np.arange(len(crossing))
        apex = corners[rows, lone]
        ends = []
        for turn in (1, 2):
            other = corners[rows, (lone + turn) % 3]
            share = (x - apex[:, 0]) / (other[:, 0] - apex[:, 0])
            ends.append(apex[:, 1:] + share[:, None] * (other[:, 1:] - apex[:, 1:]))
        return np.stack(ends, axis=1), self.cut_by[crossing]


def joined(meshes: Sequence[Mesh]) -> Mesh:
    """Return several meshes as one; its parts do not hang together."""
    starts = np.cumsum([0] + [len(mesh.vertices) for mesh in meshes[:-1]])
    return Mesh(
        np.vstack([mesh.vertices for mesh in meshes]),
        np.vstack([mesh.triangles + start for mesh, start in zip(meshes, starts, strict=True)]),
        np.concatenate([mesh.cut_by for mesh in meshes]),
    )
