"""Mesh files written by a process of its own, which loads the mesh library while the run goes on."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from sweep.apart import give_back
from sweep.shape.mesh import Mesh

_LEFT_OUT = ("scipy", "shapely", "PIL", "charset_normalizer")
"""What the mesh library takes where it finds it, for all but writing: most of its loading and of its memory."""


def load() -> None:
    """Load the mesh library without what writing does not need; what else this process loads may have it."""
    sys.modules.update(dict.fromkeys(_LEFT_OUT))  # type: ignore[arg-type]  # None: it does without what is not there
    import sweep.show.files.meshes  # noqa: F401, to be there when meshes come

    for name in _LEFT_OUT:
        del sys.modules[name]  # the sheet comes next: the library of its pages wants PIL, in its older versions


def write(folder: Path, files: Mapping[str, Sequence[Mesh]]) -> None:
    """Write mesh files by their names."""
    from sweep.show.files.meshes import write_meshes

    write_meshes(folder, files)
    give_back()  # the pages come next
