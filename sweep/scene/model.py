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

    Where `setup` or `passes` is left out, `plan/complete.py` works it out; what cuts takes a `WholeScene`, which has
    both. A scene is read as the type that says how much of it is known.
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
    def units(self) -> Units:
        """The units in which the scene is answered unless others are asked for: those of the stock's length."""
        return Units("in" if self.stock.in_inches else "mm")

    @property
    def choice(self) -> tuple[Blade, ...]:
        """The blades to choose from."""
        return self.blades or tuple(blade for blade in [self.blade] if blade is not None)

    @property
    def wanted(self) -> Target:
        """The target, where there must be one: every scene has it that leaves its set-up out."""
        assert self.target is not None
        return self.target

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

    def checked(self) -> Scene:
        """Return the scene as the type that says how much of it is known, checked to fit together.

        Raises
        ------
        SceneError
            When heights, stops or the blade's reach contradict one another.
        """
        scene = self if self.setup is None else self.set_up(self.setup)
        if self.passes is not None:
            _check_stops(self.stock, self.passes)
        return scene

    def set_up(self, setup: Setup) -> SetUpScene:
        """Return the scene with a set-up and the blade that it names; a `WholeScene` where it has passes.

        Raises
        ------
        SceneError
            When the blade cannot be raised so far, or the last pass is at another height.
        """
        scene = SetUpScene.model_construct(**dict(self) | {"blade": self._named(setup.blade), "setup": setup})
        _check_height(scene)
        return scene if self.passes is None else scene.with_passes(self.passes)

    def _named(self, name: str) -> Blade | None:
        return next(blade for blade in self.blades if blade.name == name) if self.blades else self.blade


class SetUpScene(Scene):
    """A scene whose blade and set-up are known; its passes may be left out."""

    blade: Blade
    setup: Setup

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

    def with_passes(self, passes: Passes) -> WholeScene:
        """Return the scene with passes.

        Raises
        ------
        SceneError
            When the last one is not at the height of the set-up.
        """
        _check_last_pass(self.setup, passes)
        return WholeScene.model_construct(**dict(self) | {"passes": passes})

    def left_open(self) -> Scene:
        """Return the scene with its blade alone, set-up and passes left to be worked out."""
        return Scene.model_construct(**dict(self) | {"blades": (), "setup": None, "passes": None})


class WholeScene(SetUpScene):
    """A scene with nothing left out: it can be cut."""

    passes: Passes


def _check_height(scene: SetUpScene) -> None:
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


def _check_last_pass(setup: Setup, passes: Passes) -> None:
    if abs(setup.blade_height - passes.heights[-1]) > SAME_HEIGHT:
        raise SceneError(
            "passes.heights",
            "the last pass is at {value} and setup.blade_height is {limit}",
            "make the last height and blade_height the same",
            value=length(passes.heights[-1]),
            limit=length(setup.blade_height),
        )


def _check_stops(stock: Stock, passes: Passes) -> None:
    for stop in passes.stops:
        if stop is not None and stop > stock.length:
            raise SceneError(
                "passes.stop",
                "{value} is more than the stock's length, {limit:down}",
                'write at most that, or "through"',
                value=length(stop),
                limit=length(stock.length),
            )
