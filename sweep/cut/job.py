"""One whole simulation: every stage of the stock and the load of every pass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sweep.cut.along import Moment, at_the_ends
from sweep.cut.finish import Finishing, Piece, finish
from sweep.cut.load import Load, loads_of
from sweep.cut.passes import Pass, PassSection, pass_sections, passes_of
from sweep.cut.stages import Stage, stage
from sweep.scene.model import WholeScene
from sweep.tolerance import AS_RUN, Fineness


@dataclass(frozen=True, eq=False)
class Job:
    """A scene and what came of it.

    Parameters
    ----------
    scene : WholeScene
    fineness : Fineness
    passes, sections, loads : tuples
        One for each pass, in order.
    ends : tuple of tuple of Moment
        The load of each pass while the blade enters the stock and leaves it; none where the fineness asks for none.
    stages : tuple of Stage
        The planed stock, then the stock after each pass.
    pieces : tuple of Piece
        The finished moulding: without finishing operations one piece, the stock after the last pass.
    finishing : tuple of Finishing
        What each finishing operation did.
    """

    scene: WholeScene
    fineness: Fineness
    passes: tuple[Pass, ...]
    sections: tuple[PassSection, ...]
    loads: tuple[Load, ...]
    ends: tuple[tuple[Moment, ...], ...]
    stages: tuple[Stage, ...]
    pieces: tuple[Piece, ...]
    finishing: tuple[Finishing, ...]

    @property
    def scenes(self) -> tuple[WholeScene, ...]:
        """Every setting of the saw: one."""
        return (self.scene,)

    @property
    def chord(self) -> float:
        """The chord tolerance of the solids, mm."""
        return self.fineness.chord

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
    stages, ends = [stage(scene, 0, chord=fineness.chord)], []
    for one in passes:
        stages.append(stage(scene, one.number, chord=fineness.chord, after=stages[-1]))
        ends.append(at_the_ends(scene, one.number, fineness.ends) if fineness.ends else ())
        tell(one.number)
    pieces, finishing = finish(scene, stages[-1])
    return Job(scene, fineness, passes, sections, loads, tuple(ends), tuple(stages), pieces, finishing)
