"""All pictures of a run. Those of solids are drawn in a process of their own, beside everything else.

Drawing solids takes longest, and where the system's OpenGL libraries are missing the rendering library does not raise:
it ends its process. That is seen here, and the run goes on without these pictures.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sweep.errors import PictureError
from sweep.scene.model import WholeScene
from sweep.show.pictures.captions import Caption, captions_of
from sweep.show.pictures.fence_plan import write_fence
from sweep.show.pictures.load_plot import write_loads
from sweep.show.pictures.stills import solids_of, write_stills
from sweep.show.pictures.surface_plot import write_surface
from sweep.show.say.report import Report
from sweep.show.solids.stock import Batch
from sweep.units import Units


def write_pictures(folder: Path, report: Report, meanwhile: Callable[[], None]) -> None:
    """Draw every picture of a run into a folder.

    Parameters
    ----------
    folder : Path
    report : Report
    meanwhile : callable
        Other work, done while the solids are drawn.

    Raises
    ------
    PictureError
        When this machine cannot draw solids, after all else is done; one sentence names the packages that are missing.
    """
    # a fresh process, not a copy of this one: a copy would also hold whatever locks other threads hold
    with ProcessPoolExecutor(1, get_context("spawn"), _stand_apart) as apart:
        solids = apart.submit(draw_solids, solids_of(report))
        movie = apart.submit(draw_movie, folder / "removal.gif", report.scene, captions_of(report), report.units)
        meanwhile()
        write_loads(folder / "load.png", report)
        write_surface(folder / "surface.png", report)
        write_fence(folder / "fence.png", report)
        try:
            write_stills(folder / "passes.png", report, solids.result())
            movie.result()
        except BrokenProcessPool:
            raise PictureError(
                "No solids were drawn: this machine lacks the system's OpenGL libraries; on Debian or Ubuntu, "
                "'apt-get install libegl1 libgl1-mesa-dri' brings them."
            ) from None


def draw_solids(batches: Sequence[Batch]) -> list[list[NDArray[np.uint8]]]:
    """Draw batches of solids; for a process that may end without a word."""
    from sweep.show.vtk.turned_over import pictures_end_on

    return [pictures_end_on(batch) for batch in batches]


def draw_movie(path: Path, scene: WholeScene, captions: Sequence[Caption], units: Units) -> None:
    """Draw the moving picture; for a process that may end without a word."""
    from sweep.show.pictures.movie import write_movie

    write_movie(path, scene, captions, units)


def _stand_apart() -> None:
    """Make a process fit to draw solids: no display needed, nothing said, gone at once when a run is interrupted."""
    from sweep.show.vtk.can_draw import draw_off_screen

    signal.signal(signal.SIGINT, signal.SIG_DFL)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # the libraries complain there of what we say in our own words
    draw_off_screen()
