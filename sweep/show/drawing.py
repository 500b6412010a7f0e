"""Whether this machine can draw, found out without risk.

Where the system's OpenGL libraries are missing, the rendering library does not raise: it ends the
process. So a small window is tried first in a process of its own.
"""

from __future__ import annotations

import os
import subprocess
import sys

from sweep.errors import PictureError

_PROBE = """
import vtkmodules.vtkRenderingOpenGL2, vtkmodules.vtkRenderingCore as core
window = core.vtkRenderWindow()
window.SetOffScreenRendering(1)
window.SetSize(8, 8)
window.Render()
print("drawn")
"""


def require_drawing() -> None:
    """Make ready to draw off screen.

    Raises
    ------
    PictureError
        In one sentence that names the packages that are missing.
    """
    if sys.platform.startswith("linux") and not os.environ.get("DISPLAY"):
        os.environ.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")
    try:
        probe = subprocess.run([sys.executable, "-c", _PROBE], capture_output=True, text=True, timeout=60)
        drawn = probe.returncode == 0 and "drawn" in probe.stdout
    except (OSError, subprocess.TimeoutExpired):
        drawn = False
    if not drawn:
        raise PictureError(
            "No solids were drawn: this machine lacks the system's OpenGL libraries; on Debian or Ubuntu, "
            "'apt-get install libegl1 libgl1-mesa-dri' brings them."
        )
