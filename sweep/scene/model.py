"""The scene: its sections together, checked against one another. Reading files is `read.py`."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.figure import length
from sweep.scene.fence import Fence
from sweep.scene.fields import Title
from sweep.scene.finish import Finish
from sweep.scene.keys import Blade, Passes, Plan, Saw, Section, Setup, Stock
from sweep.scene.limits import Accuracy, Limits
from sweep.scene.order import Order
from sweep.scene.panel import Panel
from sweep.scene.sanding import Sanding
from sweep.scene.target import Target
from sweep.scene.written import key
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import highest_setting
from sweep.shape.tool import Tool
from sweep.tolerance import SAME_HEIGHT
from sweep.units import Units


class Scene(Section):
    """One job: stock, blade, saw, setup, passes, and the profile wanted.

    Where `setup` or `passes` is left out, `plan/complete.py` works it out; everything that cuts wants both.
    """

    title: Title = key("a name for tables and pictures", "")
    stock: Stock
    blade: Blade | None = None
    blades: Annotated[tuple[Blade, ...], Field(max_length=100)] = key(
        "`[[blades]]`, several to choose from, instead of `[blade]`, with the same keys", ()
    )
    saw: Saw
    setup: Setup | None = None
    fence: Fence = Field(default_factory=Fence)
    passes: Passes | None = None
    plan: Plan = Field(default_factory=Plan)
    finish: Annotated[tuple[Finish, ...], Field(max_length=50)] = ()
    target: Target | None = None
    limits: Limits = Field(default_factory=Limits)
    accuracy: Accuracy = Field(default_factory=Accuracy)
    order: Order | None = None
    panel: Panel | None = None
    sanding: Sanding = Field(default_factory=Sanding)

    @property
    def tool(self) -> Tool:
        """The solid that the blade's edges sweep."""
        return self.blade.tool

    @property
    def feed(self) -> StraightFeed:
        """The motion of the stock."""
        return StraightFeed(self.setup.fence_angle, self.setup.offset)

    @property
    def tilt(self) -> float:
        """The blade's tilt, rad."""
        return self.setup.blade_tilt

    @property
    def units(self) -> Units:
        """The units in which the scene is answered unless others are asked for: those of the stock's length."""
        return Units("in" if self.stock.in_inches else "mm")

    @property
    def choice(self) -> tuple[Blade, ...]:
        """The blades to choose from."""
        return self.blades or (self.blade,)

    @model_validator(mode="after")
    def _one_blade(self) -> Scene:
        if self.blade is None and not self.blades:
            raise SceneError("blade", "it is missing", "the README's table of keys shows how to write it")
        if self.blade is not None and self.blades:
            raise SceneError("blades", "there is a [blade] as well", "leave one of the two out")
        names = [blade.name for blade in self.blades]
        if len(set(names)) < len(names) or (names and not all(names)):
            raise SceneError(
                "blades", "each needs a name of its own", 'write, for example, name = "thin kerf, 40 teeth"'
            )
        if self.setup is None and self.target is None:
            raise SceneError(
                "setup", "it is missing, and there is no target to work it out from", "write [setup] or [target]"
            )
        if self.plan.turn is not None and self.saw.lift_per_turn is None:
            raise SceneError(
                "saw.lift_per_turn",
                "it is missing",
                "plan.turn needs to know how far one turn of the wheel lifts the blade",
            )
        if self.setup is not None and self.blades and self.setup.blade not in names:
            raise SceneError(
                "setup.blade", f"'{self.setup.blade}' is none of the blades", f"write one of {', '.join(names)}"
            )
        return self

    def with_blade_chosen(self) -> Scene:
        """Return the scene with the blade that its set-up names, checked to fit together.

        Raises
        ------
        SceneError
            When heights, stops or the blade's reach contradict one another.
        """
        scene = self
        if self.setup is not None and self.blades:
            scene = self.model_copy(update={"blade": next(b for b in self.blades if b.name == self.setup.blade)})
        if scene.setup is not None:
            _check_height(scene)
        if scene.passes is not None:
            _check_passes(scene)
        return scene


def _check_height(scene: Scene) -> None:
    top, highest = scene.setup.blade_height, highest_setting(scene.tool, scene.tilt)
    if top >= highest:
        raise SceneError(
            "setup.blade_height",
            "{value} would bring the blade's centre up to the table",
            "write less than {limit:down}",
            value=length(top),
            limit=length(highest),
        )
    if scene.saw.max_height is not None and top > scene.saw.max_height:
        raise SceneError(
            "setup.blade_height",
            "{value} is more than the saw can raise it, {limit:down}",
            "write at most that",
            value=length(top),
            limit=length(scene.saw.max_height),
        )


def _check_passes(scene: Scene) -> None:
    if scene.setup is not None and abs(scene.setup.blade_height - scene.passes.heights[-1]) > SAME_HEIGHT:
        raise SceneError(
            "passes.heights",
            "the last pass is at {value} and setup.blade_height is {limit}",
            "make the last height and blade_height the same",
            value=length(scene.passes.heights[-1]),
            limit=length(scene.setup.blade_height),
        )
    for stop in scene.passes.stops:
        if stop is not None and stop > scene.stock.length:
            raise SceneError(
                "passes.stop",
                "{value} is more than the stock's length, {limit:down}",
                'write at most that, or "through"',
                value=length(stop),
                limit=length(scene.stock.length),
            )
