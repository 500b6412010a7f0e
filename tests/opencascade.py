"""The boundary-representation kernel, loaded by the first test that asks it for something, which is skipped without it.

It takes a second to load, and every worker collects the tests of it.
"""

from __future__ import annotations

from typing import Any

import pytest


class Kernel:
    """A module of the kernel's, or something in one, whose names are looked up when they are asked for."""

    def __init__(self, module: str, inside: str = "") -> None:
        self._module, self._inside = module, inside

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):  # whoever collects tests asks everything whether it is one
            raise AttributeError(name)
        reason = "the boundary-representation kernel is not installed"
        module = pytest.importorskip(f"OCP.{self._module}", reason=reason)
        found = getattr(getattr(module, self._inside) if self._inside else module, name)
        setattr(self, name, found)
        return found


gp = Kernel("gp")
algo = Kernel("BRepAlgoAPI")
build = Kernel("BRepBuilderAPI")
prim = Kernel("BRepPrimAPI")
Shape = Kernel("TopoDS", "TopoDS_Shape")
