"""The sections of a scene that every cut needs, each checked on its own; the others have files of their own.

Values are held in mm, radians, mm/s, rad/s, watts and mm2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ModelWrapValidatorHandler, PrivateAttr, model_validator

from sweep.errors import SceneError
from sweep.figure import count, length
from sweep.phrase import Example
from sweep.quantity import in_inches
from sweep.scene.blank import Blank
from sweep.scene.fence import SawTable
from sweep.scene.fields import (
    Bevel,
    BladeSize,
    Density,
    Feed,
    FenceAngle,
    Height,
    Lift,
    Moisture,
    Name,
    Number,
    Place,
    RunOut,
    Share,
    StockLength,
    StockSize,
    Stops,
    Thickness,
    Tilt,
    Turning,
    Watts,
)
from sweep.scene.written import key
from sweep.shape.tool import Tool, alternate_bevel, flat_tips
from sweep.tolerance import SAME_HEIGHT

TIP = Example("3.2 mm", "1/8 in")
"""A usual width of a tooth's tip."""


class Section(BaseModel):
    """A table of the scene: unknown keys refused, values fixed once read."""

    # what is read is a whole scene, whose checks hold those of its tables: theirs alone are built where one is asked
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Stock(Section):
    """The piece of wood before the cut."""

    length: StockLength = key("the piece before the cut")
    width: StockSize = key("across the feed, the sides square to the face on the table")
    thickness: StockSize = key("from the face on the table to the other")
    species: Annotated[Name, Field(min_length=1)] = key(
        "the wood, for the estimates of force; see [woods](#woods)", "unknown"
    )
    density: Density | None = key("density at 12 % moisture; goes before the table of woods", None)
    moisture: Moisture = key(
        "of the wood; the force constants are for 6 to 14 %, beyond that a flag says they are not known", "12 %"
    )
    _in_inches: bool = PrivateAttr(default=False)
    _blank: Blank | None = PrivateAttr(default=None)

    @property
    def in_inches(self) -> bool:
        """Whether the maker wrote the length in inches or feet."""
        return self._in_inches

    @property
    def blank(self) -> Blank | None:
        """What the set-up before left, where this is stock as it lies for a later one; None for planed stock."""
        return self._blank

    def lying(self, width: float, thickness: float, blank: Blank | None) -> Stock:
        """Return the stock as it lies on the table: so wide across and so high, mm, begun as a blank or planed."""
        stock = self.model_copy(update={"width": width, "thickness": thickness})
        stock._blank = blank
        return stock

    def stretch(self, first: float, last: float) -> Stock:
        """Return a stretch of the stock, from and to so far behind its leading end, mm."""
        stock = self.model_copy(update={"length": last - first})
        if self._blank is not None:
            stock._blank = replace(self._blank, first=self._blank.first + first)
        return stock

    @model_validator(mode="wrap")
    @classmethod
    def _as_written(cls, data: Any, read: ModelWrapValidatorHandler[Stock]) -> Stock:
        stock = read(data)
        if isinstance(data, dict):
            stock._in_inches = in_inches(data["length"])
        return stock


class Blade(Section):
    """The blade, or any cutter that is a solid of revolution."""

    teeth: Annotated[int, Field(strict=True, ge=1, le=500)] = key("how many there are")
    name: Name = key("what it is called; required in a list of blades", "")
    diameter: BladeSize | None = key("measured at the tips; required unless there is a profile", None)
    kerf: Thickness | None = key("width of the tips along the arbor; required unless there is a profile", None)
    tip: Literal["flat", "alternate bevel"] = key("as the tips are ground", "flat")
    bevel: Bevel | None = key("angle of the tips; required for alternate bevel tips", None)
    profile: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=1000)] | None = key(
        "any other solid of revolution, instead of diameter and kerf: `[[a, r], ...]` in mm, offset along the arbor "
        "(never falling) and radius",
        None,
    )
    max_speed: Turning | None = key("fastest speed, as the blade is marked", None)
    plate: Thickness | None = key(
        "thickness of the plate, for its bending", None, unless_given="0.7 of the kerf", why="common practice"
    )
    collar: BladeSize = key("diameter of the collars", "70 mm", inches="2 3/4 in", why="common practice")
    gullet_depth: Thickness | None = key(
        "from a tip down to the bottom of its gullet", None, unless_given="0.45 of the pitch", why="common practice"
    )
    runout: RunOut = key(
        "how far one tooth stands proud of the others, along the radius; it soon governs the tooth marks",
        "0.05 mm",
        inches="2 thou",
        why="common practice",
    )
    wobble: RunOut = key(
        "how far the rim moves to and fro along the arbor in a turn; a shop's limit is 0.003 in at the flange",
        "0.05 mm",
        inches="2 thou",
        why="common practice",
    )

    @property
    def stagger(self) -> int:
        """How many teeth share the work of one: bevelled alternately, a tip meets wood with every second tooth."""
        return 2 if self.tip == "alternate bevel" else 1

    @property
    def tool(self) -> Tool:
        """The solid that the blade's edges sweep as it turns."""
        if self.profile is not None:
            return Tool(self.profile)
        diameter, kerf = self.size
        if self.bevel is not None:
            return alternate_bevel(diameter / 2, kerf, self.bevel)
        return flat_tips(diameter / 2, kerf)

    @property
    def size(self) -> tuple[float, float]:
        """Diameter and kerf, mm, of a blade without a profile."""
        assert self.diameter is not None and self.kerf is not None  # `_whole` refuses it
        return self.diameter, self.kerf

    @model_validator(mode="after")
    def _whole(self) -> Blade:
        if self.profile is not None:
            for name in ("diameter", "kerf", "bevel"):
                if getattr(self, name) is not None:
                    raise SceneError(
                        f"blade.{name}", "the profile already says it", "leave it out, or leave out the profile"
                    )
            try:
                Tool(self.profile)
            except ValueError as wrong:
                raise SceneError(
                    "blade.profile", str(wrong), "write [[a, r], ...] in mm, from one side to the other"
                ) from None
            return self
        for name, example in (("diameter", Example("254 mm", "10 in")), ("kerf", TIP)):
            if getattr(self, name) is None:
                raise SceneError(
                    f"blade.{name}", "it is missing", f'write, for example, {name} = "{{example}}"', example=example
                )
        diameter, kerf = self.size
        if kerf >= diameter / 2:
            raise SceneError(
                "blade.kerf",
                "it is wider than the blade's radius",
                'write the width of a tooth\'s tip, for example "{example}"',
                example=TIP,
            )
        if self.tip == "alternate bevel" and self.bevel is None:
            raise SceneError(
                "blade.bevel", "it is missing", 'alternate bevel tips need it, for example bevel = "15 deg"'
            )
        if self.tip == "flat" and self.bevel is not None:
            raise SceneError("blade.bevel", "flat tips have none", 'leave it out, or write tip = "alternate bevel"')
        return self


