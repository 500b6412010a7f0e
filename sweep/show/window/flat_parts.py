"""What lies flat in the window: words, sliders, and the row of passes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pyvista as pv
from numpy.typing import NDArray
from vtkmodules.vtkCommonCore import vtkCommand
from vtkmodules.vtkInteractionWidgets import vtkSliderRepresentation2D, vtkSliderWidget
from vtkmodules.vtkRenderingCore import vtkActor2D, vtkCoordinate, vtkPolyDataMapper2D

from sweep.show.draw.colours import ARROW, INK, RGB, STEEL, TIP
from sweep.show.draw.fonts import font_file

_TO_COME: RGB = (0.89, 0.89, 0.89)
"""The colour of a pass still to come, in the row of theirs."""


def drawn(slider: vtkSliderWidget) -> vtkSliderRepresentation2D:
    """Return how a slider is drawn and where it stands."""
    drawn = slider.GetRepresentation()
    assert isinstance(drawn, vtkSliderRepresentation2D)
    return drawn


def add_slider(
    plotter: pv.Plotter,
    moved: Callable[[float], None],
    limits: tuple[float, float],
    ends: tuple[float, float],
    foot: float,
) -> vtkSliderWidget:
    """Add a slider to the plotter's view that reaches from one share of its width to another.

    Parameters
    ----------
    plotter : pv.Plotter
    moved : function of the value
    limits : (float, float)
    ends : (float, float)
        Shares of the width.
    foot : float, pixels
        Height of the view.
    """
    slider: vtkSliderWidget = plotter.add_slider_widget(  # its types lose that it is a method
        None,  # type: ignore[arg-type]
        limits,
        color=STEEL,
    )
    look = drawn(slider)
    for end, place in zip(ends, (look.GetPoint1Coordinate(), look.GetPoint2Coordinate()), strict=True):
        place.SetCoordinateSystemToNormalizedViewport()
        place.SetValue(end, 72 / foot)
    look.ShowSliderLabelOff()
    look.GetSliderProperty().SetColor(TIP)
    look.GetSelectedProperty().SetColor(ARROW)
    look.SetSliderLength(0.012)  # of the window's width; heights are shares of the foot's
    look.SetSliderWidth(20 / foot)
    look.SetTubeWidth(4 / foot)
    look.SetEndCapLength(0)
    slider.SetAnimationModeToJump()
    slider.AddObserver(vtkCommand.InteractionEvent, lambda *_: moved(look.GetValue()))
    return slider


def word(renderer: pv.Renderer, x: float, y: float, size: int, words: str = "", bold: bool = False) -> pv.Text:
    """Write words whose foot begins at shares of a view's width and height."""
    text = pv.Text(words)
    text.prop.set_font_file(font_file(bold))
    text.prop.font_size, text.prop.color = size, INK
    text.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
    text.position = (x, y)
    renderer.AddViewProp(text)
    return text


def add_row(renderer: pv.Renderer) -> vtkPolyDataMapper2D:
    """Make room for coloured flat shapes, laid out in shares of a view's width and height."""
    place = vtkCoordinate()
    place.SetCoordinateSystemToNormalizedViewport()
    mapper = vtkPolyDataMapper2D()
    mapper.SetTransformCoordinate(place)
    mapper.SetColorModeToDirectScalars()
    actor = vtkActor2D()
    actor.SetMapper(mapper)
    renderer.AddViewProp(actor)
    return mapper


def row_of_passes(
    colours: NDArray[np.float64], number: int, ends: tuple[float, float], levels: tuple[float, float, float]
) -> pv.PolyData:
    """Return a cell for each pass, those so far in their colours, the one under way taller.

    Parameters
    ----------
    colours : (n, 3) float
        Of each pass, 0 to 1.
    number : int
        The pass under way, from 1.
    ends : (float, float)
        Of the row, shares of the view's width.
    levels : (float, float, float)
        Foot and top of a cell, and top of the one under way, shares of the view's height.
    """
    count = len(colours)
    step = (ends[1] - ends[0]) / count
    left = ends[0] + step * np.arange(count)
    top = np.full(count, levels[1])
    top[number - 1] = levels[2]
    low, right, flat = np.full(count, levels[0]), left + 0.9 * step, np.zeros(count)
    corners = np.array([[left, low, flat], [right, low, flat], [right, top, flat], [left, top, flat]])
    shown = np.where(np.arange(count)[:, None] < number, colours, _TO_COME)
    four = 4 * np.arange(count)[:, None]
    faces = np.column_stack([np.full(2 * count, 3), (four + [0, 1, 2, 0, 2, 3]).reshape(-1, 3)])
    row = pv.PolyData(corners.transpose(2, 0, 1).reshape(-1, 3), faces.ravel())
    row.point_data["rgb"] = np.round(255 * np.repeat(shown, 4, axis=0)).astype(np.uint8)
    row.set_active_scalars("rgb")
    return row
