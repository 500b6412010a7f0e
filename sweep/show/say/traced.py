"""What was found in a picture of the end grain, and how far it may be trusted."""

from __future__ import annotations

import math

from sweep.trace.askew import SKEW, narrower, shifted
from sweep.trace.face import Traced
from sweep.units import MM_PER_INCH, Units, degrees

MADE = {
    "points": "points along the face that lay on the table",
    "cove": "points of the cove, from edge to edge",
    "whole": "points round the whole section",
}
"""What was traced."""

MOST_OF_IT = math.sqrt(0.5)
"""Share of the accuracy that is half of its square."""


def traced_sentences(traced: Traced, units: Units) -> list[str]:
    """Return what was found and with what accuracy, a sentence or two a line."""
    fine, scale = units.fine, traced.scale
    lines = [
        f"{len(traced.pixels)} {MADE[traced.kind]}, on the {traced.side} of the picture; the wood is "
        f"{units.length(traced.width)} wide there.",
        f"Each point is good to {fine(traced.accuracy)} (one standard deviation), as rough as the outline is and as "
        f"finely as pixels of {fine(traced.grain)} are read{_compressed(traced, units)}.",
        f"The scale: a pixel read wrongly at either mark puts all lengths {scale.uncertainty:.2%} out, which is "
        f"{fine(scale.uncertainty * traced.width)} on that width.",
    ]
    if math.isfinite(traced.straight):
        lines.append(
            f"The flats beside the cove lie {fine(traced.straight)} (RMS) from one line; planed wood that lies further "
            "off it than points are good to is bent by the lens: keep to the middle of the picture."
        )
    if not traced.is_clear:
        lines.append(
            f"! {traced.soft:.0%} of the outline is soft, as shade beside the wood or a blurred picture leaves it, and "
            "may lie a long way off there. Look at it; light the wood evenly, on paper of another colour."
        )
    near, far = (500.0, 1500.0) if units.metric else (20 * MM_PER_INCH, 60 * MM_PER_INCH)
    lines.append(
        "Scale, lens and angle are in no accuracy of a point, nor in the intervals of sweep match. A camera held "
        f"{degrees(SKEW):.0f} deg askew draws this width "
        f"{fine(narrower(traced.width))} narrower, and from {units.written(near)} away moves one edge in and the other "
        f"out by {fine(shifted(traced.width, near))}; from {units.written(far)}, by "
        f"{fine(shifted(traced.width, far))}. Stand well back and use the zoom, or lay the end on a scanner."
    )
    return lines


def _compressed(traced: Traced, units: Units) -> str:
    """Return what a JPEG's compression has of the accuracy, and what to do where that is most of it."""
    if traced.compressed == 0.0:
        return ""
    told = f"; {units.fine(traced.compressed)} of it is what the JPEG's compression does, as compressing it again shows"
    most = traced.compressed > MOST_OF_IT * traced.accuracy
    return f"{told}: keep the picture as PNG, or as JPEG of a higher quality" if most else told


def how_to_match(traced: Traced, place: str, units: Units) -> str:
    """Return how the points are used next."""
    step = 0.01 if units.metric else 0.0254
    accuracy = units.written(math.ceil(traced.accuracy / step) * step)
    if traced.kind == "points":
        return f'Next: sweep match {place} --accuracy "{accuracy}"'
    whole = "whole = true and " if traced.kind == "whole" else ""
    return f'Next, in a scene: [target] with shape = "points", {whole}file = "{place}"'
