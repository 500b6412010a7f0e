"""The sections of a scene: every key a user may write, each section checked on its own.

Values are held in mm, radians, mm/s, rad/s, watts and mm2.
"""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ModelWrapValidatorHandler, PrivateAttr, model_validator

from sweep.errors import SceneError
from sweep.quantity import in_inches
from sweep.scene.fence import SawTable
from sweep.scene.fields import (
    Angle,
    Area,
    Bevel,
    Bound,
    Density,
    Feed,
    FenceAngle,
    FileName,
    Moisture,
    Name,
    Number,
    Place,
    Push,
    RimSpeed,
    RunOut,
    Share,
    Size,
    Slack,
    StockLength,
    Stops,
    Tilt,
    Turn,
    Turning,
    Watts,
)
from sweep.shape.tool import Tool, alternate_bevel, flat_tips
from sweep.tolerance import SAME_HEIGHT


class Section(BaseModel):
    """A table of the scene: unknown keys refused, values fixed once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=False)


class Stock(Section):
    """The piece of wood before the cut."""

    length: StockLength
    width: Size
    thickness: Size
    species: Annotated[Name, Field(min_length=1)] = "unknown"
    density: Density | None = None
    moisture: Moisture = 0.12
    _in_inches: bool = PrivateAttr(default=False)

    @property
    def in_inches(self) -> bool:
        """Whether the maker wrote the length in inches or feet."""
        return self._in_inches

    @model_validator(mode="wrap")
    @classmethod
    def _as_written(cls, data: Any, read: ModelWrapValidatorHandler[Stock]) -> Stock:
        stock = read(data)
        if isinstance(data, dict):
            stock._in_inches = in_inches(data["length"])
        return stock


class Blade(Section):
    """The blade, or any cutter that is a solid of revolution."""

    teeth: Annotated[int, Field(ge=1, le=500)]
    name: Name = ""
    diameter: Size | None = None
    kerf: Size | None = None
    tip: Literal["flat", "alternate bevel"] = "flat"
    bevel: Bevel | None = None
    profile: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=1000)] | None = None
    max_speed: Turning | None = None
    plate: Size | None = None
    collar: Size | None = None
    gullet_depth: Size | None = None
    runout: RunOut = 0.0

    @property
    def stagger(self) -> int:
        """How many teeth share the work of one: bevelled alternately, a tip meets wood with every second tooth."""
        return 2 if self.tip == "alternate bevel" else 1

    @property
    def tool(self) -> Tool:
        """The solid that the blade's edges sweep as it turns."""
        if self.profile is not None:
            return Tool(self.profile)
        if self.tip == "alternate bevel":
            return alternate_bevel(self.diameter / 2, self.kerf, self.bevel)
        return flat_tips(self.diameter / 2, self.kerf)

    @model_validator(mode="after")
    def _whole(self) -> Blade:
        if self.profile is not None:
            for key in ("diameter", "kerf", "bevel"):
                if getattr(self, key) is not None:
                    raise SceneError(
                        f"blade.{key}", "the profile already says it", "leave it out, or leave out the profile"
                    )
            try:
                Tool(self.profile)
            except ValueError as wrong:
                raise SceneError(
                    "blade.profile", str(wrong), "write [[a, r], ...] in mm, from one side to the other"
                ) from None
            return self
        for key, example in (("diameter", "254 mm"), ("kerf", "3.2 mm")):
            if getattr(self, key) is None:
                raise SceneError(f"blade.{key}", "it is missing", f'write, for example, {key} = "{example}"')
        if self.kerf >= self.diameter / 2:
            raise SceneError(
                "blade.kerf",
                "it is wider than the blade's radius",
                'write the width of a tooth\'s tip, for example "3.2 mm"',
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

    speed: Turning
    motor: Watts | None = None
    efficiency: Share = 0.85
    max_height: Size | None = None
    tilts: tuple[Tilt, Tilt] = (0.0, 0.0)
    lift_per_turn: Size | None = None

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

    fence_angle: FenceAngle
    blade_height: Size
    blade_tilt: Tilt = 0.0
    offset: Place = 0.0
    fence_side: Literal["near", "far"] = "near"
    blade: Name = ""


class Passes(Section):
    """The passes, in the order in which they are made."""

    heights: Annotated[tuple[Size, ...], Field(min_length=1, max_length=500)]
    feed_speed: Feed
    last_feed_speed: Feed | None = None
    stop: Stops = (None,)

    @property
    def stops(self) -> tuple[float | None, ...]:
        """Where each pass stops, mm of travel; None where it goes through."""
        return self.stop * len(self.heights) if len(self.stop) == 1 else self.stop

    @model_validator(mode="after")
    def _rising(self) -> Passes:
        for number, (low, high) in enumerate(zip(self.heights, self.heights[1:], strict=False), start=2):
            if high < low - SAME_HEIGHT:
                raise SceneError(
                    "passes.heights",
                    f"pass {number} at {high:.4g} mm is lower than pass {number - 1} at {low:.4g} mm",
                    "write heights that rise from pass to pass",
                )
        if len(self.stops) != len(self.heights):
            raise SceneError(
                "passes.stop",
                f"{len(self.stop)} stops for {len(self.heights)} heights",
                'write one for all, or one for each height, "through" where there is none',
            )
        return self


class Plan(Section):
    """How passes are planned where a scene has none."""

    feed_speed: Feed = 2000 / 60
    last_feed_speed: Feed = 1000 / 60
    last_rise: Size = 0.8
    round_to: Size | None = None
    turn: Turn | None = None

    @model_validator(mode="after")
    def _one_grid(self) -> Plan:
        if self.round_to is not None and self.turn is not None:
            raise SceneError("plan.turn", "heights are rounded to plan.round_to already", "leave one of the two out")
        return self


class Accuracy(Section):
    """How exactly the saw can be set: one standard deviation of each setting."""

    fence_angle: Angle = math.radians(0.1)
    blade_height: Slack = 0.1
    blade_tilt: Angle = math.radians(0.1)
    offset: Slack = 0.1
    kerf: Slack = 0.05
    seed: Annotated[int, Field(ge=0, le=2**32 - 1)] = 1


class Target(Section):
    """What the maker wants."""

    shape: Literal["cove", "arc", "ellipse", "points"]
    width: Size | None = None
    depth: Size | None = None
    across: Place = 0.0
    points: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=100_000)] | None = None
    file: FileName | None = None
    tolerance: Slack = 0.25

    @model_validator(mode="after")
    def _whole(self) -> Target:
        measured = self.shape == "points"
        for key in ("width", "depth"):
            if not measured and getattr(self, key) is None:
                raise SceneError(
                    f"target.{key}",
                    "it is missing",
                    f'a target of shape "{self.shape}" needs it, for example {key} = "16 mm"',
                )
            if measured and getattr(self, key) is not None:
                raise SceneError(f"target.{key}", "the points already say it", "leave it out")
        for key in ("points", "file"):
            if not measured and getattr(self, key) is not None:
                raise SceneError(
                    f"target.{key}",
                    f'a target of shape "{self.shape}" has none',
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
            if any(b[0] < a[0] for a, b in zip(self.points, self.points[1:], strict=False)):
                raise SceneError(
                    "target.points",
                    "y falls from one point to the next",
                    "write them in order from one edge to the other",
                )
            if any(z < 0 for _, z in self.points):
                raise SceneError(
                    "target.points",
                    "a point lies below the face of the stock (z less than 0)",
                    "measure z upwards from the face that rides on the table",
                )
        if self.shape == "arc" and self.depth > self.width / 2:
            raise SceneError(
                "target.depth", "an arc is at most half as deep as it is wide", "write a smaller depth, or a wider arc"
            )
        return self


class Limits(Section):
    """Above or below these a pass is flagged. Common practice unless the README's table says otherwise."""

    rise: Size = 3.2
    chip_thickness: Size = 0.15
    area: Area = 130.0
    wood_above: Bound = 6.0
    shoulder: Bound = 6.0
    stock_length: Bound = 300.0
    rim_speed: RimSpeed = 100_000.0
    push: Push = 90.0
    side_deflection: Slack = 0.3
    gullet_fill: Share = 0.7
    thin_chip: Slack = 0.005
    finish_wood: Bound = 3.0
