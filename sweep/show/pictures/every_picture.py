"""All pictures of a run. Those of solids are drawn in a process of their own, beside the others.

It loads what draws while all else is done, and draws once that is there: so the parts of a run do not all hold at once
what each wants most memory for. Drawing solids takes longest. Where the system's OpenGL libraries are missing the
rendering library does not raise: it ends its process. That is seen here, and the run goes on without these pictures.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from sweep.apart import give_back
from sweep.errors import PictureError
from sweep.show.pictures.apart import draw_movie, draw_solids, load, stand_apart
from sweep.show.pictures.fence_plan import write_fence
from sweep.show.pictures.film import film_of
from sweep.show.pictures.load_plot import write_loads
from sweep.show.pictures.setups import solids_of_setups, write_setups
from sweep.show.pictures.stills import solids_of, write_stills
from sweep.show.pictures.surface_plot import write_surface
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


def write_pictures(folder: Path, report: Report | SetupsReport, meanwhile: Callable[[], None]) -> None:
    """Draw every picture of a run into a folder; of several set-ups, one set of them for each, and what shows them all.

    Parameters
    ----------
    folder : Path
    report : Report or SetupsReport
    meanwhile : callable
        Other work, done before the solids are drawn.

    Raises
    ------
    PictureError
        When this machine cannot draw solids, after all else is done; one sentence names the packages that are missing.
    """
    each = _each(report)
    # a fresh process, not a copy of this one: a copy would also hold whatever locks other threads hold
    with ProcessPoolExecutor(1, get_context("spawn"), stand_apart) as apart:
        apart.submit(load)
        meanwhile()
        give_back()  # what was worked on wants most memory now, solids as they are drawn, other pictures after them
        solids = {name: _begun(apart, draw_solids, solids_of(one)) for name, one in each.items()}
        of_all = _begun(apart, draw_solids, solids_of_setups(report)) if isinstance(report, SetupsReport) else None
        movie = _begun(apart, draw_movie, folder / "removal.gif", film_of(report))
        wait(solids.values())
        for name, one in each.items():
            write_fence(folder / f"{name}fence.png", one)
            if solids[name].exception() is None:
                write_stills(folder / f"{name}passes.png", one, solids.pop(name).result())
            write_loads(folder / f"{name}load.png", one)
            if not one.scene.feed.along_blade:  # a rip leaves the marks of any saw cut
                write_surface(folder / f"{name}surface.png", one)
        try:
            for undrawn in solids.values():
                undrawn.result()  # raises what kept it from being drawn
            if isinstance(report, SetupsReport) and of_all is not None:
                write_setups(folder / "setups.png", report, of_all.result())
            give_back()
            movie.result()
        except BrokenProcessPool:
            raise PictureError(
                "No solids were drawn: this machine lacks the system's OpenGL libraries; on Debian or Ubuntu, "
                "'apt-get install libegl1 libgl1-mesa-dri' brings them."
            ) from None


def _begun(apart: ProcessPoolExecutor, work: Callable[..., Any], *given: Any) -> Future[Any]:
    """Have a process do something; where it has ended already, what is to come of that tells it."""
    try:
        return apart.submit(work, *given)
    except BrokenProcessPool as ended:
        nothing = Future[Any]()
        nothing.set_exception(ended)
        return nothing


def _each(report: Report | SetupsReport) -> dict[str, Report]:
    """Return the reports of the set-ups, by what the names of their files begin with: nothing where there is one."""
    if isinstance(report, SetupsReport):
        return {f"setup-{number}-": one for number, one in enumerate(report.reports, start=1)}
    return {"": report}


def drawn_or_why(folder: Path, report: Report | SetupsReport, meanwhile: Callable[[], None]) -> str:
    """Draw every picture as `write_pictures` does, and return why some are missing; nothing where none is."""
    try:
        write_pictures(folder, report, meanwhile)
    except PictureError as wrong:  # it says what would let this machine draw
        return str(wrong)
    return ""
