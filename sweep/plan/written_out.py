"""A scene's text with nothing left out: the set-up found and the passes planned where the user wrote none."""

from __future__ import annotations

from sweep.plan.complete import complete, passes_to_write, plan_setups
from sweep.scene.model import Scene, WholeScene
from sweep.scene.write import completed_text, text_with_passes, text_with_setups
from sweep.units import Units


def written_out(text: str, scene: Scene, units: Units) -> str:
    """Return a scene's text with the set-ups and the passes that it leaves out, as a run works them out.

    Parameters
    ----------
    text : str
        TOML, as the user wrote it.
    scene : Scene
        What it says.
    units : Units
        In which what is worked out is written.

    Raises
    ------
    SceneError
        When no blade can cut the target, a set-up cannot be made, or no plan keeps within the limits.
    """
    if isinstance(scene, WholeScene):
        return text
    if not scene.setups and not scene.lacks_setups:
        return completed_text(text, complete(scene).scene, units)
    if scene.lacks_setups:
        from sweep.plan.several.solve import solve_setups  # only here: it brings the optimisers

        scene = solve_setups(scene).scene
        text = text_with_setups(text, scene.setups, units)
    return text_with_passes(text, passes_to_write(plan_setups(scene)), units)
