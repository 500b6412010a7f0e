"""The stock at any pass and any travel, as a closed solid whose faces know the pass that cut them.

Raised over one feed, a pass takes all that a lower one took that stops no later. So each stage is
cut by only those passes that no other contains: the deepest pass that goes through, drawn out from
its exact section, and the hulls of the deeper ones that stop before the end. However many rises
there are, no two surfaces lie on each other and the cost stays the same.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import pieces_left
from sweep.cut.passes import Pass, passes_of
from sweep.scene.blank import Blank
from sweep.scene.keys import Stock
from sweep.scene.model import WholeScene
from sweep.shape import section, solid
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import reach_along
from sweep.shape.mesh import UNCUT, Mesh
from sweep.shape.tool import Tool
from sweep.tolerance import BELOW_TABLE, CHORD, CLEAR_OF_END, ON_FACE

FINER = (1.0, 0.93, 0.87)
"""Shares of the chord tolerance to try in turn where the kernel stumbles on the numbers of one."""


@dataclass(frozen=True, eq=False)
class Stage:
    """The stock at one moment of the job.

    Parameters
    ----------
    number : int
        The pass under way or just done; 0 is the planed stock.
    travel : float, mm
        How far that pass has gone.
    body : Solid
    mesh : Mesh
        In the stock frame; `mesh.cut_by` holds pass numbers.
    cuts : tuple of (Pass, float)
        The passes that it was cut by and the travel at which each ended, infinite for one that goes through.
    marks : dict
        From the kernel's marks of the cutters to pass numbers.
    chord : float, mm
    """

    number: int
    travel: float
    body: solid.Solid
    mesh: Mesh
    cuts: tuple[tuple[Pass, float], ...]
    marks: dict[int, int]
    chord: float

    @property
    def volume(self) -> float:
        """What is left of the stock, mm3."""
        return solid.volume(self.body)


def travel_range(scene: WholeScene, number: int) -> tuple[float, float]:
    """Return the travel at which a pass starts, clear of the stock, and at which it ends, mm."""
    one = passes_of(scene)[number - 1]
    reach = _reach(scene, one.height)
    through = scene.stock.length + reach
    return -reach, through if one.stop is None else min(one.stop, through)


def stage(
    scene: WholeScene, number: int, travel: float | None = None, chord: float = CHORD, after: Stage | None = None
) -> Stage:
    """Return the stock after `number` passes, the last of them gone only as far as `travel`.

    Parameters
    ----------
    scene : WholeScene
    number : int
        From 0, the planed stock, to the number of passes.
    travel : float or None, mm
        0 when the leading end stands over the blade's centre; None for the whole pass.
    chord : float, mm
        Of the rim; the only approximation.
    after : Stage or None
        An earlier stage of the same scene: what it was cut by is not cut again where all of it still counts.

    Raises
    ------
    ValueError
        When there is no such pass.
    """
    passes = passes_of(scene)
    if not 0 <= number <= len(passes):
        raise ValueError(f"there is no pass {number}; the scene has {len(passes)}")
    if number == 0:
        body, marks = _base(scene, None, chord)
        return Stage(0, 0.0, body, solid.to_mesh(body, marks), (), marks, chord)
    first, last = travel_range(scene, number)
    travel = last if travel is None else min(max(travel, first), last)
    for finer in FINER:
        try:
            return _cut(scene, number, travel, chord * finer, after)
        except solid.DisagreementError as wrong:
            unlucky = wrong
    raise unlucky


def last_stage(scene: WholeScene, chord: float) -> Stage:
    """Return the stock after all passes; see `stage`."""
    return stage(scene, len(scene.passes.heights), chord=chord)


def _cut(scene: WholeScene, number: int, travel: float, chord: float, after: Stage | None) -> Stage:
    through, stopping = essential(scene, passes_of(scene)[:number], travel)
    cuts = (*stopping, *(((through, math.inf),) if through else ()))
    if after is not None and after.chord == chord and _goes_on(after.cuts, cuts):
        body, marks = after.body, dict(after.marks)
        stopping = [pair for pair in stopping if pair not in after.cuts]
    else:
        body, marks = _base(scene, through, chord)
    cutters = []
    for one, end in stopping:
        for hull in swept_pass(scene, one, end, chord):
            cutter, mark = solid.marked(hull)
            cutters.append(cutter)
            marks[mark] = one.number
    body = solid.subtract(body, cutters)
    return Stage(number, travel, body, mesh_of(body, marks, scene.stock), cuts, marks, chord)


def _goes_on(before: tuple[tuple[Pass, float], ...], cuts: tuple[tuple[Pass, float], ...]) -> bool:
    """Return whether nothing drops out of earlier cuts, the deepest through pass among them."""
    return set(before) <= set(cuts) and before[-1:] == cuts[-1:]


def mesh_of(body: solid.Solid, marks: dict[int, int], stock: Stock) -> Mesh:
    """Return what is left of the stock as a mesh whose faces know what cut them; planed faces are `UNCUT`.

    In stock as it lies for a later set-up, faces that earlier ones cut are `UNCUT` too: no pass of this one did.
    """
    mesh = solid.to_mesh(body, marks)
    if stock.blank is not None:
        return mesh
    return Mesh(mesh.vertices, mesh.triangles, np.where(_on_planed_face(mesh, stock), UNCUT, mesh.cut_by))


def _base(scene: WholeScene, through: Pass | None, chord: float) -> tuple[solid.Solid, dict[int, int]]:
    """Return the wood cut by one through pass, or by none, and the kernel's mark of what cut it."""
    stock = scene.stock
    if stock.blank is not None:
        return _from_blank(scene, stock.blank, through, chord)
    if through is None:
        return solid.marked(solid.box(stock.length, stock.width, stock.thickness))[0], {}
    planed = section.stock_section(stock.width, stock.thickness)
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, through.height, chord)
    base, mark = solid.marked(solid.prism(section.rings(section.minus(planed, cut)), stock.length))
    return base, {mark: through.number}


