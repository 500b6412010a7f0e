"""A scene with nothing left out: the set-up found and the passes planned where the user wrote none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sweep.cut.job import simulate
from sweep.cut.moulding import Made, mould
from sweep.cut.settings import Setting, cuts_asked, laid, naming, settled
from sweep.errors import SceneError
from sweep.plan.heights import PassPlan, plan_passes
from sweep.plan.setup import Candidate, find_setups, setup_of
from sweep.scene.keys import Passes
from sweep.scene.model import Scene, SetUpScene, WholeScene


@dataclass(frozen=True)
class Completed:
    """A scene of one set-up that can be cut, and how it came about.

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
        raise SceneError(
            "setups",
            "they are written, so no set-up is to be worked out, and what this command works on is one alone",
            "cut them with sweep run, or write the whole moulding in [target] and no [[setups]]",
        )
    candidates: tuple[Candidate, ...] = ()
    if not isinstance(scene, SetUpScene):
        if scene.lacks_setups:
            raise SceneError("setup", "this command takes one set-up", "write one [setup], or ask for a run")
        candidates = find_setups(scene)
        scene = scene.set_up(setup_of(scene, candidates[0]))
    if isinstance(scene, WholeScene):
        return Completed(scene, candidates, None)
    plan = plan_passes(scene)
    return Completed(scene.with_passes(plan.passes), candidates, plan)


@dataclass(frozen=True)
class Planned:
    """One setting of the saw that can be cut, of several set-ups, and how its passes came about.

    Parameters
    ----------
    setting : Setting
        Its scene is whole.
    plan : PassPlan or None
        None when the user wrote the passes.
    """

    setting: Setting
    plan: PassPlan | None

    @property
    def scene(self) -> WholeScene:
        """The setting as a scene of its own."""
        return self.setting.whole


def plan_setups(scene: Scene) -> tuple[Planned, ...]:
    """Lay the stock for every set-up of a scene in turn, and plan the passes that are not written.

    Raises
    ------
    SceneError
        When a set-up cannot be made on what those before it left, or no plan keeps within the limits.
    """
    done: list[Planned] = []
    for asked in cuts_asked(scene):
        setting, plan = laid(scene, asked, done[-1].setting if done else None), None
        if not isinstance(setting.scene, WholeScene):
            with naming(asked):
                plan = plan_passes(setting.scene)
            setting = setting.with_passes(plan.passes)
        setting = settled(setting)
        done.append(Planned(setting, plan))
    return tuple(done)


def passes_to_write(planned: Sequence[Planned]) -> dict[int, Passes]:
    """Return the passes that were planned for several set-ups, by their places in the scene, from 0.

    Only of those that are raised to a height that is written: passes of no others can be written.
    """
    return {
        one.setting.asked.number - 1: one.scene.passes
        for one in planned
        if one.plan is not None and getattr(one.setting.asked.setup, "blade_height", None) is not None
    }


def complete_and_cut(scene: Scene) -> Made:
    """Work out what a scene leaves out, of one set-up or of several, and cut it.

    Raises
    ------
    SceneError
    """
    if scene.setups:
        return mould(scene, [one.setting for one in plan_setups(scene)])
    return simulate(complete(scene).scene)
