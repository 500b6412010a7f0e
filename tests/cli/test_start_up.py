"""What is slow to load is loaded by the jobs that need it alone, and not before they do."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from terminal import SCENES

CORNICE = SCENES / "corner-cupboard-cornice.toml"
ASKED = """
import json, sys
from sweep.cli import main
status = 0
try: main(sys.argv[1:], standalone_mode=False)
except SystemExit as end: status = end.code
sys.stderr.write(json.dumps([status, sorted(sys.modules)]))
"""


def loaded_by(*words: str | Path, folder: Path) -> tuple[int, set[str]]:
    """Return the status of a command and every module that it has loaded in the end."""
    run = subprocess.run([sys.executable, "-c", ASKED, *words], capture_output=True, text=True, cwd=folder, check=True)
    status, modules = json.loads(run.stderr.splitlines()[-1])
    return status, set(modules)


def families(modules: set[str]) -> set[str]:
    """Return the libraries that modules belong to."""
    return {name.split(".")[0] for name in modules}


def test_help_loads_nothing_heavy(tmp_path):
    """It answers at once because numpy, the kernel and pyvista stay on the shelf."""
    status, modules = loaded_by("--help", folder=tmp_path)

    assert status == 0
    assert not families(modules) & {"numpy", "manifold3d", "pyvista", "shapely", "scipy", "pydantic", "rich"}


@pytest.mark.parametrize("old_and_new", [("length =", "lenght ="), ('"92 mm"', '"92"')])
def test_a_wrong_scene_is_refused_before_what_cuts_or_draws_is_loaded(tmp_path, old_and_new):
    """The sentence is all that comes of it."""
    (tmp_path / "wrong.toml").write_text(CORNICE.read_text(encoding="utf-8").replace(*old_and_new))
    status, modules = loaded_by("run", "wrong.toml", folder=tmp_path)

    assert status == 2
    assert not families(modules) & {"manifold3d", "matplotlib", "PIL", "pikepdf", "pyvista", "scipy", "typst", "vtk"}
    assert not any(name.startswith(("sweep.show.page", "sweep.show.sheet", "sweep.show.files")) for name in modules)


def test_a_scene_with_its_set_up_and_passes_loads_no_optimiser_and_without_pictures_nothing_that_draws(tmp_path):
    """The cornice is complete as it is written."""
    status, modules = loaded_by("run", CORNICE, "--no-pictures", folder=tmp_path)

    assert status == 0
    assert not families(modules) & {
        "scipy",
        "matplotlib",
        "pyvista",
        "vtk",
        "vtkmodules",
        "trimesh",
        "typst",
        "pikepdf",
    }


def test_a_page_is_worked_out_without_what_only_proposals_and_meshes_need():
    """Each of a page's processes loads all that may be asked of it, but for what takes as long as all else."""
    loaded = "import json, sys, sweep.live.answers; print(json.dumps(sorted(sys.modules)))"
    modules = json.loads(subprocess.run([sys.executable, "-c", loaded], capture_output=True, check=True).stdout)

    assert "sweep.cut.job" in modules
    assert not families(set(modules)) & {"scipy", "trimesh", "pyvista", "vtkmodules", "typst", "pikepdf", "PIL"}
