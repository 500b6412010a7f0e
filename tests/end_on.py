"""A job's stock drawn in space by the program itself, seen end on, and the exact section it is drawn of."""

from __future__ import annotations

import numpy as np
import shapely
from PIL import Image

from sweep.shape.outline import curves, settings
from sweep.show.solids.camera import View
from sweep.show.solids.light import WOOD_IN_LIGHT
from sweep.show.solids.stock import grain_places, size_of
from sweep.show.vtk.canvas import Canvas, light_in, look
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.surface import DrawnSurface

FINE, PIXELS_PER_MM = 4, 8
WIDE, HIGH = 120, 48
"""mm. Of the picture."""


def end_on(mesh, stock):
    """The stock as the operator sees its end, along the feed, (h, w, 3), 0 to 1, in linear light."""
    size = (WIDE * PIXELS_PER_MM * FINE, HIGH * PIXELS_PER_MM * FINE)
    canvas = Canvas(size)
    distance = 2 * stock.length
    middle = (0.0, stock.thickness / 2)
    half = HIGH / 2 / distance
    view = View((distance, *middle), (-1, 0, 0), (0, 1, 0), (0, 0, 1), half, (0.0, 0.0), WIDE / HIGH, distance, True)
    look(canvas.renderers[0], view)
    surface = DrawnSurface(canvas.renderers[0], WOOD_IN_LIGHT, grain_texture())
    corners = mesh.vertices[mesh.triangles]
    surface.put(corners, np.array([0.8, 0.62, 0.42]), places=grain_places(corners, size_of(stock)))
    surface.light(light_in(canvas.renderers[0]))
    shot = np.asarray(Image.fromarray(canvas.shot()).reduce(FINE), float) / 255
    canvas.close()
    return shot


def coded(light):
    """Linear light as a picture has it (sRGB, IEC 61966-2-1)."""
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 0.0031308) ** (1 / 2.4) - 0.055)


def away_from(section, stock, pixels):
    """How far points of the picture lie from the section, mm."""
    y = (pixels[:, 0] + 0.5) / PIXELS_PER_MM - WIDE / 2
    z = HIGH / 2 + stock.thickness / 2 - (pixels[:, 1] + 0.5) / PIXELS_PER_MM
    return shapely.distance(section, shapely.points(y, z))


def exact_section(scene):
    """The outline of the stock's section with its cove, the curve in closed form, mm."""
    setup, half, top = scene.setup, scene.stock.width / 2, scene.stock.thickness
    row = settings(setup.fence_angle, setup.blade_tilt, setup.blade_height, setup.offset)
    cove = curves(scene.tool, row, 24)[0]
    return shapely.LinearRing([(-half, 0), *cove, (half, 0), (half, top), (-half, top)])
