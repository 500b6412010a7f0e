"""A camera: what is to be seen fills the view and nothing is cut off. Plain numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class View:
    """A camera: where it stands, and how it looks.

    Parameters
    ----------
    position, forward, right, up : (x, y, z)
        Unit vectors but for the position, mm.
    half : float
        Tangent of half the view angle, upright.
    shift : (float, float)
        Where the middle of the picture lies, in tangents to the right and up of `forward`.
    aspect : float
        Width of the picture over its height.
    distance : float, mm
        To what the camera turns round.
    flat : bool
        Whether it sees along parallel lines, as in a drawing: what lies at that distance is as large as ever.
    """

    position: tuple[float, float, float]
    forward: tuple[float, float, float]
    right: tuple[float, float, float]
    up: tuple[float, float, float]
    half: float
    shift: tuple[float, float]
    aspect: float
    distance: float
    flat: bool

    def place(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points fall in the picture, (n, 2): 0 to 1 from the left and from the top."""
        flat = (_flattened(np.asarray(points, float), self) - self.shift) / self.half
        return np.column_stack([0.5 + flat[:, 0] / (2 * self.aspect), 0.5 - flat[:, 1] / 2])


def view_of(
    points: ArrayLike,
    towards: ArrayLike,
    anchor: ArrayLike,
    distance: float,
    aspect: float,
    margin: float,
    flat: bool = False,
) -> View:
    """Return the view from a given side that just holds all the points.

    Parameters
    ----------
    points : (n, 3) float, mm
        What must be seen.
    towards : (3,) float
        From the anchor to the camera.
    anchor : (3,) float, mm
    distance : float, mm
        From the anchor to the camera: small for a strong perspective.
    aspect : float
    margin : float
        Share of the picture's half to keep free at each border.
    flat : bool
        Whether to look along parallel lines.
    """
    back = np.asarray(towards, float) / np.linalg.norm(towards)
    x, y, z = (-back).tolist()
    right = np.array([y, -x, 0.0])  # the cross product with upright, and then with `forward`
    right /= np.linalg.norm(right)
    up = np.array([right[1] * z, -right[0] * z, right[0] * y - right[1] * x])
    position = np.asarray(anchor, float) + distance * back
    loose = View(
        _triple(position), _triple(-back), _triple(right), _triple(up), 1.0, (0.0, 0.0), aspect, distance, flat
    )
    seen = _flattened(np.asarray(points, float), loose)
    low, high = seen.min(axis=0), seen.max(axis=0)
    half = max((high[1] - low[1]) / 2, (high[0] - low[0]) / 2 / aspect) / (1 - margin)
    return replace(loose, half=float(half), shift=tuple(((low + high) / 2).tolist()))


def _flattened(points: NDArray[np.float64], view: View) -> NDArray[np.float64]:
    ray = points - view.position
    depth = np.full(len(ray), view.distance) if view.flat else ray @ np.array(view.forward)
    flat: NDArray[np.float64] = np.column_stack([ray @ np.array(view.right), ray @ np.array(view.up)]) / depth[:, None]
    return flat


def _triple(vector: NDArray[np.float64]) -> tuple[float, float, float]:
    x, y, z = vector.tolist()
    return x, y, z
