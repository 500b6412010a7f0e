"""What is worked out once for all tests and workers that only begin with the answer.

The set-up for a cove, set-ups for a moulding, care, the phone's table of corrections, and the stock at every moment of
a pass. Tests of these call them where they are, in `plan/setup`, `choose`, `accuracy` and `correct/table`; what a page
shows of the last is held to stages cut anew.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sweep.scene.model import Scene

ASKED = {
    "sweep.plan.complete": "find_setups",
    "sweep.plan.several.solve": "curve_of",
    "sweep.show.say.report": "care_needed",
    "sweep.show.page.at_saw": "correction_table",
    "sweep.show.page.model": "stretches",
}
"""The modules that everybody has them from, and the name by which each calls its own."""


@contextmanager
def found_once(folder: Path) -> Iterator[None]:
    """Keep every answer in a folder, by all that the scene holds but its title, which none goes by."""
    with pytest.MonkeyPatch.context() as patch:
        for module, name in ASKED.items():
            if module in sys.modules:  # else no test that was collected asks
                patch.setattr(f"{module}.{name}", _kept(getattr(sys.modules[module], name), folder))
        yield


def _kept(work: Callable[..., object], folder: Path) -> Callable[..., object]:
    def answer(scene: Scene, *more: object) -> object:
        asked = pickle.dumps((scene.model_copy(update={"title": ""}), more))
        kept = folder / f"{work.__name__}-{hashlib.sha256(asked).hexdigest()}"
        if kept.exists():
            return pickle.loads(kept.read_bytes())
        found = work(scene, *more)
        fresh = kept.with_suffix(f".{os.getpid()}")
        fresh.write_bytes(pickle.dumps(found))
        fresh.replace(kept)
        return found

    return answer
