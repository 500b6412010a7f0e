"""The process that takes a picture from standard input and prints the outline in it, or what is wrong, as JSON.

It limits its own memory and its own time on the processor, where the system can. There remain the size of the file,
that of the picture, and the time by the clock (`reader.py`).
"""

from __future__ import annotations

import base64
import io
import json
import os
import sys
import warnings
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from PIL import Image, ImageChops, ImageOps
from PIL.JpegImagePlugin import JpegImageFile, get_sampling

from sweep.bounded import limit_memory, limit_time
from sweep.errors import UnusableError
from sweep.trace.outline import outline_of

KINDS = ["PNG", "JPEG"]

SMALLEST = 64
"""Pixels. Of a picture's shorter side."""

LARGEST = 2400
"""Pixels. Of the longer side as it is looked at: a larger picture is made smaller by a whole number."""

SHOWN = 1600
"""Pixels. Of the longer side of the picture that is shown."""

SHIFT = 4
"""Pixels. How far a picture is moved before it is compressed once more: half of the blocks in which a JPEG is."""

AGAIN = 1.25
"""How many times as far as the second compression the first puts an outline out, whose picture had all its fine change:
of pictures drawn for it, in which it is known (`tests/bench/test_trace.py`), so that what is
said covers 95 of 100 points."""

REMEDY = "save the photograph as a JPEG or PNG picture, and give that"


def main(cpu_seconds: int, memory_bytes: int, most_pixels: int) -> None:
    """Print what `answer` returns for the picture on standard input."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)  # whatever a library prints is no answer
    limit_memory(memory_bytes)
    limit_time(cpu_seconds)
    json.dump(answer(sys.stdin.buffer.read(), most_pixels), answers)
    answers.flush()


def answer(content: bytes, most_pixels: int) -> dict[str, Any]:
    """Return what is found in a picture, or ``{"problem": "...", "remedy": "..."}``, never an error.

    ``outline`` is [[x, y], ...] in pixels of the picture as it is shown, upright by its own mark; ``size`` its width
    and height; ``roughness`` in the same pixels; ``soft`` the share of it that is soft; ``compressed`` how far, root
    mean square, the compression of a JPEG puts it out; ``picture`` a JPEG of it made anew, in base64.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of what a file says of itself and does not hold
            seen, smaller = _seen(content, most_pixels)
            found = outline_of(seen)
            compressed = _put_out(content, found.outline, smaller, most_pixels)
    except UnusableError as wrong:
        return {"problem": wrong.problem.said(), "remedy": wrong.remedy.said()}
    except MemoryError:
        return {"problem": "reading it takes more memory than there is for it", "remedy": REMEDY}
    except Exception as wrong:  # whatever the libraries throw at a file they did not expect
        told = f" ({' '.join(str(wrong).split())[:120]})" if isinstance(wrong, OSError) else ""
        return {"problem": f"this picture cannot be read{told}", "remedy": REMEDY}
    return {
        "outline": ((found.outline + 0.5) * smaller - 0.5).round(3).tolist(),
        "size": [seen.shape[1] * smaller, seen.shape[0] * smaller],
        "roughness": found.roughness * smaller,
        "soft": found.soft,
        "compressed": compressed,
        "pixel": smaller,
        "picture": base64.b64encode(_clean(seen)).decode("ascii"),
    }


def _seen(content: bytes, most_pixels: int) -> tuple[NDArray[np.float32], int]:
    """Return a picture upright as (h, w, 3), 0 to 1, and by which whole number it was made smaller."""
    Image.MAX_IMAGE_PIXELS = None  # the library's own bound is told in no words; ours is asked before any is read
    picture: Image.Image = Image.open(io.BytesIO(content), formats=KINDS)
    w, h = picture.size
    if w * h > most_pixels:
        problem = f"it has {w} x {h} pixels, more than {most_pixels // 1_000_000} million"
        raise UnusableError(problem, "make it smaller, and give the scale of that")
    if min(w, h) < SMALLEST:
        raise UnusableError(f"it has {w} x {h} pixels", f"give one of at least {SMALLEST} either way")
    picture.draft("RGB", (LARGEST, LARGEST))  # a JPEG may be read at a half, a quarter or an eighth
    smaller = max(1, round(w / picture.size[0]))
    picture = ImageOps.exif_transpose(picture)
    again = -(-max(picture.size) // LARGEST)
    if picture.mode.startswith(("I", "F")):
        return _of_16_bits(np.asarray(picture, np.float32), again), again
    if picture.has_transparency_data:
        picture = Image.alpha_composite(Image.new("RGBA", picture.size, "white"), picture.convert("RGBA"))
    picture = picture.convert("RGB")
    if again > 1:
        picture = picture.reduce(again)
    seen: NDArray[np.float32] = np.asarray(picture, np.float32) / np.float32(255)
    return seen, smaller * again


def _put_out(content: bytes, outline: NDArray[np.float64], smaller: int, most_pixels: int) -> float:
    """Return how far a JPEG's compression puts an outline out, root mean square, pixels of the file; 0 of a PNG.

    The picture is compressed once more as it was, by its own tables, its blocks laid elsewhere: that does nearly as
    much again to the edge, whatever the colours of wood and paper are.
    """
    picture: Image.Image = Image.open(io.BytesIO(content), formats=KINDS)
    if not isinstance(picture, JpegImageFile):
        return 0.0
    tables, colours = picture.quantization, get_sampling(picture)
    ImageOps.exif_transpose(picture, in_place=True)  # each copy of a large picture takes hundreds of MB
    if picture.mode not in ("L", "RGB"):
        picture = picture.convert("RGB")
    picture, written = ImageChops.offset(picture, SHIFT), io.BytesIO()  # what comes in again is paper alone
    picture.save(written, "JPEG", qtables=tables, subsampling=colours)
    picture.close()
    again = outline_of(_seen(written.getvalue(), most_pixels)[0]).outline - SHIFT / smaller
    away = shapely.distance(shapely.LinearRing(again), shapely.points(outline))
    return AGAIN * float(np.sqrt((away**2).mean())) * smaller


def _of_16_bits(grey: NDArray[np.float32], smaller: int) -> NDArray[np.float32]:
    """Return a grey picture of 16 bits as (h, w, 3), 0 to 1, made smaller by a whole number."""
    h, w = (side // smaller for side in grey.shape)
    cells = grey[: h * smaller, : w * smaller].reshape(h, smaller, w, smaller)
    whole = np.clip(cells.mean(axis=(1, 3)) / 65535, 0, 1).astype(np.float32)
    return np.repeat(whole[..., None], 3, axis=2)


def _clean(seen: NDArray[np.float32]) -> bytes:
    picture = Image.fromarray((seen * 255).round().astype(np.uint8))
    picture.thumbnail((SHOWN, SHOWN))
    written = io.BytesIO()
    picture.save(written, "JPEG", quality=85)
    return written.getvalue()


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
