"""A moulding drawn in space by the program itself, end on, and traced: within 0.15 mm of the exact section."""

from __future__ import annotations

import math

import numpy as np
import shapely
from PIL import Image
from reports import report_of
from scipy.ndimage import gaussian_filter

from sweep.shape.outline import curves, settings
from sweep.show.solids.camera import View
from sweep.show.solids.light import WOOD_IN_LIGHT
from sweep.show.solids.stock import grain_places, size_of
from sweep.show.vtk.canvas import Canvas, light_in, look
from sweep.show.vtk.grain import grain_texture
from sweep.show.vtk.surface import DrawnSurface
from sweep.trace.face import trace
from sweep.trace.outline import outline_of
from sweep.trace.reader import Seen
from sweep.trace.scale import read_scale

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


def exact_section(scene):
    """The outline of the stock's section with its cove, the curve in closed form, mm."""
    setup, half, top = scene.setup, scene.stock.width / 2, scene.stock.thickness
    row = settings(setup.fence_angle, setup.blade_tilt, setup.blade_height, setup.offset)
    cove = curves(scene.tool, row, 24)[0]
    return shapely.LinearRing([(-half, 0), *cove, (half, 0), (half, top), (-half, top)])


def test_a_moulding_drawn_in_space_is_traced_to_within_0_15_mm():
    """The cornice, out of focus and with noise, against its own curve as the section has it."""
    report = report_of("corner-cupboard-cornice")
    picture = end_on(report.job.finished.mesh, report.scene.stock)
    picture = gaussian_filter(picture, (0.6, 0.6, 0)) + 0.02 * np.random.default_rng(1).standard_normal(picture.shape)
    found = outline_of(np.clip(picture, 0, 1).astype(np.float32))
    seen = Seen(found.outline, picture.shape[1::-1], found.roughness, found.soft, 1, b"")
    traced = trace(seen, read_scale("100 mm = 800 px", None), None, "points")
    y = (traced.pixels[:, 0] + 0.5) / PIXELS_PER_MM - WIDE / 2
    z = HIGH / 2 + report.scene.stock.thickness / 2 - (traced.pixels[:, 1] + 0.5) / PIXELS_PER_MM
    away = shapely.distance(exact_section(report.scene), shapely.points(y, z))

    assert away.max() < 0.15
    assert math.sqrt((away**2).mean()) < 1.3 * traced.accuracy
