"""On which side of the stock each cove's fence stands: where it is not cut, and the blade pushes the work into it."""

from __future__ import annotations

from sweep.cut.fence import fence_on_table
from sweep.cut.load import load_of
from sweep.cut.passes import pass_sections, passes_of
from sweep.plan.complete import Planned, plan_setups
from sweep.scene.model import Scene, WholeScene
from sweep.scene.setups import CoveSetup, SetupOfSeveral
from sweep.tolerance import FINE_CHORD

ANGLES, CHORD = 256, 1e-3
"""Rim angles at which forces are summed, and mm: only their sign is asked for."""


def with_fences(scene: Scene) -> tuple[SetupOfSeveral, ...]:
    """Return the set-ups of a scene, each cove with its fence on the better side; all stay where the plan says which.

    Forces across are the same on either side, so what pulls off a fence pushes into one on the other. Of a wood of
    which no forces are known only that counts whether the blade would cut the fence.
    """
    if "fence_side" in scene.plan.model_fields_set:
        return scene.setups
    found = list(scene.setups)
    for planned in plan_setups(scene):
        one, number = planned.setting.asked.setup, planned.setting.asked.number
        if isinstance(one, CoveSetup):
            found[number - 1] = _better(one, planned)
    return tuple(found)


def _better(one: CoveSetup, planned: Planned) -> CoveSetup:
    scene = planned.setting.whole
    other = one.model_copy(update={"fence_side": "far" if one.fence_side == "near" else "near"})
    turned = scene.model_copy(update={"setup": scene.setup.model_copy(update={"fence_side": other.fence_side})})
    here = _into_the_fence(scene)
    worst = (min(here, default=0.0), min((-force for force in here), default=0.0))
    stands, stands_other = ((_is_whole(side), force) for side, force in zip((scene, turned), worst, strict=True))
    return other if stands_other > stands else one


def _is_whole(scene: WholeScene) -> bool:
    """Return whether the blade stays clear of the fence."""
    return fence_on_table(scene).clear >= -FINE_CHORD


def _into_the_fence(scene: WholeScene) -> list[float]:
    """Return the usual force into the fence in each pass, N; none where nothing is known of the wood."""
    forces, before = [], None
    for one, taken in zip(passes_of(scene), pass_sections(scene, CHORD), strict=True):
        usual = load_of(scene, one, before, taken.area, ANGLES).usual
        forces += [] if usual is None else [usual.fence]
        before = one.height
    return forces
