"""A moulding of several set-ups: each of them cut in turn, and then what is done after them.

Each set-up is a `Job` of its own, as the stock lies for it. What comes of them all lies here as it was planed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

from sweep.cut.blank import pieces_left, wood_section
from sweep.cut.figures import Outline
from sweep.cut.finish import Finishing, Piece, SoFar, Unfinished, finish_from, sides_of
from sweep.cut.job import Job, simulate
from sweep.cut.settings import Setting
from sweep.cut.stages import Stage, all_marks, last_stage, mesh_of, parted
from sweep.cut.taken import taken_by
from sweep.errors import SceneError, UnusableError
from sweep.scene.model import Scene, SetUpScene, WholeScene
from sweep.scene.setups import CoveSetup, RipSetup
from sweep.shape import section, solid
from sweep.tolerance import AS_RUN, Fineness


@dataclass(frozen=True, eq=False)
class Fallen:
    """A piece that fell off as a set-up sawed the stock apart: an offcut, or laid aside and kept.

    Parameters
    ----------
    setting : Setting
        The set-up that sawed it off.
    job : Job
        What came of it.
    number : int
        Which of the pieces that it left, as `pieces_left` has them.
    figure : Figure
        Its section, as it lay then.
    """

    setting: Setting
    job: Job
    number: int
    figure: section.Figure

    @property
    def volume(self) -> float:
        """mm3."""
        return solid.volume(parted(self.setting.whole, self.job.finished, self.setting.piece)[self.number])

    @property
    def is_kept(self) -> bool:
        """Whether it is one of the pieces in the end."""
        return _keeps(self.setting)


@dataclass(frozen=True, eq=False)
class Moulding:
    """A scene of several set-ups and what came of it.

    Parameters
    ----------
    scene : Scene
        As it is written.
    settings : tuple of Setting
        Of the saw, in order.
    jobs : tuple of Job
        One for each setting, its stock as it lay.
    fallen : tuple of Fallen
        What fell off, in order.
    """

    scene: Scene
    settings: tuple[Setting, ...]
    jobs: tuple[Job, ...]
    fallen: tuple[Fallen, ...]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The finished moulding, lying as the stock was planed.

        `cut_by` counts passes on through all set-ups, and finishing operations after them.
        """
        return self._made[0]

    @property
    def finishing(self) -> tuple[Finishing, ...]:
        """What each finishing operation did."""
        return self._made[1] if self.scene.finish else ()

    @cached_property
    def _made(self) -> tuple[tuple[Piece, ...], tuple[Finishing, ...]]:
        left = as_left(self.scene, self.settings, self.jobs[-1].finished)
        return finish_from(as_planed(self.scene, self.settings[0]), left)

    @property
    def scenes(self) -> tuple[WholeScene, ...]:
        """Every setting of the saw, its stock as it lay."""
        return tuple(job.scene for job in self.jobs)

    @property
    def chord(self) -> float:
        """The chord tolerance of the solids, mm."""
        return self.jobs[0].chord

    @property
    def passes(self) -> int:
        """How many passes all set-ups have."""
        return sum(len(job.passes) for job in self.jobs)

    def setup_of(self, number: int) -> int | None:
        """Return which of the settings made a pass, from 0, its number counted on through all; None of no pass."""
        for place, job in enumerate(self.jobs):
            if 0 < number <= len(job.passes):
                return place
            number -= len(job.passes)
        return None

    def section_before(self, place: int) -> section.Figure:
        """Return the section with which a setting begins, from 0, lying as it was planed; past the last, what is left.

        Exact but for the chord of the jobs' sections.
        """
        chord = self.jobs[0].fineness.section_chord
        if place < len(self.settings):
            setting = self.settings[place]
            return section.laid(wood_section(setting.scene.stock, chord), setting.lying.back)
        return _left(self.settings[-1], chord)


Made: TypeAlias = Job | Moulding
"""What comes of a scene, of one set-up or of several: its scene, its pieces, and what was done after the saw."""


