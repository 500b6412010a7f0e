"""`removal.gif`: the job in motion, pass after pass over the saw and on the stock turned over, and what follows."""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import TypeVar, assert_never

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from sweep.show.draw.colours import ALARM, FAINT, INK, RGB
from sweep.show.draw.fonts import font_file
from sweep.show.pictures.film import Film, FinishShot, PassShot, Shot, Take, TurnShot, shots_of
from sweep.show.pictures.gif import write_gif
from sweep.show.pictures.studio import Studio
from sweep.show.pictures.two_views import Label
from sweep.show.say.cautions import LINE

T = TypeVar("T")

SIZE = (900, 700)
"""Pixels, across and down."""

_TOP, _MAIN, _STRIP, _FOOT = 78, 400, 168, 54
"""Rows of the caption, of the saw, of the stock turned over, and of the foot."""

_FRAME, _PASS_END, _END = 80, 320, 2400  # ms
_APART = 30  # pixels between a title and what stands right of it
_SMALL = SIZE[0] // 4, SIZE[1] // 4  # pixels of a frame as its colours are counted
_COLOURS = 220  # fewer than 256: a frame also needs a sign for what has not changed


def write_movie(path: Path, film: Film) -> None:
    """Draw `removal.gif`, each frame while a thread lays out the one before."""
    shots = shots_of(film)
    studio, pages = Studio(film, SIZE[0], _MAIN, _STRIP), _Pages(film)
    with ThreadPoolExecutor(1) as beside:

        def begun(k: int, then: Callable[[Image.Image], T]) -> Future[T]:
            picture, labels = studio.picture(shots[k], k), studio.labels()
            return beside.submit(lambda: then(pages.page(shots[k], picture, labels)))

        sample = _sample(len(shots))
        kept = dict(zip(sample, _in_turn(begun(k, _kept) for k in sample), strict=True))
        palette = _palette([reduced for _, reduced in kept.values()])

        def in_colours(page: Image.Image) -> Image.Image:
            return page.quantize(palette=palette, dither=Image.Dither.NONE)

        def again(packed: bytes) -> Image.Image:
            return in_colours(Image.frombytes("RGB", SIZE, zlib.decompress(packed)))

        frames = _in_turn(
            beside.submit(again, kept.pop(k)[0]) if k in kept else begun(k, in_colours) for k in range(len(shots))
        )
        times = [_PASS_END if shot.is_last else _FRAME for shot in shots[:-1]] + [_END]
        write_gif(path, zip(frames, times, strict=True))
    studio.close()


def _in_turn(begun: Iterable[Future[T]]) -> Iterator[T]:
    """Yield what comes of one thing after the other, once the next is begun: few are held at a time."""
    before: Future[T] | None = None
    for one in begun:
        if before is not None:
            yield before.result()
        before = one
    if before is not None:
        yield before.result()


def _kept(page: Image.Image) -> tuple[bytes, Image.Image]:
    """Return a page in a twentieth of the room, until its turn comes, and reduced, to choose colours by."""
    return zlib.compress(page.tobytes(), 1), page.resize(_SMALL, Image.Resampling.NEAREST)


def _sample(count: int) -> list[int]:
    """Return the numbers of some frames, evenly chosen, that hold all the colours."""
    return sorted({round(k) for k in np.linspace(0, count - 1, 16)})


def _palette(reduced: Sequence[Image.Image]) -> Image.Image:
    """Return one palette for all frames, from some of them reduced, so that no colour flickers."""
    sheet = Image.new("RGB", (_SMALL[0], _SMALL[1] * len(reduced)))
    for row, frame in enumerate(reduced):
        sheet.paste(frame, (0, row * _SMALL[1]))
    return sheet.quantize(_COLOURS, method=Image.Quantize.MAXCOVERAGE, kmeans=1, dither=Image.Dither.NONE)


