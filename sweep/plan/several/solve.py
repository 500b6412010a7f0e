"""A scene that wants a whole moulding, with the set-ups that were found for it."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.plan.several.as_setups import as_setups
from sweep.plan.several.choose import BestOfCount, Curve, curve_of
from sweep.plan.several.fences import with_fences
from sweep.plan.several.wanted import Wanted, wanted_of
from sweep.scene.model import Scene
from sweep.scene.setups import SetupOfSeveral


@dataclass(frozen=True)
class Solved:
    """A scene with set-ups, and how they came about.

    Parameters
    ----------
    scene : Scene
        With `setups`; their passes are left to be planned.
    curve : Curve
    """

    scene: Scene
    curve: Curve


def solve_setups(scene: Scene) -> Solved:
    """Find the set-ups for a scene that lacks them.

    Raises
    ------
    SceneError
        When no set-up takes anything.
    """
    curve = curve_of(scene)
    return Solved(scene.with_setups(setups_of(curve.choice, scene, wanted_of(scene))), curve)


def setups_of(row: BestOfCount, scene: Scene, wanted: Wanted) -> tuple[SetupOfSeveral, ...]:
    """Return one of the choices of a curve as the set-ups of the scene, fences on the better side."""
    return with_fences(scene.with_setups(as_setups(row.ordered, scene, wanted)))
