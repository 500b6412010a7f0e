"""The profile that the maker wants."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.phrase import Example, Phrase
from sweep.scene.fields import Detail, Exact, FileName, Number, Place
from sweep.scene.keys import Section, Stock
from sweep.scene.line import crosses_itself, turned_back
from sweep.scene.written import key

MOST_POINTS = 10_000
"""The most points that a profile has: one every 0.01 mm of a cove 100 mm wide."""


class Target(Section):
    """What the maker wants."""

    shape: Literal["cove", "arc", "ellipse", "points"] = key(
        "a cove is two edges and a depth, the curve between being the blade's own; leave the whole of `[target]` out "
        "and nothing is compared"
    )
    width: Detail | None = key("width from edge to edge; it or `shoulders` is required unless there are points", None)
    depth: Detail | None = key(
        "depth from the face on the table; it or `wood_above` is required unless there are points", None
    )
    shoulders: Detail | None = key(
        "as marked on the end of the stock, instead of the width: the flat on each side of the cove, the same on both",
        None,
    )
    wood_above: Detail | None = key("as marked there, instead of the depth: the wood above the cove", None)
    across: Place = key("moves the target off the centreline", "0 mm", inches="0 in")
    points: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=MOST_POINTS)] | None = key(
        "`[[y, z], ...]` in mm from the left edge to the right one, looking along the feed; they run back where the "
        "cove overhangs an edge",
        None,
    )
    file: FileName | None = key(
        "a file beside the scene, instead of points: CSV of them, or a DXF or SVG drawing, whose longest line (pieces "
        "that meet end to end are one) is placed with its lowest point on the face and its ends either side of the "
        "centreline",
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
        assert self.width is not None and self.depth is not None  # `_whole` refuses it, and `marked_on` knows them
        return self.width, self.depth

    def marked_on(self, stock: Stock) -> Target:
        """Return the target with the width and the depth that its marks leave of the stock.

        Raises
        ------
        SceneError
            When they leave none, or the shape has none such.
        """
        found = {}
        for mark, size, across, taken in (
            ("shoulders", "width", stock.width, 2 * (self.shoulders or 0.0)),
            ("wood_above", "depth", stock.thickness, self.wood_above or 0.0),
        ):
            if getattr(self, mark) is not None:
                if taken >= across:
                    raise _no_room(mark, getattr(self, mark), across)
                found[size] = across - taken
        target = self.model_copy(update=found) if found else self
        if target.shape == "arc" and target.size[1] > target.size[0] / 2:
            raise SceneError(
                f"target.{'depth' if self.wood_above is None else 'wood_above'}",
                "an arc is at most half as deep as it is wide, and this one would be {depth} deep and {width} wide",
                "write a smaller depth, or a wider arc" if self.wood_above is None else "leave more wood above it",
                depth=length(target.size[1]),
                width=length(target.size[0]),
            )
        return target

    def too_wide(self, most: float) -> SceneError:
        """Return the refusal of a width that no fence angle cuts at this depth; the widest it does is `most`, mm."""
        width, depth = self.size
        if self.shoulders is None:
            return SceneError(
                "target.width",
                "no blade of the scene cuts a cove {value} wide at {depth} deep",
                "the widest there is {limit:down}, with the fence all but square",
                value=length(width),
                depth=length(depth),
                limit=length(most),
            )
        return SceneError(
            "target.shoulders",
            "{value} on either side leaves a cove {width} wide, and no blade of the scene cuts that at {depth} deep",
            "leave at least {limit:up}",
            value=length(self.shoulders),
            width=length(width),
            depth=length(depth),
            limit=length(self.shoulders + (width - most) / 2),
        )

    def too_deep(self, most: float, reason: Phrase) -> SceneError:
        """Return the refusal of a depth that no blade cuts; the deepest there is is `most`, mm, for the reason."""
        depth = self.size[1]
        if self.wood_above is None:
            return SceneError(
                "target.depth",
                "no blade of the scene can cut {value} deep: {reason}",
                "ask for at most {limit:down}, or change what limits it",
                value=length(depth),
                reason=reason,
                limit=length(most),
            )
        return SceneError(
            "target.wood_above",
            "{value} above the cove makes it {depth} deep, and no blade of the scene can cut that: {reason}",
            "leave at least {limit:up}, or change what limits it",
            value=length(self.wood_above),
            depth=length(depth),
            reason=reason,
            limit=length(self.wood_above + depth - most),
        )

    @model_validator(mode="after")
    def _whole(self) -> Target:
        measured = self.shape == "points"
        for name, mark in (("width", "shoulders"), ("depth", "wood_above")):
            given = [key for key in (name, mark) if getattr(self, key) is not None]
            if measured and given:
                raise SceneError(f"target.{given[0]}", "the points already say it", "leave it out")
            if len(given) == 2:
                raise SceneError(f"target.{mark}", f"the {name} already says it", "leave one of the two out")
            if not measured and not given:
                raise SceneError(
                    f"target.{name}",
                    "it is missing",
                    f'a target of shape "{self.shape}" needs it, for example {name} = "{{size}}", or {mark} = '
                    '"{left}", which is left of the stock',
                    size=Example("16 mm", "5/8 in"),
                    left=Example("6 mm", "1/4 in"),
                )
        if self.shoulders is not None and self.across != 0.0:
            raise SceneError(
                "target.across",
                "the shoulders are the same on both sides, so the target is centred",
                "leave it out, or write the width instead of the shoulders",
            )
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
            if not self.whole:
                self._runs_from_edge_to_edge(self.points)
            if not self.whole and any(z < 0 for _, z in self.points):
                raise SceneError(
                    "target.points",
                    "a point lies below the face of the stock (z less than 0)",
                    "measure z upwards from the face that rides on the table",
                )
        return self

    @staticmethod
    def _runs_from_edge_to_edge(points: tuple[tuple[float, float], ...]) -> None:
        """Refuse points out of their order; where the cove overhangs an edge they may run back there."""
        if points[-1][0] <= points[0][0]:
            raise SceneError(
                "target.points",
                "the last point is not to the right of the first",
                "write them in order from the left edge to the right one, looking along the feed",
            )
        back = turned_back(points)
        if back is not None:
            raise SceneError(
                "target.points",
                "at point {number} y rises again after it has fallen",
                "write them in order from one edge to the other; only at an edge that the cove overhangs may they run "
                "back",
                number=count(back),
            )
        if crosses_itself(points):
            raise SceneError("target.points", "the profile crosses itself", "write its points in order, each once")


def _no_room(mark: str, value: float, across: float) -> SceneError:
    """Return the refusal of marks that meet, or lie beyond the stock."""
    if mark == "shoulders":
        return SceneError(
            "target.shoulders",
            "two of {value} leave no cove in stock {width} wide",
            "write less than {limit:down}",
            value=length(value),
            width=length(across),
            limit=length(across / 2),
        )
    return SceneError(
        "target.wood_above",
        "{value} above it leaves no cove in stock {limit} thick",
        "write less than that",
        value=length(value),
        limit=length(across),
    )