class Saw(Section, SawTable):
    """The machine; the sizes of its table are in `fence.py`."""

    name: Name = key("what it is called; required where a shop has several", "")
    speed: Turning = key("speed of the arbor")
    motor: Watts | None = key(
        "power of the motor; a pass that is estimated to take more than it gives the arbor is flagged", None
    )
    efficiency: Share = key("share of the motor's power that reaches the arbor; 0.8 to 0.9", 0.85, why="from memory")
    max_height: Height | None = key("most that the blade can be raised", None)
    tilts: tuple[Tilt, Tilt] = key(
        "least and most tilt that may be used where the set-up is worked out", ("0 deg", "0 deg")
    )
    lift_per_turn: Lift | None = key("how far one turn of the wheel lifts the blade", None)

    @model_validator(mode="after")
    def _ordered(self) -> Saw:
        if self.tilts[1] < self.tilts[0]:
            raise SceneError(
                "saw.tilts",
                "the first tilt is more than the second",
                'write the least and the most, for example ["0 deg", "45 deg"]',
            )
        return self


class Setup(Section):
    """How the fence and the blade are set."""

    fence_angle: FenceAngle = key("angle between the feed and the blade's plane")
    blade_height: Height = key("height of the last pass, from the table to the blade's highest point")
    blade_tilt: Tilt = key("a positive one leans the blade's top to the right (+x)", "0 deg")
    offset: Place = key(
        "the stock's centreline from the blade's centre, to the right looking along the feed", "0 mm", inches="0 in"
    )
    fence_side: Literal["near", "far"] = key("near: on the operator's side of the blade; far: beyond it", "near")
    blade: Name = key("which of `[[blades]]`, by name; required where there is a list", "")


class Passes(Section):
    """The passes, in the order in which they are made."""

    heights: Annotated[tuple[Height, ...], Field(min_length=1, max_length=500)] = key(
        "one for each pass, rising; the last equals `setup.blade_height`"
    )
    feed_speed: Feed = key("speed of the stock along the fence")
    last_feed_speed: Feed | None = key("speed in the last pass", None, unless_given="the same")
    feeds: Annotated[tuple[Feed, ...], Field(min_length=1, max_length=500)] | None = key(
        "speed in each pass, one for each height, instead of those two", None, unless_given="as those two say"
    )
    stop: Stops = key(
        "how far the leading end has gone past the blade's centre when a pass stops: one for all passes, or a list",
        "through",
    )

    @property
    def feed_speeds(self) -> tuple[float, ...]:
        """The speed of the stock in each pass, mm/s."""
        if self.feeds is not None:
            return self.feeds
        last = self.feed_speed if self.last_feed_speed is None else self.last_feed_speed
        return (*[self.feed_speed] * (len(self.heights) - 1), last)

    @property
    def stops(self) -> tuple[float | None, ...]:
        """Where each pass stops, mm of travel; None where it goes through."""
        return self.stop * len(self.heights) if len(self.stop) == 1 else self.stop

    @property
    def stop_short(self) -> bool:
        """Whether any of them stops part of the way."""
        return any(stop is not None for stop in self.stop)

    @model_validator(mode="after")
    def _rising(self) -> Passes:
        for number, (low, high) in enumerate(zip(self.heights, self.heights[1:], strict=False), start=2):
            if high < low - SAME_HEIGHT:
                raise SceneError(
                    "passes.heights",
                    "pass {number} at {value} is lower than pass {before} at {limit}",
                    "write heights that rise from pass to pass",
                    number=count(number),
                    value=length(high),
                    before=count(number - 1),
                    limit=length(low),
                )
        if len(self.feed_speeds) != len(self.heights):
            raise SceneError(
                "passes.feeds",
                "{value} speeds for {limit} heights",
                "write one for each height, or leave them out",
                value=count(len(self.feed_speeds)),
                limit=count(len(self.heights)),
            )
        if len(self.stops) != len(self.heights):
            raise SceneError(
                "passes.stop",
                "{value} stops for {limit} heights",
                'write one for all, or one for each height, "through" where there is none',
                value=count(len(self.stop)),
                limit=count(len(self.heights)),
            )
        return self
