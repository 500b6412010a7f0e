"""The panel: a solid board or glued-up panel that the moulding borders, and the year's moisture it lives through."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Bound, Name, PanelMoisture, PanelWidth
from sweep.scene.keys import Section
from sweep.scene.written import key


class Panel(Section):
    """A solid panel under the moulding's lip; sizes as they are on the day of fitting.

    `grain` is the way across the panel's width: `tangential`, along the growth rings, in flat-sawn boards, which move
    most; `radial`, square to the rings, in quarter-sawn ones.
    """

    species: Annotated[Name, Field(min_length=1)] = key("of a solid panel that the moulding borders: a [wood](#woods)")
    width: PanelWidth = key("its width across the grain when fitted")
    grain: Literal["radial", "tangential"] = key(
        "tangential: along the growth rings, as in flat-sawn boards; radial: square to them, quarter-sawn", "tangential"
    )
    moisture: tuple[PanelMoisture, PanelMoisture] = key("of the wood in the year's driest and dampest season")
    moisture_at_fitting: PanelMoisture = key("of the wood on the day of fitting")
    fixed: Literal["centre", "edge"] = key(
        "centre: both edges move, each half; edge: the other edge moves all of it", "centre"
    )
    lip: Bound | None = key("how far the moulding laps over a moving edge when fitted", None)
    gap: Bound | None = key("the room behind that edge when fitted", None)

    @model_validator(mode="after")
    def _ordered(self) -> Panel:
        if self.moisture[1] < self.moisture[0]:
            raise SceneError(
                "panel.moisture",
                "the first is more than the second",
                'write the driest and the dampest of the year, for example ["6 %", "12 %"]',
            )
        return self
