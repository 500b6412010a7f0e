"""The panel: a solid board or glued-up panel that the moulding borders, and the year's moisture it lives through."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.figure import length, share
from sweep.scene.fields import Bound, Name, PanelMoisture, PanelWidth
from sweep.scene.keys import Section
from sweep.scene.written import key

ABOUT = 25.0
"""mm. By how much an edge of a panel may lie off the rectangle, or by lip and gap where these are more; our choice."""


class Panel(Section):
    """A solid panel under the moulding's lip; sizes as they are on the day of fitting.

    `grain` is the way across the panel's width: `tangential`, along the growth rings, in flat-sawn boards, which move
    most; `radial`, square to the rings, in quarter-sawn ones.
    """

    species: Annotated[Name, Field(min_length=1)] = key("of a solid panel that the moulding borders: a [wood](#woods)")
    width: PanelWidth = key(
        "its width across the grain when fitted; that of one side, about, where a rectangle is ordered"
    )
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
        low, high = self.moisture
        if not low <= self.moisture_at_fitting <= high:
            raise SceneError(
                "panel.moisture_at_fitting",
                "{value} is outside the year's {low} to {high}",
                "fit the panel when it is within, or write the year that it will live through",
                value=share(self.moisture_at_fitting),
                low=share(low),
                high=share(high),
            )
        return self

    def require_side_of(self, rectangle: tuple[float, float], wrap: str, moulding: float) -> None:
        """Refuse a panel that is as wide as neither side of the rectangle round which the moulding is wrapped.

        Parameters
        ----------
        rectangle : (float, float), mm
        wrap : "outside" or "inside"
            Outside, the panel ends about where the rectangle does; inside, it may lie within the moulding too.
        moulding : float, mm
            The most that the moulding can stand into the rectangle.

        Raises
        ------
        SceneError
        """
        about = max(ABOUT, (self.lip or 0.0) + (self.gap or 0.0))
        within = about if wrap == "outside" else about + moulding
        if not any(side - 2 * within <= self.width <= side + 2 * about for side in rectangle):
            raise SceneError(
                "panel.width",
                "{value} is the width of neither side of order.rectangle, {front} and {side}",
                "write that of the side that lies across the panel's grain",
                value=length(self.width),
                front=length(rectangle[0]),
                side=length(rectangle[1]),
            )
