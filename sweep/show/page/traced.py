"""The page on which a traced outline is corrected, over its picture."""

from __future__ import annotations

import base64

from sweep.show.page.page import inlined, plain_page
from sweep.show.say.traced import how_to_match, traced_sentences
from sweep.trace.face import Traced
from sweep.trace.reader import Seen
from sweep.units import Units
from sweep.words import visible


def traced_page(seen: Seen, traced: Traced, image: str, file: str, units: Units) -> str:
    """Return the page.

    Parameters
    ----------
    seen : Seen
    traced : Traced
    image, file : str
        Names of the picture and of the points to be saved.
    units : Units
    """
    data = {
        "points": traced.pixels.round(2).tolist(),
        "closed": traced.kind == "whole",
        "size": seen.size,
        "picture": base64.b64encode(seen.picture).decode("ascii"),
    }
    return plain_page(
        "trace",
        title=f"Outline in {visible(image)}",
        file=visible(file),
        sentences=traced_sentences(traced, units),
        after=how_to_match(traced, visible(file), units),
        data=inlined(data),
    )
