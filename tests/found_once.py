"""The set-ups of a whole moulding, searched for once for all tests and workers that only begin with the answer."""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sweep.scene.model import Scene

SEARCH = "sweep.plan.several.solve"
"""Where whoever wants set-ups has them from; tests of the search itself call `curve_of` of `choose`."""


@contextmanager
def found_once(folder: Path) -> Iterator[None]:
    """Keep every answer in a folder, by what the scene says, and give it to whoever asks the same again."""
    if SEARCH not in sys.modules:  # no test that was collected asks
        yield
        return
    real = sys.modules[SEARCH].curve_of

    def once(scene: Scene) -> object:
        kept = folder / f"curve-{hashlib.sha256(repr(scene).encode()).hexdigest()}"
        if kept.exists():
            return pickle.loads(kept.read_bytes())
        curve = real(scene)
        fresh = kept.with_suffix(f".{os.getpid()}")
        fresh.write_bytes(pickle.dumps(curve))
        fresh.replace(kept)
        return curve

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(f"{SEARCH}.curve_of", once)
        yield
