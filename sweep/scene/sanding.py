"""The sanding block: the paper that it carries, and its size."""

from __future__ import annotations

from sweep.scene.fields import Paper, Size
from sweep.scene.keys import Section


class Sanding(Section):
    """A block for the finished cove; `back` is how far it stands out of the cove, to be held by."""

    paper: Paper = 0.4
    block_length: Size = 115.0
    back: Size = 20.0
