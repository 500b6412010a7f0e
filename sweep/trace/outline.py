"""The outline of the wood in a picture, to a part of a pixel.

What lies along the picture's border is the background, its colour allowed to change evenly across the picture. How far
each pixel's colour is from it, in CIE 1976 L*a*b*, parts wood from background at Otsu's threshold (IEEE Transactions on
Systems, Man, and Cybernetics 9, 1979); where shade lies on the background, by hue and chroma alone. That outline
(marching squares) is then moved along its normals to the edge of the wood (`edge.py`), for which a shade beside it is
background too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.ndimage import binary_opening, correlate1d, gaussian_filter, gaussian_filter1d, label
from skimage.color import lab2rgb, rgb2lab
from skimage.filters import threshold_otsu
from skimage.measure import find_contours

from sweep.errors import UnusableError
from sweep.trace.edge import settled

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

FRAME = 0.01
"""Share of a picture's sides along its border that is background."""

BLUR = 1.5
"""Pixels. Standard deviation of the smoothing before wood and background are parted."""

FAINTEST = 6.0
"""Units of L*a*b*. Wood and background that differ by less are too much alike: three times what is just seen."""

CLEAREST = 0.6
"""Least share of the variance that the parting must explain: lower, there are not two kinds of pixel."""

LEAST = 0.01
"""Least share of the picture that the wood takes."""

ALIKE_REMEDY = "lay the wood on plain paper of another colour, in even light"

WIDE, CLOSE = (5.0, 2.5), (4.0, 2.0)
"""Pixels. How far along its normals an outline is looked at, and from where on it is wood, or background, alone: first
widely, to find it and to see where it is soft, then closely, where a shade beside it changes little."""

WINDING, ROUGHEST = 2.5, 1.5
"""How many times as long as the hull's an outline may be, and how rough, in pixels: beyond, noise was followed."""

SMOOTHED = 15
"""Pixels of the outline over which it is held to run smoothly, to tell how rough it is."""

AS_STEEP = 0.5
"""Share of the usual steepness of the light below which an outline is soft."""


@dataclass(frozen=True)
class FoundOutline:
    """An outline.

    Parameters
    ----------
    outline : (n, 2) float, pixels
        x to the right, y downwards, (0, 0) in the middle of the first pixel; closed, its first point not repeated.
    roughness : float, pixels
        Standard deviation of its points off a line that runs smoothly through their neighbours.
    soft : float
        Share of it along which light changes to that of the background more softly than elsewhere, as shade does.
    """

    outline: Array
    roughness: float
    soft: float


def outline_of(picture: Picture) -> FoundOutline:
    """Return the outline of the wood in a picture.

    Parameters
    ----------
    picture : (h, w, 3) float, 0 to 1
        sRGB.

    Raises
    ------
    UnusableError
        When nothing stands out from the background, or the wood is cut off at the border.
    """
    away, paper = _parted(picture)
    level = float(threshold_otsu(away))
    wood = _largest(away > level)
    inside = gaussian_filter(wood.astype(np.float32), 1.0) > 0.02  # nothing else may come near to it
    contours = find_contours(np.where(inside, np.where(wood, np.maximum(away, level), away), 0.0), level)
    rough = max(contours, key=len)[:-1, ::-1]
    spaced = _spaced(np.asarray(rough, float))
    linear = _linear(picture)
    light = [gaussian_filter(linear[..., k], 0.7) for k in range(3)]
    lit = paper.lit(spaced)
    widely, steep = settled(light, lit, spaced, *WIDE)
    near = spaced + gaussian_filter1d(widely - spaced, SMOOTHED, axis=0, mode="wrap")  # noise does not lead astray
    outline, _ = settled(light, lit, near, *CLOSE)
    found = FoundOutline(outline, _roughness(outline), _soft(steep))
    if len(spaced) > WINDING * shapely.MultiPoint(spaced).convex_hull.length or found.roughness > ROUGHEST:
        raise UnusableError("the wood's outline is not clear", ALIKE_REMEDY)
    return found


@dataclass(frozen=True, eq=False)
class _Paper:
    """The background's colour, which changes evenly across a picture of h rows and w columns.

    Parameters
    ----------
    plane : (3, 3) float
        Its L*a*b* in the middle, and how much they change from the left to the right and from the top to the bottom.
    size : (int, int)
        (h, w).
    """

    plane: Array
    size: tuple[int, int]

    def lab(self, x: Array, y: Array) -> Array:
        """Return the colour at places that are told in pixels."""
        h, w = self.size
        middle, across, down = self.plane
        lab: Array = middle + (x / w - 0.5)[..., None] * across + (y / h - 0.5)[..., None] * down
        return lab

    def lit(self, points: Array) -> Array:
        """Return the light of each colour, (n, 3), at points, (n, 2) pixels, where no shade lies on it."""
        light: Array = _linear(lab2rgb(self.lab(points[:, 0], points[:, 1])))
        return light


