"""One whole simulation: every stage of the stock and the load of every pass."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from sweep.cut.along import LoadAt, at_the_ends
from sweep.cut.finish import Finishing, Piece, finish
from sweep.cut.load import Load, loads_of
from sweep.cut.passes import Pass, PassSection, pass_sections, passes_of
from sweep.cut.stages import Stage, stage
from sweep.scene.model import WholeScene
from sweep.tolerance import AS_RUN, Fineness


class Stages:
    """The planed stock, then the stock after each pass: each is cut when it is first asked for, and kept.

    Parameters
    ----------
    scene : WholeScene
    chord : float, mm
        Of the meshed rim.
    """

    def __init__(self, scene: WholeScene, chord: float) -> None:
        self._scene, self._chord = scene, chord
        self._cut: dict[int, Stage] = {}

    def __getitem__(self, place: int) -> Stage:
        """Return the stock after so many passes; -1 is after the last."""
        number = range(len(self))[place]
        if number not in self._cut:
            self._cut[number] = stage(self._scene, number, chord=self._chord, after=self._cut.get(number - 1))
        return self._cut[number]

    def __iter__(self) -> Iterator[Stage]:
        return (self[number] for number in range(len(self)))

    def __len__(self) -> int:
        return len(self._scene.passes.heights) + 1


@dataclass(frozen=True, eq=False)
class Job:
    """A scene and what came of it.

    Parameters
    ----------
    scene : WholeScene
    fineness : Fineness
    passes, sections, loads : tuples
        One for each pass, in order.
    ends : tuple of tuple of LoadAt
        The load of each pass while the blade enters the stock and leaves it; none where the fineness asks for none.
    stages : Stages
        The planed stock, then the stock after each pass.
    """

    scene: WholeScene
    fineness: Fineness
    passes: tuple[Pass, ...]
    sections: tuple[PassSection, ...]
    loads: tuple[Load, ...]
    ends: tuple[tuple[LoadAt, ...], ...]
    stages: Stages

    @property
    def scenes(self) -> tuple[WholeScene, ...]:
        """Every setting of the saw: one."""
        return (self.scene,)

    @property
    def chord(self) -> float:
        """The chord tolerance of the solids, mm."""
        return self.fineness.chord

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The finished moulding: without finishing operations one piece, the stock after the last pass."""
        return self._made[0]

    @property
    def finishing(self) -> tuple[Finishing, ...]:
        """What each finishing operation did."""
        return self._made[1] if self.scene.finish else ()

    @cached_property
    def _made(self) -> tuple[tuple[Piece, ...], tuple[Finishing, ...]]:
        return finish(self.scene, self.finished)

    @property
    def finished(self) -> Stage:
        """The stock after the last pass."""
        return self.stages[-1]

    def removed(self, number: int) -> float:
        """Return the volume that one pass takes, mm3."""
        return self.stages[number - 1].volume - self.stages[number].volume


def simulate(scene: WholeScene, fineness: Fineness = AS_RUN, tell: Callable[[int], None] = lambda number: None) -> Job:
    """Cut a scene.

    Parameters
    ----------
    scene : WholeScene
    fineness : Fineness
    tell : callable
        Called with the number of each pass as it is done.

    Raises
    ------
    SceneError
        When a pass comes out through the top of the stock, or a finishing operation cannot be done.
    SolidError
        When the solid kernel fails.
    """
    passes, sections = passes_of(scene), pass_sections(scene, fineness.section_chord)
    loads = loads_of(scene, passes, [taken.area for taken in sections], fineness.angles)
    stages, ends = Stages(scene, fineness.chord), []
    for one in passes:
        if fineness.every_stage:
            stages[one.number]
        ends.append(at_the_ends(scene, one.number, fineness.ends) if fineness.ends else ())
        tell(one.number)
    job = Job(scene, fineness, passes, sections, loads, tuple(ends), stages)
    _ = job.finishing  # what cannot be done is refused now; what nobody looks at need not be cut
    return job
