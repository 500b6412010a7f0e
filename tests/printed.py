"""A printed sheet as a reader of paper sees it: rasterised and read by PDFium, which shares nothing with `sweep`."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
from numpy.typing import NDArray

PER_MM = 20
"""Pixels."""

LINE = 0.25
"""mm. Thickness of the lines that are measured."""

Spans = list[tuple[float, float, float]]
"""Level, start and end of straight lines, mm."""

SMALL_SHEET = 150_000
"""bytes: with such a sheet in it a page of several set-ups can be sent."""


class Sheet:
    """A PDF file: its pages as words, places of words, and pixels."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._document = pypdfium2.PdfDocument(path.read_bytes())
        self.pages = len(self._document)
        self._page = cache(self._document.__getitem__)  # what was read of a page is kept
        self._read = cache(self._letters)
        self._text = cache(self._words)
        self.pixels = cache(self._dark)

    def size(self, page: int) -> tuple[float, float]:
        """Width and height of a page, mm."""
        return tuple(side / 72 * 25.4 for side in self._page(page).get_size())

    def text(self, *pages: int) -> str:
        """All the words of some pages or of every page, as they might be typed on a terminal."""
        return typed(" ".join(self._text(page) for page in pages or range(self.pages)))

    def place(self, page: int, words: str) -> tuple[float, float]:
        """Where some words begin: left of the first letter and its foot, mm from the top left corner of the page."""
        return self.places(page, words)[0]

    def places(self, page: int, words: str) -> list[tuple[float, float]]:
        """Every such place on a page, one at least."""
        read = self._read(page)
        search, found = read.search(words, match_whole_word=True), []
        while (at := search.get_next()) is not None:
            left, bottom, _, _ = read.get_charbox(at[0])
            found.append((left / 72 * 25.4, self.size(page)[1] - bottom / 72 * 25.4))
        assert found, words
        return found

    def lines(self, page: int) -> int:
        """How many lines of words a page has, as they are read one after the other."""
        return sum(bool(line.strip()) for line in self._text(page).splitlines())

    def beyond(self, page: int, margin: float) -> str:
        """The letters that stand in the margin of a page, or out of it; mm."""
        read, (width, height) = self._read(page), self._page(page).get_size()
        edge, found = margin / 25.4 * 72, ""

        def is_beyond(left: float, bottom: float, right: float, top: float) -> bool:
            return left < edge or bottom < edge or right > width - edge or top > height - edge

        if not any(is_beyond(*read.get_rect(number)) for number in range(read.count_rects())):  # each of many letters
            return ""
        for number in range(read.count_chars()):
            if is_beyond(*read.get_charbox(number)):
                found += read.get_text_range(number, 1)
        return found.strip()

    def _letters(self, page: int) -> Any:
        return self._page(page).get_textpage()

    def _words(self, page: int) -> str:
        return self._read(page).get_text_bounded()

    def _dark(self, page: int) -> NDArray[np.bool_]:
        """Where the page is dark, a row for each twentieth of a mm from the top."""
        dark = self._page(page).render(scale=PER_MM * 25.4 / 72, grayscale=True).to_numpy().squeeze() < 128
        dark.flags.writeable = False
        return dark


def typed(text: str) -> str:
    """Words with the signs of a typewriter, and one space between them."""
    for printed, plain in (("−", "-"), ("×", "x"), ("’", "'"), ("‘", "'"), ("°", " deg"), ("²", "2"), ("³", "3")):
        text = text.replace(printed, plain)
    return re.sub(r"\s+", " ", text.replace("\u200b", "")).strip()


def cropped(dark: NDArray[np.bool_], left: float, top: float, width: float, height: float) -> NDArray[np.bool_]:
    """A part of a page, mm."""
    x, y, wide, high = (round(value * PER_MM) for value in (left, top, width, height))
    return dark[y : y + high, x : x + wide]


def level_lines(dark: NDArray[np.bool_], least: float) -> Spans:
    """Every level line at least so long: the middle of its thickness, its start and its end, mm."""
    rows = []
    for number in np.flatnonzero(dark.sum(axis=1) >= least * PER_MM):
        steps = np.flatnonzero(np.diff(np.concatenate([[0], dark[number].astype(np.int8), [0]])))
        start, end = max(steps.reshape(-1, 2), key=lambda run: run[1] - run[0])
        if end - start >= least * PER_MM:
            rows.append((number, start, end))
    groups = np.split(np.array(rows).reshape(-1, 3), np.flatnonzero(np.diff([row[0] for row in rows]) > 1) + 1)
    return [
        ((group[:, 0].mean() + 0.5) / PER_MM, group[:, 1].min() / PER_MM, group[:, 2].max() / PER_MM)
        for group in groups
        if len(group)
    ]


def upright_lines(dark: NDArray[np.bool_], least: float) -> Spans:
    """Every upright line at least so long: the middle of its thickness, its upper end and its lower end, mm."""
    return level_lines(dark.T, least)


def ticks(dark: NDArray[np.bool_], level: float, start: float, end: float) -> NDArray[np.float64]:
    """The middles of whatever stands on a level line, 0.8 mm above it, mm from its start."""
    row = dark[round((level - 0.8) * PER_MM), round(start * PER_MM) : round(end * PER_MM)].astype(np.int8)
    starts, ends = np.flatnonzero(np.diff(np.concatenate([[0], row, [0]]))).reshape(-1, 2).T
    return (starts + ends) / 2 / PER_MM
