"""Pictures of solids, drawn by a process of its own that may end without a word; it loads nothing else that draws."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.apart import end_with_program, give_back
from sweep.show.pictures.film import Film
from sweep.show.solids.stock import Batch


def load() -> None:
    """Load what draws solids, to be there when they come."""
    import sweep.show.pictures.movie
    import sweep.show.vtk.turned_over  # noqa: F401


def draw_solids(batches: Sequence[Batch]) -> list[list[NDArray[np.uint8]]]:
    """Draw batches of solids."""
    from sweep.show.vtk.turned_over import pictures_end_on

    drawn = pictures_end_on(batches)
    give_back()  # what draws holds a picture seven times over
    return drawn


def draw_movie(path: Path, film: Film) -> None:
    """Draw the moving picture."""
    from sweep.show.pictures.movie import write_movie
    from sweep.show.vtk.canvas import close_window

    close_window()
    give_back()
    write_movie(path, film)


def stand_apart() -> None:
    """Make a process fit to draw solids: no display needed, nothing said, and gone with the run."""
    from sweep.show.vtk.can_draw import draw_off_screen

    end_with_program()
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # the libraries complain there of what we say in our own words
    draw_off_screen()
