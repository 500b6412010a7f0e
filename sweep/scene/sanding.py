"""The sanding block: the paper that it carries, and its size."""

from __future__ import annotations

from sweep.scene.fields import Paper, SawSize
from sweep.scene.keys import Section
from sweep.scene.written import key


class Sanding(Section):
    """A block for the finished cove; `back` is how far it stands out of the cove, to be held by."""

    paper: Paper = key(
        "thickness of the paper with its backing: measure ten sheets; about right for 120 grit",
        "0.4 mm",
        inches="1/64 in",
        why="from memory",
    )
    block_length: SawSize = key(
        "length of the sanding block; a quarter of a sheet", "115 mm", inches="4 1/2 in", why="common practice"
    )
    back: SawSize = key(
        "how far block and scraper stand out of the cove, to be held by", "20 mm", inches="3/4 in", why="our choice"
    )
