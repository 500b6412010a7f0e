"""A moving picture as GIF, written a frame at a time: all frames at once take more memory than the rest of a run."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import GifImagePlugin, Image

_SAME = 255
"""The number that says of a pixel that it stays as it was; no colour has it."""


def write_gif(path: Path, frames: Iterable[tuple[Image.Image, int]]) -> None:
    """Write frames, each with how long it is shown, ms; they are shown again and again.

    All frames share the palette of the first, of at most 255 colours. Of every other frame only the rectangle is
    written in which something changes.
    """
    before: NDArray[np.uint8] | None = None
    with path.open("wb") as file:
        for frame, lasting in frames:
            now = np.asarray(frame)
            if before is None:
                file.writelines(GifImagePlugin.getheader(frame, info={"loop": 0})[0])
                file.writelines(GifImagePlugin.getdata(frame, duration=lasting))
            else:
                left, top, part = _changed(before, now)
                file.writelines(GifImagePlugin.getdata(part, (left, top), duration=lasting, transparency=_SAME))
            before = now
        file.write(b";")


def _changed(before: NDArray[np.uint8], now: NDArray[np.uint8]) -> tuple[int, int, Image.Image]:
    """Return the left and top of what changes, and its numbers; of frames that are alike a single pixel."""
    changed = before != now
    down, across = (np.flatnonzero(changed.any(axis=1 - axis)) if changed.any() else [0] for axis in (0, 1))
    window = slice(down[0], down[-1] + 1), slice(across[0], across[-1] + 1)
    return int(across[0]), int(down[0]), Image.fromarray(np.where(changed, now, np.uint8(_SAME))[window])
