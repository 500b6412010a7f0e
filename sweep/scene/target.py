"""The profile that the maker wants."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Detail, Exact, FileName, Number, Place
from sweep.scene.keys import Section
from sweep.scene.written import key

MOST_POINTS = 10_000
"""The most points that a profile has: one every 0.01 mm of a cove 100 mm wide."""


class Target(Section):
    """What the maker wants."""

    shape: Literal["cove", "arc", "ellipse", "points"] = key(
        "a cove is two edges and a depth, the curve between being the blade's own; leave the whole of `[target]` out "
        "and nothing is compared"
    )
    width: Detail | None = key("width from edge to edge; required unless there are points", None)
    depth: Detail | None = key("depth from the face on the table; required unless there are points", None)
    across: Place = key("moves the target off the centreline", "0 mm")
    points: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=MOST_POINTS)] | None = key(
        "`[[y, z], ...]` in mm from one edge to the other", None
    )
    file: FileName | None = key(
        "a file beside the scene, instead of points: CSV of them, or a DXF or SVG drawing, whose longest line is "
        "placed with its lowest point on the face and its ends either side of the centreline",
        None,
    )
    whole: Annotated[bool, Field(strict=True)] = key(
        "whether the points are the whole moulding in the stock's section: a line from one edge of the stock to the "
        "other, or a closed outline; see [a whole moulding](#a-whole-moulding)",
        False,
    )
    tolerance: Exact = key("how far the cove may be from it", "0.25 mm", inches="0.01 in", why="our choice")

    @property
    def size(self) -> tuple[float, float]:
        """Width and depth, mm; of points, what they span."""
        if self.points is not None:
            return self.points[-1][0] - self.points[0][0], max(z for _, z in self.points)
        assert self.width is not None and self.depth is not None  # `_whole` refuses it
        return self.width, self.depth

    @model_validator(mode="after")
    def _whole(self) -> Target:
        measured = self.shape == "points"
        for name in ("width", "depth"):
            if not measured and getattr(self, name) is None:
                raise SceneError(
                    f"target.{name}",
                    "it is missing",
                    f'a target of shape "{self.shape}" needs it, for example {name} = "16 mm"',
                )
            if measured and getattr(self, name) is not None:
                raise SceneError(f"target.{name}", "the points already say it", "leave it out")
        for name in ("points", "file"):
            if not measured and getattr(self, name) is not None:
                raise SceneError(
                    f"target.{name}",
                    f'a target of shape "{self.shape}" has none',
                    'leave it out, or write shape = "points"',
                )
        if self.whole and not measured:
            raise SceneError(
                "target.whole",
                f'a target of shape "{self.shape}" is one cove',
                'leave it out, or write shape = "points"',
            )
        if measured and self.points is None:
            raise SceneError(
                "target.points", "they are missing", 'write points = [[y, z], ...] in mm, or file = "profile.csv"'
            )
        if self.points is not None:
            if len(self.points) < 3:
                raise SceneError(
                    "target.points",
                    "fewer than three points make no profile",
                    "write at least three, from one edge to the other",
                )
            if not self.whole and any(b[0] < a[0] for a, b in zip(self.points, self.points[1:], strict=False)):
                raise SceneError(
                    "target.points",
                    "y falls from one point to the next",
                    "write them in order from one edge to the other",
                )
            if not self.whole and any(z < 0 for _, z in self.points):
                raise SceneError(
                    "target.points",
                    "a point lies below the face of the stock (z less than 0)",
                    "measure z upwards from the face that rides on the table",
                )
        if self.shape == "arc" and self.size[1] > self.size[0] / 2:
            raise SceneError(
                "target.depth", "an arc is at most half as deep as it is wide", "write a smaller depth, or a wider arc"
            )
        return self
