r"""Several set-ups over one blank, in order: one table of `[[setups]]` for each, instead of `[setup]` and `[passes]`.

Each is cut from what those before it left. Its settings are those of the saw for the stock as it lies on the table for
that set-up: y from the centreline of the stock as it lies, z from the table. How it lies is told from the planed stock:

                  top
           +--------------+                  face = "table"        as drawn
      left |              | right            face = "top"          turned over about its length
      edge |              | edge     z       face = "left edge"    stood on its left edge, its table face to the right
           +--------------+          |       face = "right edge"   stood on its right edge, its table face to the left
                 table               +--- y

(seen along the feed), and `ends = "end for end"` turns it, as it lies then, so that its other end leads. So left and
right change sides, and a blade that tilts to one side only reaches the other flank.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, ModelWrapValidatorHandler, WrapValidator, model_validator

from sweep.errors import SceneError, UnusableError
from sweep.scene.fence import Fence
from sweep.scene.fields import Detail, FenceAngle, Height, HeightOrThrough, Name, Place, Tilt
from sweep.scene.keys import Passes, Section
from sweep.scene.written import key

Face = Literal["table", "top", "left edge", "right edge"]
Ends = Literal["as it lay", "end for end"]
_DO = "what is cut; `[[setups]]`, one table for each set-up, in order; see [several set-ups](#several-set-ups)"


def _in_its_place(written: Any, read: ModelWrapValidatorHandler[Passes]) -> Passes:
    """Let a complaint about passes be told with the set-up that they are of."""
    try:
        return read(written)
    except SceneError as wrong:
        raise UnusableError(wrong.problem, wrong.remedy) from None


OwnPasses = Annotated[Passes, WrapValidator(_in_its_place)]


class AnySetup(Section):
    """What all set-ups share: how the stock lies, with which blade and fence, and which piece goes on."""

    name: Name = key("what it is called in tables and drawings", "", unless_given="what is cut, and its number")
    blade: Name = key("which of `[[blades]]`, by name; required where there is a list", "")
    face: Face = key("which face of the stock, as it was planed, lies on the table", "table")
    ends: Ends = key('"end for end": the other end leads, and left and right change sides', "as it lay")
    piece: Annotated[int, Field(strict=True, ge=1, le=100)] | None = key(
        "where it saws the stock apart, the piece that goes on, counted from the left as they lie; the rest fall off",
        None,
        unless_given="the largest",
    )
    fence: Fence | None = key(
        "`[setups.fence]`, with the keys of `[fence]`: the fence of this set-up", None, unless_given="that of the scene"
    )

    @property
    def passes_written(self) -> Passes | None:
        """The passes, where they are written."""
        return None


class CoveSetup(AnySetup):
    """A cove: the stock fed obliquely over the blade."""

    do: Literal["cove"] = key(_DO)
    fence_angle: FenceAngle = key("angle between the feed and the blade's plane")
    blade_height: Height = key("height of the last pass")
    blade_tilt: Tilt = key("a positive one leans the blade's top to the right (+x)", "0 deg")
    offset: Place = key(
        "the stock's centreline from the blade's centre, to the right looking along the feed", "0 mm", inches="0 in"
    )
    fence_side: Literal["near", "far"] = key("near: on the operator's side of the blade; far: beyond it", "near")
    passes: OwnPasses | None = key(
        "`[setups.passes]`, with the keys of `[passes]`", None, unless_given="they are planned"
    )

    @property
    def passes_written(self) -> Passes | None:
        return self.passes


class RipSetup(AnySetup):
    """A straight cut along the saw's own fence, parallel to the blade; right through, or so high as it is written."""

    do: Literal["rip"] = key(_DO)
    at: Place = key("the middle of the kerf at the table, from the centreline of the stock as it lies, to the right")
    blade_height: HeightOrThrough = key("height of the last pass", "through")
    blade_tilt: Tilt = key("a positive one leans the blade's top to the right", "0 deg")
    fence_side: Literal["left", "right"] = key("the side of the stock that runs along the fence", "right")
    keep: Literal["one", "all"] = key(
        '"all": what it saws off is laid aside and kept too, for what follows the set-ups; "one": it is an offcut',
        "one",
    )
    passes: OwnPasses | None = key(
        "`[setups.passes]`, with the keys of `[passes]`", None, unless_given="they are planned"
    )

    @property
    def passes_written(self) -> Passes | None:
        return self.passes

    @model_validator(mode="after")
    def _height_of_passes(self) -> RipSetup:
        if self.passes is not None and self.blade_height is None:
            raise UnusableError("passes are written, but no height", "write blade_height, that of the last pass")
        return self


class RabbetSetup(AnySetup):
    """A step along a lower edge of the stock as it lies: two rips, the second on that edge; what is left falls free.

    The first rip stands upright beside the step, the second one is its floor. The fence is on the other side of the
    stock both times, so that nothing is caught between it and the blade.
    """

    do: Literal["rabbet"] = key(_DO)
    edge: Literal["left", "right"] = key("the lower edge of the stock as it lies that is taken off")
    width: Detail = key("how wide it is across the stock")
    depth: Detail = key("how deep it is, up from the table")


SetupOfSeveral = Annotated[CoveSetup | RipSetup | RabbetSetup, Field(discriminator="do")]

KINDS = ("cove", "rip", "rabbet")
"""What `do` may be."""
