"""Where along its normals an outline lies between wood and paper, to a part of a pixel.

A pixel that both share has that much of the light of each, so on lit paper the edge is where half of the light is the
wood's, in linear light, between what lies a few pixels within and a few without. Beside the wood paper may lie in its
shade, which can be as dark as the wood is. There the pixels are taken apart: shade has the paper's colour, only less of
it, so a pixel is so much of the wood's light and so much of the paper's, by least squares, and the edge is where half
of the wood's is left. That needs colour, which a JPEG keeps half as finely as light: it is done in shade alone.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d, map_coordinates

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Told = tuple[Array, Array, NDArray[np.bool_]]
"""How far each point is moved along its normal, pixels, how steep its share changes there, and whether that is told."""

STEP = 0.5
"""Pixels between two places along a normal."""

COLOUR = (8.0, 4.0)
"""Pixels. How far along its normals an outline is looked at by colour, and from where on it is wood, or paper."""

SMOOTH, EVEN = 3.0, 16.0
"""Pixels along the outline over which all colours are smoothed, and the two by which they are taken apart."""

SHADED = 0.3
"""Paper counts as shaded where it is darker by this share of what parts it from wood, altogether at twice as much."""

GREY = 0.12
"""Sine of the angle between the colours of wood and paper below which colour does not tell them apart."""


def settled(light: list[Picture], paper: Array, outline: Array, reach: float, plateau: float) -> tuple[Array, Array]:
    """Return an outline moved along its normals to the edge of the wood, and how steep the picture is there.

    The steepness is the share of the whole change within a pixel either way.

    Parameters
    ----------
    light : list of (h, w) float
        Linear light of each colour.
    paper : (n, 3) float
        That of the paper at each point, if no shade lay on it.
    outline : (n, 2) float, pixels
        Closed, at points a pixel apart, nearly where it belongs.
    reach, plateau : float, pixels
        How far along its normals light is looked at, and from where on it is wood, or paper, alone.
    """
    normal = _normals(outline)
    steps, seen = _along(light, outline, normal, reach)
    wood, beside = _ends(steps, seen, plateau)
    moved, steep, told = _by_light(steps, seen, wood, beside)
    darker = np.linalg.norm(paper - beside, axis=1) / np.maximum(np.linalg.norm(wood - beside, axis=1), 1e-6)
    share = np.clip(gaussian_filter1d(darker, EVEN, mode="wrap") / SHADED - 1, 0, 1)
    if share.any():
        by_colour, steep_by_colour, told_by_colour = _by_colour(light, outline, normal)
        share = np.where(told_by_colour, share, 0.0)
        moved, steep = moved + share * (by_colour - moved), steep + share * (steep_by_colour - steep)
        told = told | (share > 0)
    found: Array = outline + np.where(told, moved, 0.0)[:, None] * normal
    return found, np.where(told, steep, 0.0)


def _by_light(steps: Array, seen: Array, wood: Array, beside: Array) -> Told:
    """Return the edge where half of the light is the wood's."""
    way = beside - wood
    strength = (way**2).sum(axis=1)
    share = ((seen - wood[:, None]) * way[:, None]).sum(axis=2) / np.maximum(strength, 1e-12)[:, None]
    moved, steep, crossed = _half(steps, share)
    return moved, steep, crossed & (strength > 0.05 * float(np.median(strength)))


def _by_colour(light: list[Picture], outline: Array, normal: Array) -> Told:
    """Return the edge where half of the wood's light is left, whatever shade lies on the paper."""
    reach, plateau = COLOUR
    steps, seen = _along(light, outline, normal, reach)
    seen = gaussian_filter1d(seen, SMOOTH, axis=0, mode="wrap")
    wood, paper = (gaussian_filter1d(one, EVEN, axis=0, mode="wrap") for one in _ends(steps, seen, plateau))
    of_wood, of_paper = (np.einsum("nsk,nk->ns", seen, one) for one in (wood, paper))
    ww, pp, wp = ((one * other).sum(axis=1) for one, other in ((wood, wood), (paper, paper), (wood, paper)))
    apart = ww * pp - wp**2
    sine = np.sqrt(np.maximum(apart, 0.0) / np.maximum(ww * pp, 1e-12))
    left = (of_wood * pp[:, None] - of_paper * wp[:, None]) / np.maximum(apart, 1e-12)[:, None]
    moved, steep, crossed = _half(steps, 1 - left)
    usual = float(np.median(sine))
    return moved, steep, crossed & (sine > 0.3 * usual) & (usual >= GREY)


def _normals(outline: Array) -> Array:
    along = gaussian_filter1d(outline, 3.0, axis=0, mode="wrap")
    run = np.roll(along, -1, axis=0) - np.roll(along, 1, axis=0)
    found: Array = np.column_stack([run[:, 1], -run[:, 0]]) / np.maximum(np.hypot(*run.T), 1e-9)[:, None]
    return found


def _along(light: list[Picture], outline: Array, normal: Array, reach: float) -> tuple[Array, Array]:
    """Return places along the normals, (s,) pixels, and the light there, (n, s, 3)."""
    steps = np.arange(-reach, reach + STEP / 2, STEP)
    at = outline[:, None] + steps[None, :, None] * normal[:, None]
    seen = [map_coordinates(one, [at[..., 1], at[..., 0]], order=1, mode="nearest") for one in light]
    return steps, np.stack(seen, axis=2).astype(float)


def _ends(steps: Array, seen: Array, plateau: float) -> tuple[Array, Array]:
    """Return what is seen within and without, (n, 3) each."""
    return np.median(seen[:, steps <= -plateau], axis=1), np.median(seen[:, steps >= plateau], axis=1)


def _half(steps: Array, share: Array) -> Told:
    """Return where each row first passes a half, of those places the one nearest to 0."""
    before, after = share[:, :-1], share[:, 1:]
    passes = (before < 0.5) & (after >= 0.5)
    part = (0.5 - before) / np.where(passes, after - before, 1.0)
    at = np.where(passes, steps[:-1] + part * STEP, np.inf)
    nearest = np.abs(at).argmin(axis=1)
    moved = at[np.arange(len(at)), nearest]
    crossed = np.isfinite(moved)
    moved = np.where(crossed, moved, 0.0)
    return moved, _share_at(share, steps, moved + 1) - _share_at(share, steps, moved - 1), crossed


def _share_at(share: Array, steps: Array, at: Array) -> Array:
    """Return each row's value at a place between its steps."""
    place = np.clip((at - steps[0]) / STEP, 0, len(steps) - 1)
    found: Array = map_coordinates(share, [np.arange(len(share)), place], order=1)
    return found