class _Pages:
    """Lays the words around the views."""

    def __init__(self, film: Film) -> None:
        self._film = film
        self._large, self._text = ImageFont.truetype(font_file(bold=True), 22), ImageFont.truetype(font_file(), 16)
        self._small = ImageFont.truetype(font_file(), 14)

    def page(self, shot: Shot, picture: Image.Image, labels: tuple[Label, ...]) -> Image.Image:
        """Return one frame."""
        page = Image.new("RGB", SIZE, "white")
        page.paste(picture.resize((SIZE[0], _MAIN + _STRIP), Image.Resampling.BOX), (0, _TOP))
        draw = ImageDraw.Draw(page)
        film = self._film
        match shot:
            case PassShot():
                self._pass(draw, shot, film.takes[shot.take])
                done = film.before(shot.take) + shot.moment.number
                draw.text((24, _TOP + _MAIN - 6), "The same stock turned over", _bytes(FAINT), self._small, anchor="ls")
            case TurnShot():
                take = film.takes[shot.take]
                self._head(draw, (take.name, ""), take.lies)
                done = film.before(shot.take)
            case FinishShot():
                self._finish(draw, shot)
                done = film.passes + (shot.operation + 1 if film.operations else 0)
            case other:
                assert_never(other)
        for label in labels:
            draw.text((label.x, _TOP + label.y), label.word, _bytes(INK), self._small, anchor=label.anchor)
        self._foot(draw, done)
        return page

    def _pass(self, draw: ImageDraw.ImageDraw, shot: PassShot, take: Take) -> None:
        moment, caption = shot.moment, take.captions[shot.moment.number - 1]
        gone = min(max(moment.travel, 0.0), take.scene.stock.length)
        blade = f"blade {caption.height} high" if moment.height > 0 else "saw stopped, blade lowered"
        number = f"pass {moment.number} of {len(take.captions)}"
        title = (take.name, f": {number}") if take.name else ("", number.capitalize())
        self._head(draw, title, f"{blade}     travel {self._film.units.nearest(gone)}", bool(caption.flags))
        if caption.flags:
            draw.text((24, 50), self._flagged(caption.flags), _bytes(ALARM), self._text)

    def _finish(self, draw: ImageDraw.ImageDraw, shot: FinishShot) -> None:
        operations = self._film.operations
        if not operations:
            return self._head(draw, ("", "Finished"), "as the saw leaves it, its face up")
        number, count = shot.operation + 1, len(operations)
        if shot.is_last and number == count:
            return self._head(draw, ("", "Finished"), "its face up")
        return self._head(draw, ("", f"Finishing {number} of {count}"), operations[shot.operation])

    def _head(self, draw: ImageDraw.ImageDraw, title: tuple[str, str], facts: str, alarm: bool = False) -> None:
        """Write a title, a name and what stands behind it, and what is set right of it; the name is cut off to fit."""
        room = SIZE[0] - 24 - _APART - 24 - self._text.getlength(facts)
        shown = fitting(*title, room, self._large.getlength)
        draw.text((24, 16), shown, _bytes(ALARM if alarm else INK), self._large)
        draw.text((max(220, 24 + _APART + self._large.getlength(shown)), 21), facts, _bytes(INK), self._text)

    def _flagged(self, flags: tuple[str, ...]) -> str:
        """Return the flags on one line: as many as fit, the first one at least, and a sign that there are more."""
        for count in range(len(flags), 1, -1):
            words = "! flagged: " + ", ".join((*flags[:count], *["..."] * (count < len(flags))))
            if self._text.getlength(words) <= SIZE[0] - 48:
                return words
        return "! flagged: " + ", ".join((flags[0], *["..."] * (len(flags) > 1)))

    def _foot(self, draw: ImageDraw.ImageDraw, done: int) -> None:
        """Draw passes and operations as a row of their colours, the one under way marked, and the note."""
        count = len(self._film.colours) - 1
        top, left, wide = SIZE[1] - _FOOT + 18, 24, 420
        for k in range(1, count + 1):
            x = left + wide * (k - 1) / count, left + wide * k / count - (3 if count <= 40 else 0)
            tall = 14 if k == done else 6
            if k <= done:
                draw.rectangle((x[0], top + 14 - tall, x[1], top + 14), fill=_bytes(self._film.colours[k]))
            else:
                draw.rectangle((x[0], top + 8, x[1], top + 14), fill=(228, 228, 228))
        note = f"{LINE} Blade slowed."
        draw.text((SIZE[0] - 24, top + 7), note, _bytes(FAINT), self._small, anchor="rm")


def fitting(name: str, behind: str, room: float, length: Callable[[str], float]) -> str:
    """Return a name with what stands behind it, the name cut off where both are longer than there is room for."""
    shorter = (f"{name[:letters].rstrip()}...{behind}" for letters in range(len(name) - 1, 0, -1))
    return next((one for one in (f"{name}{behind}", *shorter) if length(one) <= room), behind)


def _bytes(colour: RGB | NDArray[np.float64]) -> tuple[int, int, int]:
    red, green, blue = (round(255 * float(part)) for part in colour)
    return red, green, blue
