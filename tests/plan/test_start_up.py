"""What is slow to load is loaded by the jobs that need it alone."""

from __future__ import annotations

import subprocess
import sys

ASKED = """
import sys
import sweep.plan.accuracy, sweep.plan.complete, sweep.plan.cutlist
from sweep.scene.read import read_scene
sweep.plan.complete.complete(read_scene(sys.argv[1]))
print([name for name in sys.modules if name.startswith("scipy.optimize")])
"""


def test_a_scene_with_its_set_up_and_passes_loads_no_optimiser(pytestconfig):
    """The cornice is complete as it is written."""
    scene = pytestconfig.rootpath / "scenes" / "corner-cupboard-cornice.toml"
    run = subprocess.run([sys.executable, "-c", ASKED, scene], capture_output=True, text=True, check=True)

    assert run.stdout == "[]\n"
