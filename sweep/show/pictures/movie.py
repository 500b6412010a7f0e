"""`removal.gif`: the cut in motion, pass after pass, over the saw and on the stock turned over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from sweep.scene.model import WholeScene
from sweep.show.draw.colours import ALARM, FAINT, INK, RGB, cut_colours
from sweep.show.draw.fonts import font_file
from sweep.show.pictures.captions import Caption
from sweep.show.pictures.two_views import Label, TwoViews
from sweep.show.say.cautions import LINE
from sweep.show.solids.moments import Moment, moments_of
from sweep.units import Units

SIZE = (900, 700)
"""Pixels, across and down."""

_TOP, _MAIN, _STRIP, _FOOT = 78, 400, 168, 54
"""Rows of the caption, of the saw, of the stock turned over, and of the foot."""

_FRAME, _PASS_END, _END = 80, 320, 2400  # ms
_COLOURS = 220  # fewer than 256: a frame also needs a sign for what has not changed


def write_movie(path: Path, scene: WholeScene, captions: Sequence[Caption], units: Units) -> None:
    """Draw `removal.gif`.

    Parameters
    ----------
    path : Path
    scene : WholeScene
    captions : sequence of Caption
        One a pass, as from `captions_of`.
    units : Units
        For the travel that is written in it.
    """
    moments = moments_of(scene)
    views = TwoViews(scene, SIZE[0], _MAIN, _STRIP)
    pages = _Pages(scene, captions, units, views.labels())
    kept = {k: pages.page(moments[k], views.picture(moments[k], k)) for k in _sample(len(moments))}
    palette = _palette(kept.values())

    def frames() -> Iterator[Image.Image]:
        for k, moment in enumerate(moments):  # one at a time: all of them would take more room than the rest of the run
            frame = kept.pop(k) if k in kept else pages.page(moment, views.picture(moment, k))
            yield frame.quantize(palette=palette, dither=Image.Dither.NONE)

    times = [_PASS_END if moment.is_last else _FRAME for moment in moments[:-1]] + [_END]
    drawn = frames()
    next(drawn).save(path, save_all=True, append_images=drawn, duration=times, loop=0, optimize=True)
    views.close()


def _sample(count: int) -> list[int]:
    """Return the numbers of some frames, evenly chosen, that hold all the colours."""
    return sorted({round(k) for k in np.linspace(0, count - 1, 16)})


def _palette(frames: Iterable[Image.Image]) -> Image.Image:
    """Return one palette for all frames, so that no colour flickers."""
    small = SIZE[0] // 4, SIZE[1] // 4
    reduced = [frame.resize(small, Image.Resampling.NEAREST) for frame in frames]
    sheet = Image.new("RGB", (small[0], small[1] * len(reduced)))
    for row, frame in enumerate(reduced):
        sheet.paste(frame, (0, row * small[1]))
    return sheet.quantize(_COLOURS, method=Image.Quantize.MAXCOVERAGE, kmeans=1, dither=Image.Dither.NONE)


class _Pages:
    """Lays the words around the views."""

    def __init__(self, scene: WholeScene, captions: Sequence[Caption], units: Units, labels: tuple[Label, ...]) -> None:
        self._scene, self._captions, self._units, self._labels = scene, captions, units, labels
        self._large, self._text = ImageFont.truetype(font_file(bold=True), 22), ImageFont.truetype(font_file(), 16)
        self._small = ImageFont.truetype(font_file(), 14)
        self._colours = cut_colours(len(captions))

    def page(self, moment: Moment, picture: Image.Image) -> Image.Image:
        """Return one frame."""
        page = Image.new("RGB", SIZE, "white")
        page.paste(picture, (0, _TOP))
        draw = ImageDraw.Draw(page)
        caption = self._captions[moment.number - 1]
        title = f"Pass {moment.number} of {len(self._captions)}"
        draw.text((24, 16), title, _bytes(ALARM if caption.flags else INK), self._large)
        gone = min(max(moment.travel, 0.0), self._scene.stock.length)
        blade = f"blade {caption.height} high" if moment.height > 0 else "saw stopped, blade lowered"
        facts = f"{blade}     travel {self._units.nearest(gone)}"
        draw.text((max(220, 54 + self._large.getlength(title)), 21), facts, _bytes(INK), self._text)
        if caption.flags:
            draw.text((24, 50), self._flagged(caption.flags), _bytes(ALARM), self._text)
        for label in self._labels:
            draw.text((label.x, _TOP + label.y), label.word, _bytes(INK), self._small, anchor=label.anchor)
        draw.text((24, _TOP + _MAIN - 6), "The same stock turned over", _bytes(FAINT), self._small, anchor="ls")
        self._foot(draw, moment.number)
        return page

    def _flagged(self, flags: tuple[str, ...]) -> str:
        """Return the flags on one line: as many as fit, the first one at least, and a sign that there are more."""
        for count in range(len(flags), 1, -1):
            words = "! flagged: " + ", ".join((*flags[:count], *["..."] * (count < len(flags))))
            if self._text.getlength(words) <= SIZE[0] - 48:
                return words
        return "! flagged: " + ", ".join((flags[0], *["..."] * (len(flags) > 1)))

    def _foot(self, draw: ImageDraw.ImageDraw, number: int) -> None:
        """Draw the passes as a row of their colours, the one under way marked, and the note."""
        count = len(self._captions)
        top, left, wide = SIZE[1] - _FOOT + 18, 24, 420
        for k in range(1, count + 1):
            x = left + wide * (k - 1) / count, left + wide * k / count - (3 if count <= 40 else 0)
            tall = 14 if k == number else 6
            if k <= number:
                draw.rectangle((x[0], top + 14 - tall, x[1], top + 14), fill=_bytes(self._colours[k]))
            else:
                draw.rectangle((x[0], top + 8, x[1], top + 14), fill=(228, 228, 228))
        note = f"{LINE} Blade slowed."
        draw.text((SIZE[0] - 24, top + 7), note, _bytes(FAINT), self._small, anchor="rm")


def _bytes(colour: RGB | NDArray[np.float64]) -> tuple[int, int, int]:
    red, green, blue = (round(255 * float(part)) for part in colour)
    return red, green, blue
