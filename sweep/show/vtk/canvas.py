"""An off-screen window, its light, and the things in it."""

from __future__ import annotations

import math

import numpy as np
import pyvista as pv
from numpy.typing import ArrayLike, NDArray
from vtkmodules.vtkCommonDataModel import vtkPlane

from sweep.show.draw.colours import RGB
from sweep.show.solids.camera import View

LINE: RGB = (0.18, 0.15, 0.12)
"""Colour of ruled edges."""

_LIGHTS = (((0.4, 0.9, 0.7), 0.60), ((-0.5, 0.1, 1.0), 0.62))
"""Where light comes from, to the right and up of the camera and behind it, and how strong it is."""

_HAIR = 0.0015
"""Share of the way to the camera by which lines stand off the faces they lie on."""


def open_canvas(size: tuple[int, int], views: int = 1, off_screen: bool = True) -> pv.Plotter:
    """Return a blank window of some pixels with one renderer a view, from the top; close it when done."""
    plotter = pv.Plotter(shape=(views, 1), off_screen=off_screen, window_size=list(size), lighting="none", border=False)
    plotter.background_color = "white"
    plotter.disable_anti_aliasing()  # pictures are drawn larger and reduced: on a processor that is quicker
    for renderer in plotter.renderers:
        renderer.background_color = "white"
        renderer.SetUseOIT(False)  # what is seen through is added from the inside out instead
        for towards, strength in _LIGHTS:
            light = pv.Light(position=towards, focal_point=(0, 0, 0), intensity=strength, light_type="camera light")
            light.positional = False
            renderer.add_light(light)
    return plotter


def look(renderer: pv.Renderer, view: View) -> None:
    """Set a renderer's camera."""
    camera = renderer.camera
    camera.position = view.position
    camera.focal_point = tuple(np.add(view.position, np.multiply(view.forward, 100.0)))
    camera.up = view.up
    camera.view_angle = math.degrees(2 * math.atan(view.half))
    camera.SetWindowCenter(view.shift[0] / (view.half * view.aspect), view.shift[1] / view.half)
    renderer.camera_set = True


def triangles(points: NDArray[np.float64], corners: NDArray[np.int64]) -> pv.PolyData:
    """Return points (n, 3), mm, and triangles of them (m, 3) as the rendering library holds them."""
    return pv.PolyData(points, np.column_stack([np.full(len(corners), 3), corners]).ravel())


def add_surface(renderer: pv.Renderer, drawn: pv.PolyData, texture: pv.Texture | None = None) -> pv.Actor:
    """Add a surface coloured by its own `rgb`, with or without grain."""
    mapper = pv.DataSetMapper(drawn)
    mapper.SetColorModeToDirectScalars()
    mapper.ScalarVisibilityOn()
    mapper.SetScalarModeToUsePointData()
    actor = pv.Actor(mapper=mapper)
    actor.prop.ambient, actor.prop.diffuse, actor.prop.specular = 0.22, 0.86, 0.04
    if texture is not None:
        actor.texture = texture
    renderer.add_actor(actor, reset_camera=False, render=False)
    return actor


def add_plain(renderer: pv.Renderer, drawn: pv.PolyData, colour: RGB, gloss: float = 0.05) -> pv.Actor:
    """Add a surface of one colour."""
    actor = pv.Actor(mapper=pv.DataSetMapper(drawn))
    actor.mapper.ScalarVisibilityOff()
    actor.prop.color = colour
    actor.prop.ambient, actor.prop.diffuse, actor.prop.specular, actor.prop.specular_power = 0.25, 0.8, gloss, 30
    renderer.add_actor(actor, reset_camera=False, render=False)
    return actor


def add_lines(renderer: pv.Renderer, drawn: pv.PolyData, width: float) -> pv.Actor:
    """Add ruled lines, a width in pixels; pose them with `nearer`, so that they win over the faces they lie on."""
    actor = add_plain(renderer, drawn, LINE)
    actor.prop.lighting = False
    actor.prop.line_width = width
    return actor


def hide_below(actor: pv.Actor, z: float) -> None:
    """Leave out what lies below a height, mm."""
    cutting = vtkPlane()
    cutting.SetOrigin(0.0, 0.0, z)
    cutting.SetNormal(0.0, 0.0, 1.0)
    actor.mapper.AddClippingPlane(cutting)


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


def shot(plotter: pv.Plotter) -> NDArray[np.uint8]:
    """Return the picture, (rows, columns, 3)."""
    for renderer in plotter.renderers:
        renderer.ResetCameraClippingRange()
    plotter.render_window.Render()
    return np.asarray(plotter.screenshot(return_img=True))
