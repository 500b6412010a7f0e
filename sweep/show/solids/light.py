"""How light a surface is: two lamps that stand behind whoever looks, and light from all around. Plain numbers.

The light of a flat face, or of a corner of a curved one, is worked out once a picture. Without a graphics card that
takes half as long as leaving it to the rendering library, which works it out again for every pixel.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

_LAMPS = (((0.4, 0.9, 0.7), 0.60), ((-0.5, 0.1, 1.0), 0.62))
"""Where light comes from, to the right and up of whoever looks and behind them, and how strong it is."""


class Finish(NamedTuple):
    """How much of its colour a surface sends back, of the light from all around and of that of the lamps."""

    around: float
    lamps: float


WOOD_IN_LIGHT, PAINTED, EVENLY_LIT = Finish(0.22, 0.86), Finish(0.25, 0.80), Finish(0.62, 0.42)
"""Wood; parts of the saw; and with most of the shade taken out, so that colours read as on their colour bar."""


@dataclass(frozen=True, eq=False)
class Light:
    """The lamps, as they stand for somebody who looks.

    Parameters
    ----------
    eye : (3,) float, mm
        Where one looks from.
    lamps : (k, 3) float
        Towards each of them, as long as it is strong.
    """

    eye: NDArray[np.float64]
    lamps: NDArray[np.float64]

    @classmethod
    def of(cls, eye: ArrayLike, right: ArrayLike, up: ArrayLike, back: ArrayLike) -> Light:
        """Return the light for somebody at a place, mm, with three unit vectors, (3,) each, to tell where they look."""
        axes = np.array([right, up, back], float)
        lamps = [strength * (np.array(place) @ axes) / np.linalg.norm(place) for place, strength in _LAMPS]
        return cls(np.asarray(eye, float), np.array(lamps))

    def on_a_thing_moved(self, motion: NDArray[np.float64]) -> Light:
        """Return the same light in the frame of a thing that was moved, a rotation and a shift, (4, 4)."""
        turn, shift = motion[:3, :3], motion[:3, 3]
        return Light((self.eye - shift) @ turn, self.lamps @ turn)

    def is_like(self, other: Light) -> bool:
        """Return whether another light is the same to the last digit."""
        return np.array_equal(self.eye, other.eye) and np.array_equal(self.lamps, other.lamps)

    def on(self, corners: NDArray[np.float64], normals: NDArray[np.float64], finish: Finish) -> NDArray[np.float64]:
        """Return by how much the colour of triangles is multiplied, (m, 3) or (m, 1), one figure a normal.

        Parameters
        ----------
        corners : (m, 3, 3) float, mm
        normals : (m, 3, 3) or (m, 1, 3) float
            Unit vectors, for each corner or for a flat face; a face seen from behind is lit there.
        finish : Finish
        """
        a, b, c = (corners[:, k] for k in range(3))
        seen = np.einsum("ij,ij->i", np.cross(b - a, c - a), self.eye - a)
        falling = (normals @ self.lamps.T) * np.where(seen < 0, -1.0, 1.0)[:, None, None]
        light: NDArray[np.float64] = finish.around + finish.lamps * np.maximum(falling, 0.0).sum(axis=2)
        return light


def flat_normals(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the normal of each triangle, (m, 1, 3), of corners (m, 3, 3)."""
    a, b, c = (corners[:, k] for k in range(3))
    normals = np.cross(b - a, c - a)
    unit: NDArray[np.float64] = normals / np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    return unit[:, None, :]
