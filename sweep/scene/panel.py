"""The panel: a solid board or glued-up panel that the moulding borders, and the year's moisture it lives through."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Bound, Name, PanelMoisture, Size
from sweep.scene.keys import Section


class Panel(Section):
    """A solid panel under the moulding's lip; sizes as they are on the day of fitting.

    `grain` is the way across the panel's width: `tangential`, along the growth rings, in flat-sawn boards, which move
    most; `radial`, square to the rings, in quarter-sawn ones.
    """

    species: Annotated[Name, Field(min_length=1)]
    width: Size
    grain: Literal["radial", "tangential"] = "tangential"
    moisture: tuple[PanelMoisture, PanelMoisture]
    moisture_at_fitting: PanelMoisture
    fixed: Literal["centre", "edge"] = "centre"
    lip: Bound | None = None
    gap: Bound | None = None

    @model_validator(mode="after")
    def _ordered(self) -> Panel:
        if self.moisture[1] < self.moisture[0]:
            raise SceneError(
                "panel.moisture",
                "the first is more than the second",
                'write the driest and the dampest of the year, for example ["6 %", "12 %"]',
            )
        return self
