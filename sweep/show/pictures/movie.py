"""`removal.gif`: the cut in motion, pass after pass, over the saw and on the stock turned over."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from matplotlib import get_data_path
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from sweep.check.judge import Outcome
from sweep.show.draw.colours import ALARM, FAINT, INK, RGB, cut_colours
from sweep.show.pictures.two_views import Label, TwoViews
from sweep.show.solids.moments import Moment, moments_of
from sweep.units import Units

SIZE = (900, 700)
"""Pixels, across and down."""

_TOP, _MAIN, _STRIP, _FOOT = 78, 400, 168, 54
"""Rows of the caption, of the saw, of the stock turned over, and of the foot."""

_FRAME, _PASS_END, _END = 80, 320, 2400  # ms
_COLOURS = 220  # fewer than 256: a frame also needs a sign for what has not changed


def write_movie(path: Path, outcome: Outcome, units: Units, tell: Callable[[float], None]) -> None:
    """Draw `removal.gif`.

    Parameters
    ----------
    path : Path
    outcome : Outcome
    units : Units
        For every length that is written in it.
    tell : callable
        Called with the share that is done, 0 to 1.
    """
    moments = moments_of(outcome.job.scene)
    views = TwoViews(outcome, SIZE[0], _MAIN, _STRIP)
    pages = _Pages(outcome, units, views.labels())
    frames = []
    for k, moment in enumerate(moments):
        frames.append(pages.page(moment, views.picture(moment, k)))
        tell((k + 1) / (len(moments) + 1))
    views.close()
    _save(path, frames, [_PASS_END if moment.is_last else _FRAME for moment in moments[:-1]] + [_END])
    tell(1.0)


def _save(path: Path, frames: list[Image.Image], times: list[int]) -> None:
    """Write the frames with one palette for all, so that no colour flickers."""
    few = sorted({round(k) for k in np.linspace(0, len(frames) - 1, 16)})
    small = SIZE[0] // 3, SIZE[1] // 3
    sheet = Image.new("RGB", (small[0], small[1] * len(few)))
    for row, k in enumerate(few):
        sheet.paste(frames[k].resize(small, Image.Resampling.NEAREST), (0, row * small[1]))
    palette = sheet.quantize(_COLOURS, method=Image.Quantize.MAXCOVERAGE, kmeans=1, dither=Image.Dither.NONE)
    flat = [frame.quantize(palette=palette, dither=Image.Dither.NONE) for frame in frames]
    flat[0].save(path, save_all=True, append_images=flat[1:], duration=times, loop=0, optimize=True)


class _Pages:
    """Lays the words around the views."""

    def __init__(self, outcome: Outcome, units: Units, labels: tuple[Label, ...]) -> None:
        self._outcome, self._units, self._labels = outcome, units, labels
        fonts = Path(get_data_path()) / "fonts" / "ttf"
        plain, bold = str(fonts / "DejaVuSans.ttf"), str(fonts / "DejaVuSans-Bold.ttf")
        self._large, self._text = ImageFont.truetype(bold, 22), ImageFont.truetype(plain, 16)
        self._small = ImageFont.truetype(plain, 14)
        self._colours = cut_colours(len(outcome.job.passes))

    def page(self, moment: Moment, picture: Image.Image) -> Image.Image:
        """Return one frame."""
        job, units = self._outcome.job, self._units
        page = Image.new("RGB", SIZE, "white")
        page.paste(picture, (0, _TOP))
        draw = ImageDraw.Draw(page)
        one = job.passes[moment.number - 1]
        flags = self._outcome.flags_of(one.number)
        title = f"Pass {one.number} of {len(job.passes)}"
        draw.text((24, 16), title, _bytes(ALARM if flags else INK), self._large)
        gone = min(max(moment.travel, 0.0), job.scene.stock.length)
        facts = f"blade {units.length(one.height)} high     travel {units.length(gone)}"
        draw.text((max(220, 54 + self._large.getlength(title)), 21), facts, _bytes(INK), self._text)
        if flags:
            words = "! flagged: " + ", ".join(dict.fromkeys(flag.code.replace("-", " ") for flag in flags))
            while self._text.getlength(words) > SIZE[0] - 48:
                words = words.rpartition(", ")[0].removesuffix(", ...") + ", ..."
            draw.text((24, 50), words, _bytes(ALARM), self._text)
        for label in self._labels:
            draw.text((label.x, _TOP + label.y), label.word, _bytes(INK), self._small, anchor=label.anchor)
        draw.text((24, _TOP + _MAIN - 6), "The same stock turned over", _bytes(FAINT), self._small, anchor="ls")
        self._foot(draw, moment.number)
        return page

    def _foot(self, draw: ImageDraw.ImageDraw, number: int) -> None:
        """Draw the passes as a row of their colours, the one under way marked, and the note."""
        count = len(self._outcome.job.passes)
        top, left, wide = SIZE[1] - _FOOT + 18, 24, 420
        for k in range(1, count + 1):
            x = left + wide * (k - 1) / count, left + wide * k / count - (3 if count <= 40 else 0)
            tall = 14 if k == number else 6
            if k <= number:
                draw.rectangle((x[0], top + 14 - tall, x[1], top + 14), fill=_bytes(self._colours[k]))
            else:
                draw.rectangle((x[0], top + 8, x[1], top + 14), fill=(228, 228, 228))
        note = "Simulation, not permission to cut. Blade slowed."
        draw.text((SIZE[0] - 24, top + 7), note, _bytes(FAINT), self._small, anchor="rm")


def _bytes(colour: RGB | NDArray[np.float64]) -> tuple[int, int, int]:
    return tuple(round(255 * float(part)) for part in colour)
