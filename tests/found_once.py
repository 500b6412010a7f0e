"""What is worked out once for all tests and workers that only begin with the answer.

The set-up for a cove, its passes, set-ups for a moulding, care, the phone's table of corrections, and the stock at
every moment of a pass. Tests of these call them where they are, in `plan/setup`, `heights`, `choose`, `accuracy` and
`correct/table`, or for scenes of their own; what a page shows of the last is held to stages cut anew.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path

import pytest
from pydantic import BaseModel

try:
    import fcntl
except ImportError:  # not a POSIX system
    fcntl = None

ASKED = (
    ("sweep.plan.complete", "find_setups"),
    ("sweep.plan.complete", "plan_passes"),
    ("sweep.live.proposal", "plan_passes"),
    ("sweep.plan.several.solve", "curve_of"),
    ("sweep.plan.several.solve", "with_fences"),
    ("sweep.show.say.report", "care_needed"),
    ("sweep.show.page.at_saw", "correction_table"),
    ("sweep.show.page.model", "stretches"),
)
"""The modules that everybody has them from, and the name by which each calls its own."""


@contextmanager
def found_once(folder: Path) -> Iterator[None]:
    """Keep every answer in a folder, by all that the scene holds but its title, which none goes by."""
    with pytest.MonkeyPatch.context() as patch:
        for module, name in ASKED:
            if module in sys.modules:  # else no test that was collected asks
                patch.setattr(f"{module}.{name}", _kept(getattr(sys.modules[module], name), folder))
        yield


def _kept(work: Callable[..., object], folder: Path) -> Callable[..., object]:
    def answer(scene: BaseModel, *more: object) -> object:
        asked = repr((told(scene.model_copy(update={"title": ""})), told(more)))
        kept = folder / f"{work.__name__}-{hashlib.sha256(asked.encode()).hexdigest()}"
        with alone(kept.with_suffix(".asked")):
            if kept.exists():
                return pickle.loads(kept.read_bytes())
            found = work(scene, *more)
            fresh = kept.with_suffix(f".{os.getpid()}")
            fresh.write_bytes(pickle.dumps(found))
            fresh.replace(kept)
            return found

    return answer


def told(value: object) -> object:
    """Return all that a value holds, without what was worked out of it, as what Python writes the same for equals."""
    if isinstance(value, BaseModel):
        held = {name: getattr(value, name) for name in type(value).model_fields}
        return type(value).__name__, told(held), told(value.__pydantic_private__)
    if is_dataclass(value):
        return type(value).__name__, [told(getattr(value, one.name)) for one in fields(value)]
    if isinstance(value, dict):
        return sorted((name, told(one)) for name, one in value.items())
    if isinstance(value, tuple | list):
        return [told(one) for one in value]
    assert value is None or isinstance(value, str | float | int | Enum), type(value)
    return value


@contextmanager
def alone(mark: Path) -> Iterator[None]:
    """Let other workers who ask the same wait for the answer."""
    with mark.open("w") as held:
        if fcntl:
            fcntl.flock(held, fcntl.LOCK_EX)
        yield
