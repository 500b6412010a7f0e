"""Pictures of end grain, drawn here: the section of a job on a bench, with growth rings, light, shade and noise."""

from __future__ import annotations

import math

import numpy as np
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

FINER = 4
"""How many times finer a picture is drawn, so that a pixel on an edge has its share of both."""

BENCH, WOOD = (0.62, 0.66, 0.70), (0.72, 0.52, 0.34)


def end_grain(
    section,
    pixels_per_mm=8.0,
    turn=0.0,
    margin=6.0,
    shade=0.0,
    gradient=0.0,
    noise=0.0,
    blur=0.7,
    bench=BENCH,
    wood=WOOD,
    seed=0,
):
    """Return a picture, (h, w, 3) uint8, and the outline of the wood in it, pixels.

    Parameters
    ----------
    section : (n, 2) float, mm
        y to the right, z up.
    pixels_per_mm, turn, margin : float
        Turned anticlockwise, rad; mm of bench all round.
    shade : float
        How much darker the bench is where the wood's shadow falls, 0 to 1.
    gradient : float
        How much darker the picture's right side is.
    noise : float
        Standard deviation of each pixel, of 1.
    """
    section = np.asarray(section, float)
    cosine, sine = math.cos(turn), math.sin(turn)
    laid = section @ np.array([[cosine, sine], [-sine, cosine]])
    low, high = laid.min(axis=0) - margin, laid.max(axis=0) + margin
    width, height = np.ceil((high - low) * pixels_per_mm).astype(int)
    outline = np.column_stack([laid[:, 0] - low[0], high[1] - laid[:, 1]]) * pixels_per_mm - 0.5
    size = (width * FINER, height * FINER)

    def covered(points):
        drawn = Image.new("L", size)
        ImageDraw.Draw(drawn).polygon([tuple(point) for point in (points + 0.5) * FINER - 0.5], fill=255)
        rows = np.asarray(drawn, np.uint16).reshape(height, FINER, -1).sum(axis=1, dtype=np.uint16)
        return (rows.reshape(-1, FINER) @ np.full(FINER, 1 / (255 * FINER**2))).reshape(height, width, 1)

    y, x = np.mgrid[:height, :width]
    rings = 0.06 * np.sin(np.hypot(x - 0.3 * width, y - 2.5 * height) / pixels_per_mm * 2.5)[..., None]
    light = np.array(bench) * (
        1 - shade * gaussian_filter(covered(outline + 0.9 * pixels_per_mm)[..., 0], 4)[..., None]
    )
    share = covered(outline)
    picture = (1 - share) * light + share * (np.array(wood) + rings)
    picture = picture * (1 - gradient * x[..., None] / width)
    picture = gaussian_filter(picture, (blur, blur, 0))  # in linear light, as a lens does
    picture = np.where(
        picture <= 0.0031308, 12.92 * picture, 1.055 * np.maximum(picture, 0.0031308) ** (1 / 2.4) - 0.055
    )
    picture = picture + noise * np.random.default_rng(seed).standard_normal(picture.shape)
    return (np.clip(picture, 0, 1) * 255).round().astype(np.uint8), outline