def _from_blank(
    scene: WholeScene, blank: Blank, through: Pass | None, chord: float
) -> tuple[solid.Solid, dict[int, int]]:
    stock, begun = scene.stock, wood_begun(blank, chord).body
    if blank.first or stock.length != blank.before.stock.length:
        begun = solid.stretch(begun, blank.first, stock.length)
    if through is None:
        return begun, {}
    cut = section.cut_section(scene.tool, scene.feed, scene.tilt, through.height, chord)
    taken = section.within(cut, section.room_around(stock.width, stock.thickness))
    cutter, mark = solid.marked(solid.prism(section.rings(taken), stock.length, CLEAR_OF_END))
    return solid.subtract(begun, [cutter]), {mark: through.number}


@dataclass(frozen=True, eq=False)
class Begun:
    """The wood that a set-up begins with, as it lies.

    Parameters
    ----------
    body : Solid
    marks : dict
        From the kernel's marks of all cutters to pass numbers, counted on through the set-ups before.
    passes : int
        How many passes those had.
    """

    body: solid.Solid
    marks: dict[int, int]
    passes: int


_BEGUN: WeakKeyDictionary[Blank, dict[float, Begun]] = WeakKeyDictionary()
"""By blank and chord: every stage of a set-up begins with it. Kept no longer than the blank itself, for the kernel
complains of solids that outlive the program."""


def wood_begun(blank: Blank, chord: float) -> Begun:
    """Return the wood that a set-up begins with: what the one before it left, turned over."""
    known = _BEGUN.setdefault(blank, {})
    if chord not in known:
        last = last_stage(blank.before, chord)
        goes_on = parted(blank.before, last, blank.piece)[0]
        known[chord] = Begun(solid.laid(goes_on, blank.lying), *all_marks(blank.before, last))
    return known[chord]


def all_marks(scene: WholeScene, last: Stage) -> tuple[dict[int, int], int]:
    """Return what cut a stage, from the kernel's marks to passes counted on through all set-ups, and their number."""
    blank = scene.stock.blank
    begun = None if blank is None else wood_begun(blank, last.chord)
    earlier, count = ({}, 0) if begun is None else (begun.marks, begun.passes)
    own = {mark: count + number for mark, number in last.marks.items()}
    return earlier | own, count + len(scene.passes.heights)


