"""A window of the rendering library, its cameras, and what is read from it.

Only what is needed of that library is loaded, and it lights nothing: surfaces come with their light (`surface`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  what draws; it is found only once it is loaded
from numpy.typing import ArrayLike, NDArray
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkUnsignedCharArray
from vtkmodules.vtkCommonMath import vtkMatrix4x4
from vtkmodules.vtkRenderingCore import vtkProp3D, vtkRenderer, vtkRenderWindow

from sweep.show.solids.camera import View
from sweep.show.solids.light import Light

_HAIR = 0.0015
"""Share of the way to the camera by which lines stand off the faces they lie on."""


@cache
def _window() -> vtkRenderWindow:
    """Return the window of this process, which is never seen: for another one all that draws would be compiled anew."""
    window = vtkRenderWindow()
    window.SetShowWindow(False)
    window.SetOffScreenRendering(True)
    window.SetMultiSamples(0)  # pictures are drawn larger and reduced: on a processor that is quicker
    window.SetSize(1, 1)
    window.Render()  # what it would show stays as small as this: its pictures are read, never seen
    return window


def close_window() -> None:
    """Let the window of this process go with all that was compiled for it, 30 MB; the next canvas opens another."""
    _window().Finalize()
    _window.cache_clear()


class Canvas:
    """A blank picture to draw on, by the window of this process: a new one takes that from the one before.

    Parameters
    ----------
    size : (int, int), pixels
    shares : sequence of float
        Of the height, for one renderer each, from the top; together 1.
    """

    def __init__(self, size: tuple[int, int], shares: Sequence[float] = (1.0,)) -> None:
        self._window = _window()
        before = self._window.GetRenderers()
        for _ in range(before.GetNumberOfItems()):
            self._window.RemoveRenderer(before.GetFirstRenderer())
        self._window.SetSize(*size)
        blank = vtkRenderer()  # wipes all at once: on a processor it takes five times as long part by part
        prepare(blank)
        self._window.AddRenderer(blank)
        self.renderers = tuple(vtkRenderer() for _ in shares)
        top = 1.0
        for renderer, share in zip(self.renderers, shares, strict=True):
            prepare(renderer)
            renderer.EraseOff()
            renderer.SetViewport(0.0, max(0.0, top - share), 1.0, top)
            top -= share
            self._window.AddRenderer(renderer)

    def shot(self) -> NDArray[np.uint8]:
        """Return the picture, (rows, columns, 3)."""
        for renderer in self.renderers:
            renderer.ResetCameraClippingRange()
        self._window.Render()
        wide, high = self._window.GetSize()
        pixels = vtkUnsignedCharArray()
        self._window.GetPixelData(0, 0, wide - 1, high - 1, 0, pixels, 0)
        picture: NDArray[np.uint8] = vtk_to_numpy(pixels).reshape(high, wide, 3)[::-1]
        return picture

    def close(self) -> None:
        """Let go of all that is drawn."""
        for renderer in self.renderers:
            renderer.RemoveAllViewProps()
        self._window.SetSize(1, 1)
        self.shot()  # only now the window lets go of what it held for a larger picture


def prepare(renderer: vtkRenderer) -> None:
    """Make a renderer white, and let it draw things in the order in which they were added."""
    renderer.SetBackground(1.0, 1.0, 1.0)
    renderer.SetUseOIT(False)  # what is seen through is added from the inside out instead
    renderer.AutomaticLightCreationOff()


def look(renderer: vtkRenderer, view: View) -> None:
    """Set a renderer's camera."""
    camera = renderer.GetActiveCamera()
    camera.SetPosition(*view.position)
    camera.SetFocalPoint(*np.add(view.position, np.multiply(view.forward, 100.0)))
    camera.SetViewUp(*view.up)
    camera.SetParallelProjection(view.flat)
    camera.SetViewAngle(math.degrees(2 * math.atan(view.half)))
    camera.SetParallelScale(view.half * view.distance)
    camera.SetWindowCenter(view.shift[0] / (view.half * view.aspect), view.shift[1] / view.half)


def light_in(renderer: vtkRenderer) -> Light:
    """Return the light of a renderer, as its camera stands."""
    camera = renderer.GetActiveCamera()
    seen = camera.GetViewTransformMatrix()
    axes = [[seen.GetElement(row, column) for column in range(3)] for row in range(3)]
    return Light.of(camera.GetPosition(), *axes)


def move(thing: vtkProp3D, motion: NDArray[np.float64]) -> None:
    """Put a thing where a motion, (4, 4), brings it from its own frame."""
    matrix = vtkMatrix4x4()
    matrix.DeepCopy(motion.ravel().tolist())
    thing.SetUserMatrix(matrix)


def nearer(position: ArrayLike) -> NDArray[np.float64]:
    """Return the motion that draws things a hair closer to a camera, at the same place in its picture, (4, 4).

    Parameters
    ----------
    position : (3,) float, mm
        Of the camera.
    """
    matrix = np.eye(4)
    matrix[:3] *= 1 - _HAIR
    matrix[:3, 3] = _HAIR * np.asarray(position)
    return matrix
