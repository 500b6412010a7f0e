"""What the colours of the picture say: deviation by the tolerance, shavings by their limit."""

from __future__ import annotations

from typing import Any

import numpy as np

from sweep.show.draw.colours import chip_colours, deviation_colours, hexed
from sweep.show.say.report import Report

SHADES = 33
"""Colours that a legend is drawn from."""


def legends_of(report: Report) -> dict[str, Any]:
    """Return the legends, ready for JSON: shades from the least value to the most, mm, and words below them.

    What is beyond an end has the end's colour, and the words say so.
    """
    units, limit = report.units, report.scene.limits.chip_thickness
    legends = {
        "chip": {
            "shades": [hexed(colour) for colour in chip_colours(np.linspace(0, 1, SHADES))],
            "least": 0.0,
            "most": limit,
            "words": [units.fine(0.0), "thickest shaving", f"the limit, {units.fine(limit)}, or more"],
        }
    }
    if report.profile is not None:
        most = report.profile.tolerance
        said = units.fine(most)
        legends["deviation"] = {
            "shades": [hexed(colour) for colour in deviation_colours(np.linspace(-1, 1, SHADES))],
            "least": -most,
            "most": most,
            "words": [f"too deep by the tolerance, {said}, or more", "on the line", f"{said} of wood left, or more"],
        }
    return legends
