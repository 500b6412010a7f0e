"""A picture looked at by a process of its own, within bounds.

A file of a few kB can ask for a picture of gigabytes, and the libraries that read pictures have faults. That process is
ended where it takes too much, and what it hands back is numbers and a picture that was made anew.
"""

from __future__ import annotations

import base64
import json
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.bounded import command, surroundings
from sweep.errors import SceneError

Array = NDArray[np.float64]

MOST_BYTES = 60_000_000
"""The largest file: a photograph of the finest phone takes half of it."""

MOST_PIXELS = 120_000_000
"""The most pixels of a picture."""

CPU_SECONDS, WALL_SECONDS = 40, 120
"""Most time that looking at one may take; that of the finest phone takes about 4 s."""

MEMORY_BYTES = 3 << 30
"""Most memory; the libraries alone ask for about 1 GB of addresses."""

STARTS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
"""How PNG and JPEG begin."""

TOO_MUCH = f"looking at it takes more than {CPU_SECONDS} s or {MEMORY_BYTES >> 30} GB"


@dataclass(frozen=True, eq=False)
class Seen:
    """What was found in a picture.

    Parameters
    ----------
    outline : (n, 2) float, pixels
        Of the wood, closed; x to the right, y downwards, in the picture as it is shown.
    size : (int, int), pixels
        Width and height.
    roughness : float, pixels
        Standard deviation of the outline's points off a smooth line.
    soft : float
        Share of the outline along which light changes softly, as shade leaves it.
    compressed : float, pixels
        How far the compression of a JPEG puts the outline out, root mean square; 0 of a PNG.
    pixel : float, pixels
        How many of the picture's pixels one is wide that was looked at.
    picture : bytes
        A JPEG of it, made anew and perhaps smaller.
    """

    outline: Array
    size: tuple[int, int]
    roughness: float
    soft: float
    compressed: float
    pixel: float
    picture: bytes


def look_at(path: Path) -> Seen:
    """Return the outline of the wood in a photograph or a scan.

    Raises
    ------
    SceneError
        When the file is no such picture, takes more time or memory than one could, or no wood stands out in it.
    """
    content = _content(path)
    try:
        ended = subprocess.run(
            command("sweep.trace.child", CPU_SECONDS, MEMORY_BYTES, MOST_PIXELS),
            input=content,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            cwd=Path(__file__).parent,
            env=surroundings(),
            timeout=WALL_SECONDS,
        )
        answer = json.loads(ended.stdout)
    except OSError as wrong:
        problem = f"no process can be started to look at it ({wrong.strerror})"
        raise SceneError(str(path), problem, "end other programs and try again") from None
    except (subprocess.TimeoutExpired, ValueError):  # it was ended, or ended without an answer
        answer = {"problem": TOO_MUCH, "remedy": "make the picture smaller, and give the scale of that"}
    if "problem" in answer:
        raise SceneError(str(path), answer["problem"], answer["remedy"])
    w, h = answer["size"]
    return Seen(
        np.array(answer["outline"], float),
        (w, h),
        answer["roughness"],
        answer["soft"],
        answer["compressed"],
        answer["pixel"],
        base64.b64decode(answer["picture"]),
    )


def _content(path: Path) -> bytes:
    remedy = "give the path of a PNG or JPEG picture"
    try:
        if not path.is_file():
            raise SceneError(str(path), "there is no such file", remedy)
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or "its name is none that a file can have"
        raise SceneError(str(path), f"it cannot be read ({reason})", remedy) from None
    if len(content) > MOST_BYTES:
        raise SceneError(str(path), f"the file is larger than {MOST_BYTES // 1_000_000} MB", "make the picture smaller")
    if not content.startswith(STARTS):
        raise SceneError(str(path), "this is neither a PNG nor a JPEG picture", remedy)
    return content
