"""What the moving picture shows, as data: its set-ups, how the stock is turned between them, what is done after them.

It is made from a report, and all of it goes to the process that draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from sweep.cut.finish import Unfinished, as_cut
from sweep.cut.moulding import as_left, as_planed
from sweep.cut.settings import Setting
from sweep.cut.stages import stage
from sweep.scene.model import Scene, SetUpScene, WholeScene
from sweep.show.draw.colours import cut_colours, made_colours
from sweep.show.pictures.captions import Caption, captions_of
from sweep.show.solids.moments import MOST_FRAMES, Moment, moments_of
from sweep.show.solids.turns import is_turned
from sweep.units import Units

if TYPE_CHECKING:  # what draws the moving picture, in a process of its own, needs no report
    from sweep.show.say.report import Report
    from sweep.show.say.setups import SetupsReport

_LEAST, _MOST = 3, 8  # frames of a turn, or of an operation
_TURNS, _OPERATIONS = 40, 40  # frames for all of them, about


@dataclass(frozen=True, eq=False)
class Take:
    """One set-up: its scene, the words above its passes, what it is called, and how the stock is laid for it."""

    scene: WholeScene
    captions: tuple[Caption, ...]
    name: str
    lies: str


@dataclass(frozen=True, eq=False)
class Film:
    """All that the moving picture shows.

    Parameters
    ----------
    scene : Scene
        As it is written.
    settings : tuple of Setting
        Those of several set-ups; none where there is one.
    takes : tuple of Take
        One for each set-up.
    operations : tuple of str
        What is done after them, in words.
    colours : (n, 3) float
        Of faces by what cut them, counted on through all passes and operations.
    units : Units
    """

    scene: Scene
    settings: tuple[Setting, ...]
    takes: tuple[Take, ...]
    operations: tuple[str, ...]
    colours: NDArray[np.float64]
    units: Units

    @property
    def passes(self) -> int:
        """How many passes all set-ups have."""
        return sum(len(take.captions) for take in self.takes)

    @property
    def is_several(self) -> bool:
        """Whether there are several set-ups."""
        return bool(self.settings)

    def before(self, number: int) -> int:
        """Return how many passes come before a set-up, counted from 0."""
        return sum(len(take.captions) for take in self.takes[:number])

    def unfinished(self, chord: float) -> tuple[SetUpScene, Unfinished]:
        """Return the moulding as the set-ups leave it, lying as it was planed, and the scene that finishes it."""
        last = self.takes[-1].scene
        left = stage(last, len(last.passes.heights), chord=chord)
        if not self.settings:
            return last, as_cut(last, left)
        return as_planed(self.scene, self.settings[0]), as_left(self.scene, self.settings, left)


def film_of(report: Report | SetupsReport) -> Film:
    """Return the film of a run."""
    from sweep.show.say.report import Report
    from sweep.show.say.setups import how_it_lies

    settings: tuple[Setting, ...] = ()
    if isinstance(report, Report):
        takes = [Take(report.scene, captions_of(report), "", "")]
        done = report.job.finishing
        colours = cut_colours(len(report.job.passes), len(done))
    else:
        moulding = report.moulding
        done, settings = moulding.finishing, moulding.settings
        takes = [
            Take(one.scene, captions_of(one), f"{setting.asked.place}. {setting.name}", f"stock {how_it_lies(setting)}")
            for one, setting in zip(report.reports, settings, strict=True)
        ]
        colours = made_colours([len(job.passes) for job in moulding.jobs], len(done))
    operations = tuple(one.operation.do for one in done)
    return Film(report.scene, settings, tuple(takes), operations, colours, report.units)


@dataclass(frozen=True)
class PassShot:
    """A moment of a pass of a set-up, which is counted from 0."""

    take: int
    moment: Moment

    @property
    def is_last(self) -> bool:
        """Whether the pass ends here."""
        return self.moment.is_last


@dataclass(frozen=True)
class TurnShot:
    """The stock being turned for a set-up, so far: 0 to 1."""

    take: int
    share: float

    @property
    def is_last(self) -> bool:
        """Whether it lies as it will."""
        return self.share == 1.0


@dataclass(frozen=True)
class FinishShot:
    """An operation, counted from 0, gone so far along the stock: 0 to 1; without any the moulding as it is."""

    operation: int
    share: float

    @property
    def is_last(self) -> bool:
        """Whether it is done."""
        return self.share == 1.0


Shot = PassShot | TurnShot | FinishShot


def shots_of(film: Film) -> tuple[Shot, ...]:
    """Return every frame in order; the last one shows the finished moulding, or the last pass with the blade clear."""
    turned = [_is_turned(take) for take in film.takes]
    frames = _between(_TURNS, sum(turned))
    shots: list[Shot] = []
    for number, take in enumerate(film.takes):
        if turned[number]:
            shots += [TurnShot(number, float(share)) for share in np.linspace(0, 1, frames)]
        most = round(MOST_FRAMES * len(take.captions) / film.passes)
        shots += [PassShot(number, moment) for moment in moments_of(take.scene, most)]
    frames = _between(_OPERATIONS, len(film.operations))
    for number in range(len(film.operations)):
        shots += [FinishShot(number, float(share)) for share in np.linspace(0, 1, frames)]
    if film.is_several and not film.operations:
        shots.append(FinishShot(0, 1.0))
    return tuple(shots)


def _between(all_of_them: int, count: int) -> int:
    return max(_LEAST, min(_MOST, all_of_them // max(1, count)))


def _is_turned(take: Take) -> bool:
    blank = take.scene.stock.blank
    return blank is not None and is_turned(blank.lying)