def _parted(picture: Picture) -> tuple[Picture, _Paper]:
    """Return how far each pixel is from the background, in the way that parts the two best, and the background."""
    lab = rgb2lab(picture).astype(np.float32)
    paper = _background(lab)
    h, w = paper.size
    off = lab - paper.lab(np.arange(w, dtype=float)[None, :], np.arange(h, dtype=float)[:, None]).astype(np.float32)
    by_colour = off[..., 1] ** 2 + off[..., 2] ** 2
    kinds = [np.sqrt(off[..., 0] ** 2 + by_colour), np.sqrt(by_colour)]
    smooth = [gaussian_filter(kind, BLUR) for kind in kinds]
    explained = [_explained(kind) for kind in smooth]
    clear = [share if contrast >= FAINTEST else 0.0 for share, contrast in explained]
    best = int(np.argmax(clear))
    if clear[best] == 0.0:
        raise UnusableError("nothing stands out from the background", "lay the wood on paper of another colour")
    if clear[best] < CLEAREST:
        raise UnusableError("wood and background are too much alike", ALIKE_REMEDY)
    return smooth[best], paper


def _background(lab: Picture) -> _Paper:
    """Return the colour of the background: a plane through that along the border, deaf to a few others."""
    h, w = lab.shape[:2]
    frame = max(2, round(FRAME * min(h, w)))
    border = np.ones((h, w), bool)
    border[frame:-frame, frame:-frame] = False
    y, x = np.nonzero(border)
    at = np.column_stack([np.ones(len(x)), x / w - 0.5, y / h - 0.5])
    seen = lab[y, x].astype(float)
    kept = np.ones(len(x), bool)
    for _ in range(3):  # each time without what lies far off the plane before
        plane = np.linalg.lstsq(at[kept], seen[kept], rcond=None)[0]
        off = np.sqrt(((seen - at @ plane) ** 2).sum(axis=1))
        kept = off <= max(3 * float(np.median(off)), 1.0)
    return _Paper(plane, (h, w))


def _explained(kind: Picture) -> tuple[float, float]:
    """Return which share of the variance two kinds of pixel explain, and how far apart these lie."""
    if float(np.ptp(kind)) < 1e-3:
        return 0.0, 0.0
    over = kind > threshold_otsu(kind)
    share = float(over.mean())
    if not 0 < share < 1:
        return 0.0, 0.0
    apart = float(kind[over].mean() - kind[~over].mean())
    return share * (1 - share) * apart**2 / float(kind.var()), apart


def _largest(over: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return the largest thing that stands out, without holes and threads."""
    things, _ = label(binary_opening(over, iterations=2), np.ones((3, 3)))
    sizes = np.bincount(things.ravel())
    sizes[0] = 0
    if sizes.max(initial=0) < LEAST * over.size:
        raise UnusableError(
            "what stands out most takes less than 1 % of the picture", "fill the picture with the wood, paper all round"
        )
    wood = things == sizes.argmax()
    if wood[[0, -1]].any() or wood[:, [0, -1]].any():
        raise UnusableError("the wood is cut off at the picture's edge", "leave paper all round it")
    beside, _ = label(~wood)
    filled: NDArray[np.bool_] = beside != beside[0, 0]  # paper goes all round, so that in a corner is all but the holes
    return filled


def _spaced(outline: Array) -> Array:
    """Return a closed outline at points a pixel apart."""
    closed = np.vstack([outline, outline[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    at = np.linspace(0.0, along[-1], max(8, round(along[-1])), endpoint=False)
    return np.column_stack([np.interp(at, along, closed[:, k]) for k in (0, 1)])


def _linear(picture: NDArray[Any]) -> NDArray[Any]:
    """Return the linear light of sRGB (IEC 61966-2-1)."""
    return np.where(picture <= 0.04045, picture / 12.92, ((picture + 0.055) / 1.055) ** 2.4)


def _soft(steep: Array) -> float:
    """Return along which share of an outline light is less than half as steep as where it is steepest."""
    smooth = gaussian_filter1d(steep, SMOOTHED / 3, mode="wrap")
    return float((smooth < AS_STEEP * np.quantile(smooth, 0.9)).mean())


def _roughness(outline: Array) -> float:
    """Return how far points lie off the parabolas that their neighbours are closest to (Savitzky and Golay, 1964)."""
    reach = min(SMOOTHED, len(outline) // 2 * 2 - 1) // 2
    weights = np.linalg.pinv(np.vander(np.arange(-reach, reach + 1.0), 3))[2]  # of the parabola in its middle
    smooth = correlate1d(outline, weights, axis=0, mode="wrap")
    run = np.roll(smooth, -1, axis=0) - np.roll(smooth, 1, axis=0)
    off = outline - smooth
    across = (off[:, 0] * run[:, 1] - off[:, 1] * run[:, 0]) / np.maximum(np.hypot(*run.T), 1e-9)
    return float(1.4826 * np.median(np.abs(across)))
