"""The house: data goes one way, each heavy library has one door, and the public names are true."""

from __future__ import annotations

import ast
import gc
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import sweep

PACKAGE = Path(sweep.__file__).parent
FILES = sorted(PACKAGE.rglob("*.py"))
FLOORS = [
    "shown",
    "units",
    "figure",
    "phrase",
    "errors",
    "words",
    "quantity",
    "tolerance",
    "apart",
    "bounded",
    "disk",
    "shape",
    "scene",
    "trace",
    "cut",
    "check",
    "plan",
    "shop",
    "show",
    "live",
    "solve_setups",
    "matched",
    "keeping",
    "correcting",
    "tracing",
    "run_folder",
    "run_setups",
    "racked",
    "commands",
    "endings",
    "options",
    "cli",
    "__main__",
]
DOORS = {
    "manifold3d": {"shape/solid.py"},
    "trimesh": {"show/files/meshes.py"},
    "shapely": {"shape/section.py", "check/", "trace/child.py", "trace/outline.py"},
    "pyvista": {"show/window/"},
    "matplotlib": set(),
    "skimage": {"trace/outline.py"},
    "PIL": {"trace/child.py", "show/draw/", "show/pictures/", "show/vtk/"},
    "pint": set(),
    "click": {"cli.py", "options.py", "endings.py", "show/terminal/asking.py"},
    "rich": {"show/terminal/", "commands.py", "matched.py", "run_folder.py", "run_setups.py", "racked.py"},
    "pydantic": {"scene/", "live/asked.py", "live/profile.py", "live/shelf.py", "live/traced.py", "show/say/numbers/"},
    "tomlkit": {"scene/write.py", "scene/rewrite.py"},
    "jinja2": {"show/page/template.py"},
    "ezdxf": {"scene/drawing/dxf.py"},
    "svgelements": {"scene/drawing/svg.py"},
    "scipy": {"plan/", "trace/", "shop/nearest.py", "shop/among.py", "shop/around.py", "shop/held.py"},
    "vtkmodules": {"show/vtk/", "show/window/"},
    "starlette": {"live/server.py"},
    "uvicorn": {"live/server.py", "live/connection.py"},
    "pyarrow": {"show/shop/parquet.py"},
    "distributed": {"shop/cluster.py"},
    "typst": {"show/draw/paint_png.py", "show/sheet/pages.py"},
    "pikepdf": {"show/sheet/pages.py"},
    "pypdf": set(),
    "playwright": set(),
    "pypdfium2": set(),
}

ROOMS = {"say": set(), "draw": {"say"}, "solids": set(), "vtk": {"draw", "solids"}}
"""Rooms of `show` that others may use, and which of them each may use; any other room is an output and may use all."""


@cache
def trees() -> dict[Path, ast.Module]:
    """All files of the package, parsed once for all tests; a look for garbage among so much takes twice as long."""
    gc.disable()
    try:
        return {path: ast.parse(path.read_text()) for path in FILES}
    finally:
        gc.enable()


def place(path: Path) -> str:
    """A file's place in the package."""
    return path.relative_to(PACKAGE).as_posix()


def statements(block: ast.AST) -> Iterator[ast.AST]:
    """All statements of a file, in those of its blocks that hold some too."""
    for name in ("body", "orelse", "handlers", "finalbody", "cases"):
        for node in getattr(block, name, []):
            yield node
            yield from statements(node)


def imports(path: Path) -> set[str]:
    """Every module that a file imports, inside functions too."""
    names = set()
    for node in statements(trees()[path]):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add(node.module)
    return names


@cache
def all_imports() -> dict[str, set[str]]:
    """What every file imports, by its place."""
    return {place(path): imports(path) for path in FILES}


def floor(module: str) -> str:
    """The floor on which a module or a file of the package stands."""
    return module.removesuffix(".py").replace("/", ".").split(".")[0]


def test_a_file_imports_only_from_its_own_floor_and_those_above():
    """Scene -> shape -> cut -> check -> show, and never back."""
    for at, names in all_imports().items():
        if at == "__init__.py":
            continue
        own = FLOORS.index(floor(at))
        for name in names:
            if name.startswith("sweep."):
                assert FLOORS.index(name.split(".")[1]) <= own, f"{at} imports {name}"


def test_each_heavy_library_is_used_only_behind_its_door():
    """One file to change when a library changes."""
    for at, names in all_imports().items():
        for name in names:
            for library, doors in DOORS.items():
                if name.split(".")[0] == library:
                    assert any(at.startswith(door) for door in doors), f"{at} imports {name}"


def test_no_output_imports_another():
    """What several show stands in a room of its own: words, drawings, solids, and what paints solids."""
    for at, names in all_imports().items():
        if at.count("/") < 2:
            continue
        show, own, *_ = at.split("/")
        for name in names:
            if show == "show" and name.startswith("sweep.show."):
                room = name.split(".")[2]
                assert room == own or room in ROOMS.get(own, ROOMS), f"{at} imports {name}"


def test_words_reach_the_terminal_by_one_door():
    """Nothing else makes a console of the terminal library, which would read brackets in words as its markup."""
    for path in FILES:
        if "Console" not in path.read_text():
            continue
        made = [node.func for node in ast.walk(trees()[path]) if isinstance(node, ast.Call)]
        names = {getattr(one, "id", getattr(one, "attr", "")) for one in made}
        assert "Console" not in names, f"{place(path)}: take sweep.show.terminal.console"


def test_every_file_says_what_it_is_for():
    """A docstring on top."""
    assert [place(path) for path in FILES if not ast.get_docstring(trees()[path])] == []


def test_the_public_names_are_there_and_sorted():
    """`from sweep import ...` gives what is promised."""
    assert sweep.__all__ == sorted(sweep.__all__)
    for name in sweep.__all__:
        assert getattr(sweep, name).__name__ == name
    with pytest.raises(AttributeError):
        sweep.no_such_name  # noqa: B018


def test_a_checker_of_types_sees_the_same_public_names():
    """It cannot follow what is loaded when it is first asked for."""
    tree = ast.parse(Path(sweep.__file__).read_text())
    seen = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module.startswith("sweep")]

    assert sorted(alias.asname for node in seen for alias in node.names) == sweep.__all__


def test_no_file_has_grown_past_one_idea():
    """About 200 lines; at 320 a second idea has moved in."""
    assert [place(path) for path in FILES if len(path.read_text().splitlines()) > 320] == []