def mould(
    scene: Scene,
    settings: Sequence[Setting],
    fineness: Fineness = AS_RUN,
    tell: Callable[[int], None] = lambda number: None,
) -> Moulding:
    """Cut every set-up of a scene in turn, and do what follows them.

    Parameters
    ----------
    scene : Scene
        With set-ups.
    settings : sequence of Setting
        Of its set-ups, each with its passes.
    fineness : Fineness
    tell : callable
        Called with the number of passes that are done.

    Raises
    ------
    SceneError
        When a pass comes out through the top of the stock, or a finishing operation cannot be done.
    SolidError
        When the solid kernel fails.
    """
    jobs: list[Job] = []
    fallen: list[Fallen] = []
    for setting in settings:
        done = sum(len(job.passes) for job in jobs)
        try:
            jobs.append(simulate(setting.whole, fineness, lambda number, done=done: tell(done + number)))  # type: ignore[misc]
            fallen += _fallen(setting, jobs[-1])
        except (SceneError, UnusableError) as wrong:
            raise SceneError(setting.asked.field, wrong.problem, wrong.remedy) from None
    moulding = Moulding(scene, tuple(settings), tuple(jobs), tuple(fallen))
    _ = moulding.finishing  # what cannot be done is refused now; what nobody looks at need not be cut
    return moulding


def _fallen(setting: Setting, job: Job) -> list[Fallen]:
    _, *figures = pieces_left(setting.whole, setting.piece, job.chord)
    return [Fallen(setting, job, number, figure) for number, figure in enumerate(figures, start=1)]


def _left(setting: Setting, chord: float) -> section.Figure:
    """Return what a setting leaves to go on, lying as it was planed."""
    return section.laid(pieces_left(setting.whole, setting.piece, chord)[0], setting.lying.back)


def as_left(scene: Scene, settings: Sequence[Setting], stage: Stage) -> Unfinished:
    """Return the moulding as the set-ups left it, lying as it was planed; `stage` is the last of the last one."""
    pieces, passes = [_piece(scene, settings, settings[-1], stage, 0)], 0
    for setting in settings:
        passes += len(setting.whole.passes.heights)
        if _keeps(setting):
            sawn = stage if setting is settings[-1] else last_stage(setting.whole, stage.chord)
            count = len(pieces_left(setting.whole, setting.piece, stage.chord))
            pieces += [_piece(scene, settings, setting, sawn, number) for number in range(1, count)]
    pieces.sort(key=lambda one: section.middle_of(one.outline.figure))
    return Unfinished(
        pieces=tuple(pieces),
        meshes=tuple(mesh_of(one.body, one.marks, scene.stock) for one in pieces),
        passes=passes,
        is_whole=not any(one.whole.passes.stop_short for one in settings),
        chord=stage.chord,
    )


def _piece(scene: Scene, settings: Sequence[Setting], setting: Setting, stage: Stage, number: int) -> SoFar:
    """Return one of the pieces that a setting leaves, lying as it was planed: 0 is the one that goes on."""
    figure = section.laid(pieces_left(setting.whole, setting.piece, stage.chord)[number], setting.lying.back)
    body = solid.laid(parted(setting.whole, stage, setting.piece)[number], setting.lying.back)
    outline = Outline(figure, _only_cove(settings, stage.chord), *sides_of(figure))
    return SoFar(outline, body, all_marks(setting.whole, stage)[0])


def _keeps(setting: Setting) -> bool:
    one = setting.asked.setup
    return isinstance(one, RipSetup) and one.keep == "all"


def _only_cove(settings: Sequence[Setting], chord: float) -> section.Figure:
    """Return what the cove took, lying as the stock was planed; nothing where there is none, or more than one."""
    coves = [one for one in settings if isinstance(one.asked.setup, CoveSetup)]
    if len(coves) != 1:
        return section.together()
    return taken_by(coves[0].scene.setup, coves[0].scene.tool, coves[0].lying, chord)


def as_planed(scene: Scene, first: Setting) -> SetUpScene:
    """Return the scene with its planed stock and the blade of its first set-up, for what follows them all."""
    return SetUpScene.model_construct(**dict(first.scene) | {"stock": scene.stock, "finish": scene.finish})
