"""The scene: its sections together, checked against one another. Reading files is `read.py`."""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import Field, model_validator

from sweep.errors import SceneError
from sweep.figure import length
from sweep.quantity import in_inches
from sweep.scene.defaults import with_inch_defaults
from sweep.scene.fence import Fence
from sweep.scene.fields import Title
from sweep.scene.finish import Finish
from sweep.scene.kept import Kept, Times
from sweep.scene.keys import Blade, Passes, Saw, Section, Setup, Stock
from sweep.scene.limits import Accuracy, Limits
from sweep.scene.order import Order
from sweep.scene.panel import Panel
from sweep.scene.plan import Plan
from sweep.scene.sanding import Sanding
from sweep.scene.setups import RabbetSetup, SetupOfSeveral
from sweep.scene.target import Target
from sweep.scene.whole import kept_body
from sweep.scene.written import key
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import highest_setting
from sweep.shape.tool import Tool
from sweep.tolerance import SAME_HEIGHT
from sweep.units import Units


class Scene(Section):
    """One job: stock, blade, saw, setup, passes, and the profile wanted.

    Where `setup` or `passes` is left out, `plan/complete.py` works it out; what cuts takes a `WholeScene`, which has
    both. A scene is read as the type that says how much of it is known. One of several set-ups has neither.
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
    setups: Annotated[tuple[SetupOfSeveral, ...], Field(max_length=20)] = ()
    plan: Plan = Field(default_factory=Plan)
    finish: Annotated[tuple[Finish, ...], Field(max_length=50)] = ()
    target: Target | None = None
    limits: Limits = Field(default_factory=Limits)
    accuracy: Accuracy = Field(default_factory=Accuracy)
    order: Order | None = None
    panel: Panel | None = None
    sanding: Sanding = Field(default_factory=Sanding)
    kept: Kept | None = None
    measured: Times = ()

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

    @model_validator(mode="before")
    @classmethod
    def _in_its_notation(cls, data: Any) -> Any:
        stock = data.get("stock") if isinstance(data, dict) else None
        inches = isinstance(stock, dict) and in_inches(stock.get("length"))
        return with_inch_defaults(Scene, data) if inches else data

    @model_validator(mode="after")
    def _one_blade(self) -> Scene:
        if self.blade is None and not self.blades:
            raise SceneError("blade", "it is missing", "`sweep keys blade` shows how to write it")
        if self.blade is not None and self.blades:
            raise SceneError("blades", "there is a [blade] as well", "leave one of the two out")
        names = [blade.name for blade in self.blades]
        if len(set(names)) < len(names) or (names and not all(names)):
            raise SceneError(
                "blades", "each needs a name of its own", 'write, for example, name = "thin kerf, 40 teeth"'
            )
        if self.setup is None and self.target is None and not self.setups:
            raise SceneError(
                "setup", "it is missing, and there is no target to work it out from", "write [setup] or [target]"
            )
        self._require_several_alone()
        if self.target is not None and self.target.whole:
            kept_body(self.target, self.stock)  # refuses a profile that is none
        if self.plan.turn is not None and self.saw.lift_per_turn is None:
            raise SceneError(
                "saw.lift_per_turn",
                "it is missing",
                "plan.turn needs to know how far one turn of the wheel lifts the blade",
            )
        if self.setup is not None:
            self._require_blade("setup.blade", self.setup.blade)
        order, stock = self.order, self.stock
        if self.panel is not None and order is not None and order.rectangle is not None:
            self.panel.require_side_of(order.rectangle, order.wrap, math.hypot(stock.width, stock.thickness))
        return self

    def _require_blade(self, field: str, name: str) -> None:
        names = [blade.name for blade in self.blades]
        if names and name not in names:
            raise SceneError(field, f"'{name}' is none of the blades", f"write one of {', '.join(names)}")

    def _require_several_alone(self) -> None:
        """Refuse what goes with one set-up only where there is a list of them."""
        if not self.setups:
            return
        for name in ("setup", "passes"):
            if getattr(self, name) is not None:
                raise SceneError("setups", f"there is [{name}] as well", "leave one of the two out")
        if self.target is not None and not self.target.whole:
            raise SceneError(
                "target",
                "it is compared with what one set-up cuts, and there are several",
                "leave one of the two out, or write the whole moulding",
            )

    @property
    def lacks_setups(self) -> bool:
        """Whether it wants a whole moulding and has no set-up, or several, for it."""
        return self.target is not None and self.target.whole and self.setup is None and not self.setups

    def with_setups(self, setups: tuple[SetupOfSeveral, ...]) -> Scene:
        """Return the scene with set-ups, checked.

        Raises
        ------
        SceneError
            When blade, saw or stock cannot do what one of them asks.
        """
        return Scene.model_construct(**dict(self) | {"setups": setups}).checked()

    def checked(self) -> Scene:
        """Return the scene as the type that says how much of it is known, checked to fit together.

        Raises
        ------
        SceneError
            When heights, stops or the blade's reach contradict one another.
        """
        target = None if self.target is None else self.target.marked_on(self.stock)
        scene = self.model_copy(update={"target": target})
        scene = scene if self.setup is None else scene.set_up(self.setup)
        if self.passes is not None:
            _check_stops(self.stock, self.passes)
        for number, one in enumerate(self.setups, start=1):
            self._check_one_of_several(number, one)
        return scene

    def set_up(self, setup: Setup) -> SetUpScene:
        """Return the scene with a set-up and the blade that it names; a `WholeScene` where it has passes.

        Raises
        ------
        SceneError
            When the blade cannot be raised so far, or the last pass is at another height.
        """
        blade = self.named(setup.blade)
        _check_height("setup.blade_height", self.saw, blade.tool, setup.blade_tilt, setup.blade_height)
        scene = SetUpScene.model_construct(**dict(self) | {"blade": blade, "setup": setup})
        return scene if self.passes is None else scene.with_passes(self.passes)

    def named(self, name: str) -> Blade:
        """Return the blade of that name, or the only one."""
        return next(blade for blade in self.choice if blade.name == name or not self.blades)

    def _check_one_of_several(self, number: int, one: SetupOfSeveral) -> None:
        """Refuse what a set-up of several asks of blade, saw and stock that they cannot do."""

        def field(name: str) -> str:
            return f"setups.{name}, number {number}"

        self._require_blade(field("blade"), one.blade)
        tool = self.named(one.blade).tool
        if isinstance(one, RabbetSetup):
            for name, height in (("depth", one.depth), ("width", one.width)):
                _check_height(field(name), self.saw, tool, 0.0, height)
        elif one.blade_height is not None:
            _check_height(field("blade_height"), self.saw, tool, one.blade_tilt, one.blade_height)
        if one.passes_written is not None:
            _check_stops(self.stock, one.passes_written, field("passes"))
            assert not isinstance(one, RabbetSetup) and one.blade_height is not None  # which has passes has a height
            _check_last_pass(one.blade_height, one.passes_written, field("passes"))


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
        _check_last_pass(self.setup.blade_height, passes)
        return WholeScene.model_construct(**dict(self) | {"passes": passes})

    def left_open(self) -> Scene:
        """Return the scene with its blade alone, set-up and passes left to be worked out."""
        return Scene.model_construct(**dict(self) | {"blades": (), "setup": None, "passes": None})


class WholeScene(SetUpScene):
    """A scene with nothing left out: it can be cut."""

    passes: Passes


def _check_height(field: str, saw: Saw, tool: Tool, tilt: float, top: float) -> None:
    highest = highest_setting(tool, tilt)
    if top >= highest:
        raise SceneError(
            field,
            "{value} would bring the blade's centre up to the table",
            "write less than {limit:down}",
            value=length(top),
            limit=length(highest),
        )
    if saw.max_height is not None and top > saw.max_height:
        raise SceneError(
            field,
            "{value} is more than the saw can raise it, {limit:down}",
            "write at most that",
            value=length(top),
            limit=length(saw.max_height),
        )


def _check_last_pass(top: float, passes: Passes, of_several: str = "") -> None:
    if abs(top - passes.heights[-1]) > SAME_HEIGHT:
        raise SceneError(
            of_several or "passes.heights",
            f"the last pass is at {{value}} and {'' if of_several else 'setup.'}blade_height is {{limit}}",
            "make the last height and blade_height the same",
            value=length(passes.heights[-1]),
            limit=length(top),
        )


def _check_stops(stock: Stock, passes: Passes, field: str = "passes.stop") -> None:
    for stop in passes.stops:
        if stop is not None and stop > stock.length:
            raise SceneError(
                field,
                "{value} is more than the stock's length, {limit:down}",
                'write at most that, or "through"',
                value=length(stop),
                limit=length(stock.length),
            )
