"""The page: text as it stands, places in pixels."""

from __future__ import annotations

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from sweep.show.draw.paint_png import axes_at, write


def test_a_title_with_dollar_signs_is_drawn_as_it_stands():
    """No formula starts in it, so no unfinished one can end the run."""
    figure = Figure(figsize=(4, 2), dpi=100)
    canvas = FigureCanvasAgg(figure)
    write(figure, 40, 100, r"$\nonsense{$ at $5 a foot", 12)
    canvas.draw()

    assert figure.texts[0].get_window_extent().width > 100


def test_places_are_pixels_from_the_top_left_corner():
    """A box 100 wide and 50 high, 30 from the left and 20 from the top of a page 200 high."""
    figure = Figure(figsize=(4, 2), dpi=100)
    FigureCanvasAgg(figure)
    box = axes_at(figure, 30, 20, 100, 50).get_window_extent()

    assert (round(box.x0), round(box.y0), round(box.width), round(box.height)) == (30, 130, 100, 50)
