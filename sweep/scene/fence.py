"""What lies on the saw table and the table itself: the fence, and the sizes that a tape measure takes off the saw."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

from sweep.errors import SceneError
from sweep.figure import length
from sweep.scene.fields import Place, Plate, Reach, SawSize
from sweep.scene.written import key

SLOT_WIDTH = 19.0
"""mm. Of a mitre slot: 3/4 in, common practice. It is only drawn."""


class SawTable(BaseModel):
    """The sizes of a saw's table, seen by the operator: part of `[saw]`."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    table_depth: SawSize | None = key(
        "depth of the table top, from the operator's edge to the rear one; this and the next three together or none",
        None,
    )
    table_width: SawSize | None = key("width of the table top, across", None)
    front_to_blade: SawSize | None = key("from the front edge to the blade's centre", None)
    left_to_blade: SawSize | None = key("from the left edge to the blade's plane", None)
    slots: Annotated[tuple[Place, ...], Field(max_length=10)] = key(
        "from the blade's plane at the table to the nearest edge of each mitre slot, to the right; left of it with a -",
        (),
    )
    throat_length: SawSize | None = key(
        "length of the throat plate's opening, taken to lie evenly about the blade's centre and plane; with its width",
        None,
    )
    throat_width: SawSize | None = key("width of that opening", None)
    throat_thickness: Plate = key(
        "thickness of the throat plate; below the table the blade is longer, and a tilted one further over",
        "12 mm",
        inches="1/2 in",
        why="common practice",
    )
    support_before: Reach = key(
        "how far stands or rollers carry the stock before the table's edge, along the feed", "0 mm", inches="0 in"
    )
    support_after: Reach = key("how far they carry it behind the table's rear edge", "0 mm", inches="0 in")

    @property
    def edges(self) -> tuple[float, float, float, float] | None:
        """Left and right edge, x, then front and rear edge, y, of the table, mm, machine frame; None when not given."""
        if self.table_depth is None or self.table_width is None:
            return None
        assert self.left_to_blade is not None and self.front_to_blade is not None  # `_whole` refuses it
        left, front = -self.left_to_blade, -self.front_to_blade
        return left, left + self.table_width, front, front + self.table_depth

    @property
    def slot_strips(self) -> tuple[tuple[float, float], ...]:
        """Left and right edge of each mitre slot, x, mm, machine frame."""
        return tuple((slot, slot + SLOT_WIDTH) if slot > 0 else (slot - SLOT_WIDTH, slot) for slot in self.slots)

    @property
    def throat(self) -> tuple[float, float] | None:
        """Length and width of the throat plate's opening, mm; None when not given."""
        if self.throat_length is None or self.throat_width is None:
            return None
        return self.throat_length, self.throat_width

    @model_validator(mode="after")
    def _whole(self) -> SawTable:
        for together in (
            ("table_depth", "table_width", "front_to_blade", "left_to_blade"),
            ("throat_length", "throat_width"),
        ):
            missing = [name for name in together if getattr(self, name) is None]
            if missing and len(missing) < len(together):
                raise SceneError(
                    f"saw.{missing[0]}", "it is missing", f"write {', '.join(together)} together, or leave them all out"
                )
        for part, whole in (("front_to_blade", "table_depth"), ("left_to_blade", "table_width")):
            if self.edges is not None and getattr(self, part) >= getattr(self, whole):
                raise SceneError(
                    f"saw.{part}",
                    f"{{value}} puts the blade beyond the table, whose {whole.removeprefix('table_')} is {{limit}}",
                    f"write less than saw.{whole}",
                    value=length(getattr(self, part)),
                    limit=length(getattr(self, whole)),
                )
        if 0.0 in self.slots:
            raise SceneError(
                "saw.slots", "a slot's edge lies in the blade", "measure from the blade, left of it with a -"
            )
        return self


class Fence(BaseModel):
    """The fence that is clamped across the table."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    length: SawSize | None = key(
        "how long it is", None, unless_given="as long as it must be to reach both edges of the table"
    )
    thickness: SawSize = key("how thick it is", "38 mm", inches="1 1/2 in", why="our choice")
    height: SawSize | None = key("how high it is", None, unless_given="that of the stock")
