"""What share of each limit a pass takes: the one measure for flags, tables, pictures and the planner."""

from __future__ import annotations

from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.cut.push import push_of
from sweep.scene.model import SetUpScene


def shares_of(scene: SetUpScene, one: Pass, area: float, load: Load) -> dict[str, float]:
    """Return the share of each limit, 1 at the limit, by name; forces that are not known are left out.

    Power is held against what the motor gives the arbor; power, push and deflection at their usual values. A straight
    rip has no limit of rise and area: those are for oblique cuts.
    """
    limits = scene.limits
    shares = {
        "chip": load.chip_thickness_max / limits.chip_thickness,
        "gullet": load.gullet_fill / limits.gullet_fill,
    }
    if not scene.feed.along_blade:
        shares = {"rise": one.rise / limits.rise, "area": area / limits.area} | shares
    if load.usual is not None:
        shares["push"] = max(0.0, push_of(scene, load.usual)) / limits.push
        if scene.saw.motor is not None:
            shares["power"] = load.usual.power / (scene.saw.motor * scene.saw.efficiency)
    if load.deflection is not None:
        shares["plate"] = load.deflection / limits.side_deflection
    return shares


def governing(shares: dict[str, float]) -> str:
    """Return the name of the limit that a pass comes closest to."""
    return max(shares, key=shares.__getitem__)


def thinnest_chip(scene: SetUpScene, last: bool) -> float:
    """Return the greatest thickness, mm, below which an edge is said to rub; a last, cleaning pass may take half."""
    return scene.limits.thin_chip / (2 if last else 1)
