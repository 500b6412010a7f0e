"""The traced outline over its picture, to look at."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from sweep.trace.face import Traced
from sweep.trace.reader import Seen

WIDE = 1600
"""Pixels. Of the longer side."""

LINE, CASING, FACE = (214, 30, 60), (255, 255, 255), (20, 90, 200)
"""Colours of the outline, of what sets it off from wood, and of the face's line."""


def traced_png(seen: Seen, traced: Traced) -> bytes:
    """Return a PNG of the picture with the points joined over it, the line of the face, and a bar of 10 mm."""
    larger = WIDE / max(seen.size)
    size = (round(seen.size[0] * larger), round(seen.size[1] * larger))
    picture = Image.open(io.BytesIO(seen.picture)).convert("RGB").resize(size, Image.Resampling.LANCZOS)
    pen = ImageDraw.Draw(picture)

    def at(pixels: np.ndarray) -> list[tuple[float, float]]:
        return [(float(x), float(y)) for x, y in (pixels + 0.5) * larger]

    path = at(np.vstack([traced.pixels, traced.pixels[:1]]) if traced.kind == "whole" else traced.pixels)
    half = 0.55 * traced.width / traced.scale.mm_per_pixel * traced.along
    pen.line(at(np.array([traced.origin - half, traced.origin + half])), fill=FACE, width=1)
    pen.line(path, fill=CASING, width=5, joint="curve")
    pen.line(path, fill=LINE, width=2, joint="curve")
    bar = 10 / traced.scale.mm_per_pixel * larger
    foot = size[1] - 16
    pen.line([(16, foot), (16 + bar, foot)], fill=CASING, width=7)
    pen.line([(16, foot), (16 + bar, foot)], fill=(0, 0, 0), width=3)
    pen.text(
        (16, foot - 6),
        "10 mm",
        fill=(0, 0, 0),
        font=ImageFont.load_default(20),
        anchor="ld",
        stroke_width=2,
        stroke_fill=CASING,
    )
    written = io.BytesIO()
    picture.save(written, "PNG", compress_level=3)  # a photograph hardly takes less for three times the work
    return written.getvalue()
