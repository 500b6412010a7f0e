"""How what a scene leaves out is planned: feeds, the steps of heights, and the set-ups for a whole moulding."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.scene.fields import Bound, Feed, Height, Lift, Seconds, Turn
from sweep.scene.keys import Section
from sweep.scene.written import key


class Plan(Section):
    """How passes and set-ups are planned where a scene has none."""

    feed_speed: Feed = key("speed of the stock where passes are planned", "2 m/min", inches="6 ft/min")
    last_feed_speed: Feed = key("speed in a planned last pass", "1 m/min", inches="3 ft/min")
    last_rise: Height = key("rise of a planned last pass", "0.8 mm", inches="1/32 in", why="common practice")
    round_to: Lift | None = key(
        "step of planned heights", None, unless_given='`"0.1 mm"`, or `"1/64 in"` with the stock in inches'
    )
    turn: Turn | None = key('step of planned heights as a part of a turn of the wheel, `"1/8"`', None)
    fence_side: Literal["near", "far"] = key("side of the blade that the fence of a worked-out set-up is on", "near")
    leave: Bound = key(
        "wood that the set-ups for a whole moulding leave above its profile, for plane and scraper",
        "0.3 mm",
        inches="12 thou",
        why="our choice",
    )
    most_setups: Annotated[int, Field(strict=True, ge=1, le=8)] = key(
        "the most set-ups for a whole moulding; a rabbet counts as two", 4, why="our choice"
    )
    set_fence: Seconds = key(
        "time for setting a fence and trying it, for a whole moulding", "8 min", why="common practice, from memory"
    )
    change_blade: Seconds = key("time for another blade", "4 min", why="common practice, from memory")
    change_tilt: Seconds = key("time for another tilt", "2 min", why="common practice, from memory")

    @model_validator(mode="after")
    def _one_grid(self) -> Plan:
        if self.round_to is not None and self.turn is not None:
            raise SceneError("plan.turn", "heights are rounded to plan.round_to already", "leave one of the two out")
        return self
