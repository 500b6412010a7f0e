"""A scene with nothing left out: the set-up found and the passes planned where the user wrote none."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.plan.heights import PassPlan, plan_passes
from sweep.plan.setup import Candidate, find_setups, setup_of
from sweep.scene.model import Scene


@dataclass(frozen=True)
class Completed:
    """A scene that can be cut, and how it came about.

    Parameters
    ----------
    scene : Scene
        With a set-up, one blade, and passes.
    candidates : tuple of Candidate
        Every blade at its best, the chosen one first; empty when the user wrote the set-up.
    plan : PassPlan or None
        None when the user wrote the passes.
    """

    scene: Scene
    candidates: tuple[Candidate, ...]
    plan: PassPlan | None


def complete(scene: Scene) -> Completed:
    """Work out what a scene leaves out.

    Raises
    ------
    SceneError
        When no blade can cut the target, or no plan keeps within the limits.
    """
    candidates: tuple[Candidate, ...] = ()
    if scene.setup is None:
        candidates = find_setups(scene)
        scene = scene.model_copy(update={"setup": setup_of(scene, candidates[0])}).with_blade_chosen()
    plan = None
    if scene.passes is None:
        plan = plan_passes(scene)
        scene = scene.model_copy(update={"passes": plan.passes}).with_blade_chosen()
    return Completed(scene, candidates, plan)
