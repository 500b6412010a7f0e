"""Simulate a cove cut by passing stock obliquely over a table-saw blade, pass by pass.

The public names below are loaded when they are first asked for, so that `import sweep` costs nothing.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # what a checker of types sees
    from sweep.check.judge import Outcome as Outcome
    from sweep.check.judge import judge as judge
    from sweep.cut.job import Job as Job
    from sweep.cut.job import simulate as simulate
    from sweep.cut.stages import Stage as Stage
    from sweep.cut.stages import stage as stage
    from sweep.cut.stages import travel_range as travel_range
    from sweep.errors import SceneError as SceneError
    from sweep.errors import SweepError as SweepError
    from sweep.plan.complete import complete as complete
    from sweep.scene.model import Scene as Scene
    from sweep.scene.model import WholeScene as WholeScene
    from sweep.scene.read import read_scene as read_scene
    from sweep.scene.read import scene_from as scene_from

_HOME = {
    "Job": "sweep.cut.job",
    "Outcome": "sweep.check.judge",
    "Scene": "sweep.scene.model",
    "SceneError": "sweep.errors",
    "Stage": "sweep.cut.stages",
    "SweepError": "sweep.errors",
    "WholeScene": "sweep.scene.model",
    "complete": "sweep.plan.complete",
    "judge": "sweep.check.judge",
    "read_scene": "sweep.scene.read",
    "scene_from": "sweep.scene.read",
    "simulate": "sweep.cut.job",
    "stage": "sweep.cut.stages",
    "travel_range": "sweep.cut.stages",
}

__all__ = sorted(_HOME)


def __getattr__(name: str) -> Any:
    if name in _HOME:
        return getattr(import_module(_HOME[name]), name)
    raise AttributeError(f"module 'sweep' has no attribute '{name}'")


def __dir__() -> list[str]:
    return __all__
