"""What lies on the saw table and the table itself: the fence, and the sizes that a tape measure takes off the saw."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Bound, Place, Size


class SawTable(BaseModel):
    """The sizes of a saw's table, seen by the operator: part of `[saw]`."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    table_depth: Size | None = None
    table_width: Size | None = None
    front_to_blade: Size | None = None
    left_to_blade: Size | None = None
    slots: Annotated[tuple[Place, ...], Field(max_length=10)] = ()
    throat_length: Size | None = None
    throat_width: Size | None = None
    throat_thickness: Bound = 12.0
    support_before: Bound = 0.0
    support_after: Bound = 0.0

    @property
    def edges(self) -> tuple[float, float, float, float] | None:
        """Left and right edge, x, then front and rear edge, y, of the table, mm, machine frame; None when not given."""
        if self.table_depth is None:
            return None
        left, front = -self.left_to_blade, -self.front_to_blade
        return left, left + self.table_width, front, front + self.table_depth

    @model_validator(mode="after")
    def _whole(self) -> SawTable:
        for keys in (
            ("table_depth", "table_width", "front_to_blade", "left_to_blade"),
            ("throat_length", "throat_width"),
        ):
            missing = [key for key in keys if getattr(self, key) is None]
            if missing and len(missing) < len(keys):
                raise SceneError(
                    f"saw.{missing[0]}", "it is missing", f"write {', '.join(keys)} together, or leave them all out"
                )
        for part, whole in (("front_to_blade", "table_depth"), ("left_to_blade", "table_width")):
            if self.edges is not None and getattr(self, part) >= getattr(self, whole):
                raise SceneError(
                    f"saw.{part}",
                    f"it puts the blade beyond the table, whose {whole.removeprefix('table_')} is "
                    f"{getattr(self, whole):.4g} mm",
                    f"write less than saw.{whole}",
                )
        if 0.0 in self.slots:
            raise SceneError(
                "saw.slots", "a slot's edge lies in the blade", "measure from the blade, left of it with a -"
            )
        return self


class Fence(BaseModel):
    """The fence that is clamped across the table; what is left out is as the README's table of keys says."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    length: Size | None = None
    thickness: Size = 38.0
    height: Size | None = None
