"""All pictures of a run. Those of solids are drawn in a process of their own, beside everything else.

Drawing solids takes longest, and where the system's OpenGL libraries are missing the rendering library does not raise:
it ends its process. That is seen here, and the run goes on without these pictures.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path

from sweep.errors import PictureError
from sweep.show.pictures.apart import draw_movie, draw_solids, stand_apart
from sweep.show.pictures.captions import captions_of
from sweep.show.pictures.fence_plan import write_fence
from sweep.show.pictures.load_plot import write_loads
from sweep.show.pictures.stills import solids_of, write_stills
from sweep.show.pictures.surface_plot import write_surface
from sweep.show.say.report import Report


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
    with ProcessPoolExecutor(1, get_context("spawn"), stand_apart) as apart:
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
