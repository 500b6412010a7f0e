"""A scene with nothing left out: the set-up found and the passes planned where the user wrote none."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.errors import SceneError
from sweep.plan.heights import PassPlan, plan_passes
from sweep.plan.setup import Candidate, find_setups, setup_of
from sweep.scene.model import Scene, SetUpScene, WholeScene


@dataclass(frozen=True)
class Completed:
    """A scene that can be cut, and how it came about.

    Parameters
    ----------
    scene : WholeScene
    candidates : tuple of Candidate
        Every blade at its best, the chosen one first; empty when the user wrote the set-up.
    plan : PassPlan or None
        None when the user wrote the passes.
    """

    scene: WholeScene
    candidates: tuple[Candidate, ...]
    plan: PassPlan | None


def complete(scene: Scene) -> Completed:
    """Work out what a scene leaves out.

    Raises
    ------
    SceneError
        When no blade can cut the target, or no plan keeps within the limits.
    """
    if scene.setups:
        raise SceneError("setups", "several set-ups are read, but not cut yet", "write one [setup] for now")
    candidates: tuple[Candidate, ...] = ()
    if not isinstance(scene, SetUpScene):
        if scene.wanted.whole:
            raise SceneError("setup", "it is missing", "a whole moulding is not worked out yet: write [setup]")
        candidates = find_setups(scene)
        scene = scene.set_up(setup_of(scene, candidates[0]))
    if isinstance(scene, WholeScene):
        return Completed(scene, candidates, None)
    plan = plan_passes(scene)
    return Completed(scene.with_passes(plan.passes), candidates, plan)
