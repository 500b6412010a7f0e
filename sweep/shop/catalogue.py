"""A whole folder of profiles answered: read and screened here, worked out by any executor, kept as it goes.

No more than a lot of profiles is in memory at a time, and of the others a hundred points each; answers are on the disk.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path

import numpy as np

from sweep.errors import SceneError
from sweep.scene.places import Tables
from sweep.scene.read import scene_from
from sweep.shop.alike import Alike, Known, alike
from sweep.shop.answer import Task, drawn
from sweep.shop.folder import profiles_in
from sweep.shop.journal import Journal, digest_of
from sweep.shop.nearest import kept
from sweep.shop.profile import Profile, Unread
from sweep.shop.rack import Rack, jobs_of, text_of, with_blades
from sweep.shop.row import Answer, without_figures
from sweep.shop.screen import FITTED, screened, shapes_of
from sweep.shop.work import Opened, worked_out

LOT = 256
"""Profiles that are read and screened together."""

SEVERAL = "a whole moulding takes several set-ups: ask for them with --full"


@dataclass
class Catalogue:
    """Everything that was answered of a folder; answers are read from the disk as they are asked for.

    Parameters
    ----------
    journal : Journal
    digests : dict of str to str
        By the profiles' names, what each is kept under.
    alike : tuple of Alike
        What lies within tolerance of one another.
    fresh : int
        How many were worked out now, and not kept by an earlier run.
    """

    journal: Journal
    digests: dict[str, str] = field(default_factory=dict)
    alike: tuple[Alike, ...] = ()
    fresh: int = 0

    def answers(self) -> Iterator[Answer]:
        """Yield every answer, by the names of the profiles."""
        for name in sorted(self.digests):
            yield self.journal.answer(self.digests[name])

    def lines(self) -> Iterator[bytes]:
        """Yield the lines by which a later run knows what was worked out."""
        for name in sorted(self.digests):
            yield self.journal.line(self.digests[name])


def catalogue_of(
    folder: Path, rack: Rack, opened: Opened, journal: Journal, full: bool = False, told: Callable[[int], object] = id
) -> Catalogue:
    """Answer for every profile of a folder.

    Parameters
    ----------
    folder : Path
    rack : Rack
    opened : function
        Gives the executor, see `work.worked_out`.
    journal : Journal
        What it holds is not worked out again; every answer is kept there as it comes.
    full : bool
        Whether every blade is fitted, planned and judged, and whole mouldings are worked out.
    told : function
        Called with how many are answered.

    Raises
    ------
    SceneError
        When the folder cannot be read, or a cluster is gone.
    """
    found = Catalogue(journal)
    known: list[Known] = []

    def tasks() -> Iterator[Task]:
        reading = profiles_in(folder)
        while lot := list(islice(reading, LOT)):
            known.extend(_known(one) for one in lot if isinstance(one, Profile))
            for task, answer in asked_of(lot, rack, full):
                digest = found.digests[task.profile] = digest_of(task)
                told(len(found.digests))
                if digest in journal:
                    continue
                found.fresh += 1
                if answer is None:
                    yield task
                else:
                    journal.add(digest, answer)

    for answer in worked_out(tasks(), opened):
        journal.add(found.digests[answer.profile], answer)
    found.alike = alike(known)
    return found


def _known(one: Profile) -> Known:
    return Known(one.name, kept(one.line), None if one.made is None else kept(one.made), one.tolerance)


def asked_of(lot: list[Profile | Unread], rack: Rack, full: bool) -> Iterator[tuple[Task, Answer | None]]:
    """Yield what is asked of each of a lot, and its answer where there is one without working it out."""
    jobs = {one.name: jobs_of(one, rack) for one in lot if isinstance(one, Profile)}
    screen = not full and len(rack.blades) > FITTED
    chosen = _screened([one for one in lot if isinstance(one, Profile)], jobs, rack) if screen else {}
    for one in lot:
        if isinstance(one, Unread):
            yield Task(one.name, (one.reason,)), without_figures(one.name, one.reason)
            continue
        texts = [
            text_of(with_blades(job, chosen[one.name, saw]) if (one.name, saw) in chosen else job)
            for saw, job in enumerate(jobs[one.name])
        ]
        yield Task(one.name, tuple(texts), full), _several(one) if one.whole and not full else None


def _several(one: Profile) -> Answer:
    """Return the answer for a whole moulding that was not asked for in full: drawn in stock that just holds it."""
    size = np.ptp(one.line, axis=0).tolist()
    alone = without_figures(one.name, SEVERAL, True, one.inches)
    return replace(alone, wanted=drawn(one.line), stock_mm=(size[0], size[1]))


def _screened(
    profiles: list[Profile], jobs: dict[str, tuple[Tables, ...]], rack: Rack
) -> dict[tuple[str, int], list[int]]:
    """Return the first blades for each profile that is one cove, on each saw, by their places, in order.

    A plain cove is left out: there a closed form says at once which blade can cut it.
    """
    groups: dict[tuple[float, float], list[tuple[Profile, int, float]]] = {}
    for one in profiles:
        for saw, job in enumerate(jobs[one.name]):
            if one.whole or job["target"].get("shape") == "cove":
                continue
            with suppress(SceneError):  # whoever works it out will say the same
                scene = scene_from(with_blades(job, [0]))
                most = min(scene.saw.max_height or math.inf, scene.stock.thickness - scene.limits.wood_above)
                groups.setdefault(scene.saw.tilts, []).append((one, saw, most))
    chosen: dict[tuple[str, int], list[int]] = {}
    for tilts, group in groups.items():
        shapes = shapes_of([one.line for one, _, _ in group], [most for _, _, most in group])
        order = np.argsort(screened(rack.tools, shapes, tilts), axis=1, kind="stable")[:, :FITTED]
        chosen |= {(one.name, saw): row for (one, saw, _), row in zip(group, order.tolist(), strict=True)}
    return chosen
