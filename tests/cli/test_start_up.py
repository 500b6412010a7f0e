"""What is slow to load is loaded by the jobs that need it alone, and not before they do."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from terminal import SCENES

CORNICE = SCENES / "corner-cupboard-cornice.toml"
ASKED = """
import json, sys
from sweep.cli import main
told = []
for words in json.loads(sys.argv[1]):
    try: told.append(main(words, standalone_mode=False) or 0)
    except SystemExit as end: told.append(end.code)
sys.stderr.write(json.dumps([told, sorted(sys.modules)]))
"""


def loaded_by(*commands: list[str], folder: Path) -> tuple[list[int], set[str]]:
    """Return the status of each command and every module that they have loaded in the end."""
    words = [sys.executable, "-c", ASKED, json.dumps(commands)]
    run = subprocess.run(words, capture_output=True, text=True, cwd=folder, check=True)
    told, modules = json.loads(run.stderr.splitlines()[-1])
    return told, set(modules)


def families(modules: set[str]) -> set[str]:
    """Return the libraries that modules belong to."""
    return {name.split(".")[0] for name in modules}


def test_help_loads_nothing_heavy(tmp_path):
    """It answers at once because numpy, the kernel and pyvista stay on the shelf."""
    told, modules = loaded_by(["--help"], folder=tmp_path)

    assert told == [0]
    assert not families(modules) & {"numpy", "manifold3d", "pyvista", "shapely", "scipy", "pydantic", "rich"}


def test_a_wrong_scene_is_refused_before_what_cuts_or_draws_is_loaded(tmp_path):
    """The sentence is all that comes of it, of a wrong key and of a wrong value."""
    for name, old_and_new in (("key.toml", ("length =", "lenght =")), ("value.toml", ('"92 mm"', '"92"'))):
        (tmp_path / name).write_text(CORNICE.read_text(encoding="utf-8").replace(*old_and_new))
    told, modules = loaded_by(["run", "key.toml"], ["run", "value.toml"], folder=tmp_path)

    assert told == [2, 2]
    assert not families(modules) & {"manifold3d", "matplotlib", "PIL", "pikepdf", "pyvista", "scipy", "typst", "vtk"}
    assert not any(name.startswith(("sweep.show.page", "sweep.show.sheet", "sweep.show.files")) for name in modules)


def test_a_scene_with_its_set_up_and_passes_loads_no_optimiser_and_without_pictures_nothing_that_draws(tmp_path):
    """The cornice is complete as it is written."""
    told, modules = loaded_by(["run", str(CORNICE), "--no-pictures"], folder=tmp_path)

    assert told == [0]
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
