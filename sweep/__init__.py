"""Simulate a cove cut by passing stock obliquely over a table-saw blade, pass by pass.

The public names below are loaded when they are first asked for, so that `import sweep` costs nothing.
"""

from importlib import import_module
from typing import Any

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
