"""Drawers of profiles, some soon worked out and some drawn by chance, a rack, and an executor that works at once."""

from __future__ import annotations

from concurrent.futures import Executor, Future
from contextlib import contextmanager
from math import atan2, radians
from pathlib import Path

import numpy as np

from sweep.shape.outline import curves, settings
from sweep.shape.tool import Tool, alternate_bevel, flat_tips

SHOP = """[saw]
speed = "4000 rpm"
[[blades]]
name = "10 in"
teeth = 40
diameter = "10 in"
kerf = "1/8 in"
[[blades]]
name = "thin"
teeth = 60
diameter = "190 mm"
kerf = "2.4 mm"
"""

COVE = """[stock]
length = "300 mm"
width = "60 mm"
thickness = "20 mm"
[target]
shape = "cove"
width = "{width} mm"
depth = "{depth} mm"
"""


def drawer(folder: Path, coves: int) -> Path:
    """Make a folder of a shop and so many plain coves, all different; return it."""
    folder.mkdir(parents=True)
    (folder / "shop.toml").write_text(SHOP)
    for number in range(coves):
        (folder / f"cove-{number}.toml").write_text(COVE.format(width=24 + number, depth=2 + number / 10))
    return folder


class AtOnce(Executor):
    """Does everything in this process, when it is asked."""

    def submit(self, work, /, *given, **more):
        """Return a future that is done."""
        future = Future()
        try:
            future.set_result(work(*given, **more))
        except Exception as wrong:
            future.set_exception(wrong)
        return future


@contextmanager
def at_once():
    """Give it as `work.worked_out` wants it."""
    yield AtOnce(), 1


RACK: dict[str, Tool] = {
    f"{diameter} x {kerf}{' bevelled' if bevel else ''}": alternate_bevel(diameter / 2, kerf, radians(15))
    if bevel
    else flat_tips(diameter / 2, kerf)
    for diameter, kerf, bevel in [
        (160, 2.2, False), (184, 1.8, True), (190, 2.4, False), (203, 3.2, False), (210, 2.6, True), (216, 2.6, False),
        (235, 2.8, False), (250, 3.2, True), (254, 2.4, False), (254, 3.2, False), (300, 3.2, True), (315, 3.0, False),
    ]
}  # fmt: skip
"""Twelve blades of sizes that are sold: common practice, from memory; many are all but alike."""


def chance_lines(count: int, seed: int, points: int = 61) -> list[np.ndarray]:
    """Return lines of one cove each, (points, 2) mm, by turns arcs, half ellipses, flattened ones, skewed and leaning
    ones, and curves of blades that are not in the rack.
    """
    chance = np.random.default_rng(seed)
    found = []
    for number in range(count):
        width = chance.uniform(20, 100)
        depth = chance.uniform(0.1, 0.35) * width
        u = np.linspace(-1, 1, points)
        match number % 6:
            case 0:
                radius = (width**2 / 4 + depth**2) / (2 * depth)
                turn = u * atan2(width / 2, radius - depth)
                line = np.column_stack([radius * np.sin(turn), depth - radius + radius * np.cos(turn)])
            case 1:
                line = np.column_stack([width / 2 * np.sin(u * np.pi / 2), depth * np.cos(u * np.pi / 2)])
            case 2:
                line = np.column_stack([width / 2 * u, depth * (1 - np.abs(u) ** chance.uniform(1.6, 3))])
            case 3:
                line = np.column_stack([width / 2 * u, depth * (1 - u * u) * (1 + chance.uniform(-0.3, 0.3) * u)])
            case kind:
                tool = flat_tips(chance.uniform(80, 160), chance.uniform(2, 4))
                tilt = chance.uniform(0, 0.6) if kind == 4 else 0.0
                line = curves(tool, settings(chance.uniform(0.15, 0.9), tilt, chance.uniform(4, 25)), 10)[0]
                line = line - ((line[0, 0] + line[-1, 0]) / 2, 0.0)
        line[[0, -1], 1] = 0.0
        found.append(line)
    return found