def mesh_of_all(scene: WholeScene, one: Stage) -> Mesh:
    """Return the mesh of a stage whose faces know the pass of any set-up that cut them, counted on through all."""
    stock, blank = scene.stock, scene.stock.blank
    if blank is None:
        return one.mesh
    mesh = solid.to_mesh(one.body, all_marks(scene, one)[0])
    first, back = blank.first, np.eye(4)
    while blank is not None:  # it ends with the first set-up, whose stock is planed
        stock, back = blank.before.stock, blank.lying.back.motion @ back
        blank = stock.blank
    laid = (mesh.vertices + (first, 0.0, 0.0)) @ back[:3, :3].T + back[:3, 3]
    planed = _on_planed_face(Mesh(laid, mesh.triangles, mesh.cut_by), stock)
    return Mesh(mesh.vertices, mesh.triangles, np.where(planed, UNCUT, mesh.cut_by))


def parted(scene: WholeScene, last: Stage, piece: int | None) -> list[solid.Solid]:
    """Return the solids of the pieces that a set-up leaves: the one that goes on, then those that fall off."""
    figures = pieces_left(scene, piece, last.chord)
    return solids_of(last.body, figures, scene.stock)


def solids_of(body: solid.Solid, figures: Sequence[section.Figure], stock: Stock) -> list[solid.Solid]:
    """Return the solids of the pieces whose sections these are, of wood that was sawn apart."""
    if len(figures) == 1:
        return [body]
    parts, found = solid.pieces(body), []
    for figure in figures:
        drawn = solid.prism(section.rings(figure), stock.length)
        shared = [solid.volume(solid.common(part, drawn)) for part in parts]
        found.append(parts[shared.index(max(shared))])
    return found


def swept_pass(scene: WholeScene, one: Pass, end: float, chord: float = CHORD) -> list[solid.Solid]:
    """Return the volumes that a pass sweeps from clear of the leading end to some travel, one hull a band."""
    start = -_reach(scene, one.height)
    return solid.swept(scene.tool, scene.feed, scene.tilt, one.height, (start, end), chord)


def essential(
    scene: WholeScene, passes: tuple[Pass, ...], travel: float
) -> tuple[Pass | None, list[tuple[Pass, float]]]:
    """Return the passes that no other contains, the last one gone only as far as `travel`.

    Returns
    -------
    through : Pass or None
        The deepest that goes through.
    stopping : list of (Pass, float)
        Those that stop short and are deeper, deepest first, with the travel at which each ends, mm.
    """
    ends = [math.inf if one.stop is None else one.stop for one in passes[:-1]] + [travel]
    through, stopping, furthest = None, [], -math.inf
    for one, end in sorted(
        zip(passes, ends, strict=True), key=lambda pair: (-pair[0].height, -pair[1], pair[0].number)
    ):
        if end <= furthest:
            continue
        furthest = end
        if end >= scene.stock.length + _reach(scene, one.height):
            through = one
            break
        stopping.append((one, end))
    return through, stopping


def _reach(scene: WholeScene, height: float) -> float:
    """Return how far along the feed the blade reaches from its centre, above the table and clear of the end, mm."""
    return _reach_of(scene.tool, scene.feed, scene.tilt, height)


@lru_cache(maxsize=4096)  # asked for many times in every job, for each of its heights
def _reach_of(tool: Tool, feed: StraightFeed, tilt: float, height: float) -> float:
    return reach_along(tool, feed.direction, tilt, height, BELOW_TABLE) + CLEAR_OF_END


def _on_planed_face(mesh: Mesh, stock: Stock) -> NDArray[np.bool_]:
    """Return which triangles lie wholly on one of the six faces of the planed stock."""
    half = stock.width / 2
    faces = np.array([[0.0, -half, 0.0], [stock.length, half, stock.thickness]])
    near = np.abs(mesh.vertices[:, None, :] - faces) < ON_FACE  # vertex, low or high, axis
    on: NDArray[np.bool_] = near.reshape(-1, 6)[mesh.triangles].all(axis=1).any(axis=1)
    return on
