"""How many mm a pixel is, from what the maker read off the picture."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from sweep.errors import SceneError, UnusableError
from sweep.figure import length
from sweep.quantity import read_quantity
from sweep.units import LENGTH

SHORTEST = 20.0
"""Pixels. Between nearer marks a length is read to worse than 7 %."""

FINEST, COARSEST = 0.001, 5.0
"""mm a pixel: from a microscope to a picture in which a cupboard's cornice is a dozen pixels wide."""

_NUMBER = r"[0-9]+(?:[.][0-9]+)?"
_SCALE = re.compile(rf"\s*(?P<length>[^=]+?)\s*=\s*(?P<pixels>{_NUMBER})\s*px\s*")
_MARKS = re.compile(
    rf"\s*(?P<a>{_NUMBER})\s*,\s*(?P<b>{_NUMBER})\s+(?P<c>{_NUMBER})\s*,\s*(?P<d>{_NUMBER})\s*=\s*(?P<length>.+?)\s*"
)


@dataclass(frozen=True)
class Scale:
    """A length in the picture.

    Parameters
    ----------
    mm : float
        How long it is.
    pixels : float
        How many pixels that takes.
    """

    mm: float
    pixels: float

    @property
    def mm_per_pixel(self) -> float:
        """How large a pixel is."""
        return self.mm / self.pixels

    @property
    def uncertainty(self) -> float:
        """Which share all lengths are out by where both marks are read a pixel wrongly, one standard deviation."""
        return math.sqrt(2) / self.pixels


def read_scale(scale: str | None, marks: str | None) -> Scale:
    """Return the scale that is given in one of two ways: ``50 mm = 412 px``, or ``100,80 512,84 = 50 mm``.

    Raises
    ------
    SceneError
        Where it cannot be read, none is given, or both are.
    """
    if (scale is None) == (marks is None):
        problem = "no scale is given" if scale is None else "the scale is given in two ways"
        raise SceneError("--scale", problem, 'write --scale "50 mm = 412 px", or --marks "100,80 512,84 = 50 mm"')
    option, text = ("--scale", scale) if scale is not None else ("--marks", marks)
    found = (_SCALE if scale is not None else _MARKS).fullmatch((text or "")[:200])
    if found is None:
        example = '"50 mm = 412 px"' if scale is not None else '"100,80 512,84 = 50 mm", x and y of both in pixels'
        raise SceneError(option, f"'{(text or '')[:60]}' is no scale", f"write, for example, {example}")
    try:
        mm = read_quantity(found["length"], LENGTH)
    except UnusableError as wrong:
        raise SceneError(option, wrong.problem, wrong.remedy) from None
    if scale is not None:
        pixels = float(found["pixels"])
    else:
        pixels = math.dist((float(found["a"]), float(found["b"])), (float(found["c"]), float(found["d"])))
    if pixels < SHORTEST:
        raise SceneError(option, f"the marks are {pixels:.3g} pixels apart", f"take marks at least {SHORTEST:g} apart")
    if not FINEST <= mm / pixels <= COARSEST:
        raise SceneError(
            option,
            "a pixel would be {value} large",
            "write a length between the marks, and the pixels that it takes",
            value=length(mm / pixels),
        )
    return Scale(mm, pixels)
