"""Whether a window can be opened, found out without risk, and drawing without one.

Where the system's OpenGL libraries or its display are missing, the rendering library does not raise: it
ends the process. So a small window is tried first in a process of its own.
"""

from __future__ import annotations

import os
import subprocess
import sys

from sweep.errors import PictureError

_WINDOW_PROBE = """
import vtkmodules.vtkRenderingOpenGL2, vtkmodules.vtkRenderingCore as core
window = core.vtkRenderWindow()
window.SetShowWindow(False)
window.SetSize(8, 8)
window.Render()
if window.GetClassName() not in ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow"):  # those are never seen
    print("drawn")
"""


def draw_off_screen() -> None:
    """Let this process draw without a display, wherever it can draw at all."""
    if sys.platform.startswith("linux") and not os.environ.get("DISPLAY"):
        os.environ.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")


def require_window() -> None:
    """Make sure that a window can be opened.

    Raises
    ------
    PictureError
        In one sentence that says what is missing.
    """
    if sys.platform.startswith("linux") and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        raise PictureError(
            "No window was opened: there is no display here (DISPLAY is not set); sit at the machine or connect "
            "with 'ssh -X', or let 'sweep run' draw its pictures, which needs none."
        )
    if not _opened():
        raise PictureError(
            "No window was opened: the display cannot be reached, or cannot draw solids; on Debian or Ubuntu, "
            "'apt-get install libgl1 libgl1-mesa-dri' brings what is needed, under Wayland with 'xwayland'."
        )


def _opened() -> bool:
    try:
        tried = subprocess.run([sys.executable, "-c", _WINDOW_PROBE], capture_output=True, text=True, timeout=60)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return tried.returncode == 0 and "drawn" in tried.stdout
