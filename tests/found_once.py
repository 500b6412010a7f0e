"""What is worked out once for all tests and workers that only begin with the answer: set-ups for a moulding, and care.

Tests of the two themselves call them where they are, in `choose` and in `accuracy`.
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

ASKED = {"sweep.plan.several.solve": "curve_of", "sweep.show.say.report": "care_needed"}
"""The modules that everybody has them from, and the name by which each calls its own."""


@contextmanager
def found_once(folder: Path) -> Iterator[None]:
    """Keep every answer in a folder, by all that the scene holds, and give it to whoever asks the same again."""
    with pytest.MonkeyPatch.context() as patch:
        for module, name in ASKED.items():
            if module in sys.modules:  # else no test that was collected asks
                patch.setattr(f"{module}.{name}", _kept(getattr(sys.modules[module], name), folder))
        yield


def _kept(work: Callable[[Scene], object], folder: Path) -> Callable[[Scene], object]:
    def answer(scene: Scene) -> object:
        kept = folder / f"{work.__name__}-{hashlib.sha256(pickle.dumps(scene)).hexdigest()}"
        if kept.exists():
            return pickle.loads(kept.read_bytes())
        found = work(scene)
        fresh = kept.with_suffix(f".{os.getpid()}")
        fresh.write_bytes(pickle.dumps(found))
        fresh.replace(kept)
        return found

    return answer
