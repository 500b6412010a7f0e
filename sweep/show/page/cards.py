"""What stands on which card of the page, in a maker's order, and what of it is seen first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Group:
    """Some keys of one table.

    Parameters
    ----------
    section : str
        The table: empty for the top of the scene. Of a list, the group is repeated for each table in it.
    first : tuple of str
        Names of the keys that are seen at once, in order; the others follow under "more".
    heading : str
    folded : bool
        Whether it is seen only when it is asked for.
    alone : bool
        Whether nothing follows those first keys.
    """

    section: str
    first: tuple[str, ...]
    heading: str = ""
    folded: bool = False
    alone: bool = False


@dataclass(frozen=True)
class Card:
    """One card: its name on the page, its heading, its groups."""

    name: str
    heading: str
    groups: tuple[Group, ...]


_AS_SET = ("blade_height", "blade_tilt", "offset", "fence_side", "face", "ends")

CARDS = (
    Card(
        "wood",
        "Wood",
        (Group("", ("title",)), Group("stock", ("length", "width", "thickness", "species"))),
    ),
    Card(
        "marks",
        "Marks",
        (Group("target", ("shape", "width", "depth", "shoulders", "wood_above", "points", "file")),),
    ),
    Card(
        "saw",
        "Saw and blade",
        (
            Group("blade", ("name", "diameter", "kerf", "teeth", "tip", "bevel"), "Blade"),
            Group("saw", ("speed", "motor", "max_height"), "Saw"),
            Group("fence", ("length",), "Fence"),
        ),
    ),
    Card("setup", "Set-up", (Group("setup", ("fence_angle", "blade_height", "blade_tilt", "offset", "fence_side")),)),
    Card(
        "passes",
        "Passes",
        (
            Group("passes", ("feed_speed", "last_feed_speed", "stop")),
            Group("plan", (), "Where they are planned", folded=True),
        ),
    ),
    Card(
        "setups",
        "Set-ups",
        (
            Group("setups", ("do", "name", "fence_angle", "edge", "at", "width", "depth", *_AS_SET)),
            Group("plan", (), "Where passes are planned", folded=True),
        ),
    ),
    Card("after", "After the cove", (Group("finish", ()), Group("sanding", (), "Sanding block"))),
    Card(
        "order",
        "Order",
        (
            Group("order", ("lengths", "rectangle", "wrap", "sides", "copies", "spares", "boards", "board_width")),
            Group("panel", (), "A panel that it borders"),
        ),
    ),
    Card(
        "limits",
        "Limits",
        (
            Group("limits", ("rise", "area", "wood_above", "shoulder")),
            Group("accuracy", (), "How exactly it is set"),
        ),
    ),
    Card(
        "made",
        "What was made",
        (
            Group("kept", ("date", "block", "notes"), "Kept"),
            Group("measured", ("width", "depth", "flat", "points", "after_pass", "setup", "accuracy")),
        ),
    ),
)
"""Every card; of `setup` with `passes`, and `setups`, one or the other is shown."""


def cards_for(data: dict[str, Any]) -> tuple[Card, ...]:
    """Return the cards of a scene: those of one set-up, or that of several."""
    not_shown = ("setup", "passes") if "setups" in data else ("setups",)
    return tuple(card for card in CARDS if card.name not in not_shown)


ONLY_FOR = {
    "target.width": ("cove", "arc", "ellipse"),
    "target.depth": ("cove", "arc", "ellipse"),
    "target.shoulders": ("cove",),
    "target.wood_above": ("cove",),
    "target.points": ("points",),
    "target.file": ("points",),
    "target.whole": ("points",),
}
"""Keys that go with some shapes of the target only; with others they are shown where something stands in them."""
