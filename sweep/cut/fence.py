"""How the fence is set without a protractor: by tape on the table, by strips over the blade, by a set-up block.

Everything here is of the blade at its full height, the height of the last pass. Machine frame: x to the
right of the blade's mid-plane as it passes the table, y away from the operator, the blade's centre at 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sweep.cut.blank import wood_section
from sweep.cut.lines_on_table import BESIDE, FeedLine, line_on_table
from sweep.cut.load import Load
from sweep.scene.model import SetUpScene
from sweep.shape import section
from sweep.shape.feed import StraightFeed
from sweep.shape.frame import centre_height
from sweep.tolerance import FINE_CHORD, SAME_HEIGHT


@dataclass(frozen=True)
class Strips:
    """Two parallel strips laid on the table along the feed, both against the rim.

    Parameters
    ----------
    gap : float, mm
        Between their inner edges: the width of the cut at the table.
    left, right : (float, float), mm
        Where each touches the rim, (x, y); the left strip is on the left looking along the feed.
    turn : float or None, rad/mm
        How far they turn when the gap is 1 mm wrong; None where a wider gap is no greater angle.
    """

    gap: float
    left: section.Place
    right: section.Place
    turn: float | None


@dataclass(frozen=True)
class Touch:
    """The place where the rim just touches a set-up block: a piece of moulding left by the last pass, along the fence.

    Parameters
    ----------
    where : str
        ``"left edge"`` or ``"right edge"`` of the cove, looking along the feed, or ``"bottom"``.
    travel : float, mm
        How far the block's leading end has gone past the blade's centre, along the feed.
    from_fence : float, mm
        On the end, from the edge that lies against the fence.
    height : float, mm
        On the end, above the table.
    at : (float, float, float), mm
        The same place in the machine frame.
    """

    where: str
    travel: float
    from_fence: float
    height: float
    at: tuple[float, float, float]


@dataclass(frozen=True)
class FenceLayout:
    """How the fence is set.

    Parameters
    ----------
    angle : float, rad
        Between the fence and the blade's plane.
    side : str
        ``"near"``, the operator's side of the blade, or ``"far"``.
    on_table : bool
        Whether lines are measured at the table's edges; otherwise at lines `beside` the blade's centre.
    face : FeedLine
        The face of the fence.
    opposite : FeedLine
        The other edge of the stock: a second fence, or featherboards.
    clear, clear_opposite : float, mm
        Between each of the two and the blade, up to the fence's height; negative where the blade cuts into it.
    strips : Strips or None
        None when the blade does not reach the table, or a rip runs along it.
    touches : tuple of Touch
        In the order in which a block pushed along the fence meets them; those beside its wood are left out.
    """

    angle: float
    side: str
    on_table: bool
    face: FeedLine
    opposite: FeedLine
    clear: float
    clear_opposite: float
    strips: Strips | None
    touches: tuple[Touch, ...]

    @property
    def has_second(self) -> bool:
        """Whether a second fence can stand at the stock's other edge: not where the blade would cut it or at a rip."""
        return self.angle > 0.0 and self.clear_opposite >= -FINE_CHORD


def fence_on_table(scene: SetUpScene, beside: float = BESIDE) -> FenceLayout:
    """Return how the fence is set.

    Parameters
    ----------
    scene : SetUpScene
        With a set-up.
    beside : float, mm
        Where the scene has no table: how far from the blade's centre, either way, to measure.
    """
    return _laid(scene, beside)


@lru_cache(maxsize=16)  # flags, words and drawings ask
def _laid(scene: SetUpScene, beside: float) -> FenceLayout:
    setup, half = scene.setup, scene.stock.width / 2
    left, right = _blade_across(scene)
    beside_edges = setup.offset - half, left - (setup.offset - half)
    beyond_edges = setup.offset + half, setup.offset + half - right
    near = setup.fence_side == "near"
    (face, clear), (opposite, clear_opposite) = (beyond_edges, beside_edges)[:: 1 if near else -1]
    return FenceLayout(
        angle=setup.fence_angle,
        side=setup.fence_side,
        on_table=scene.saw.edges is not None,
        face=line_on_table(scene, face, beside),
        opposite=line_on_table(scene, opposite, beside),
        clear=clear,
        clear_opposite=clear_opposite,
        strips=None if scene.feed.along_blade else strips_on_table(scene),
        touches=() if scene.feed.along_blade else touches_of_block(scene),
    )


def _blade_across(scene: SetUpScene) -> tuple[float, float]:
    """Return how far across from its centre the blade reaches, left and right, up to the fence's height, mm."""
    height = scene.fence.height or scene.stock.thickness
    cut = section.cut_section(scene.tool, StraightFeed(scene.setup.fence_angle), scene.tilt, scene.setup.blade_height)
    return section.sides_of(section.within(cut, section.stock_section(10 * scene.tool.radius, height)))


def strips_on_table(scene: SetUpScene) -> Strips | None:
    """Return the strips, or None when the blade does not reach the table.

    Notes
    -----
    The gap is the greatest less the least of u = x cos(angle) - y sin(angle) over the rim at the table. Both are
    extremes, so the gap grows with the angle as it would between two fixed points: -dx sin(angle) - dy cos(angle).
    """
    feed = scene.feed
    touches = section.touches_at_table(scene.tool, feed, scene.tilt, scene.setup.blade_height)
    if touches is None:
        return None
    apart = np.subtract(touches[1], touches[0])
    growth = -float(apart @ feed.direction[:2])
    return Strips(float(apart @ feed.across[:2]), *touches, 1 / growth if growth > 0 else None)


def touches_of_block(scene: SetUpScene) -> tuple[Touch, ...]:
    """Return where the rim touches a set-up block's end: at both edges of the cove and at its bottom.

    A flat bottom, of a kerf that stands upright, is touched from one of its ends to the other. Where an earlier set-up
    took the wood nothing is touched.
    """
    tool, feed, tilt, half = scene.tool, scene.feed, scene.tilt, scene.stock.width / 2
    top, rise = scene.setup.blade_height, tool.rise_above_centre(tilt)
    up = centre_height(tool, tilt, top) / math.cos(tilt)
    highest = [
        ((up + r) * math.sin(tilt) + a * math.cos(tilt), 0.0, top)
        for a, r in tool.profile
        if r * math.cos(tilt) - a * math.sin(tilt) > rise - SAME_HEIGHT
    ]
    places = [("bottom", place) for place in dict.fromkeys((highest[0], highest[-1]))]
    strips = strips_on_table(scene)
    if strips is not None:
        places += [("left edge", (*strips.left, 0.0)), ("right edge", (*strips.right, 0.0))]
    touches, wood = [], wood_section(scene.stock)
    for where, place in places:
        y = float(feed.across @ place) - feed.offset
        if section.holds(wood, np.array([[y, place[2]]])).all():
            from_fence = half - y if scene.setup.fence_side == "near" else half + y
            touches.append(Touch(where, float(feed.direction @ place), from_fence, place[2], place))
    return tuple(sorted(touches, key=lambda touch: touch.travel))


@dataclass(frozen=True)
class Pull:
    """How the passes press the work against the fence: estimates, N, negative off the fence.

    Parameters
    ----------
    least, most : float, N
        Of the usual value, over the passes that cut.
    low, high : float, N
        The least and the most of their bands.
    heaviest : int
        The pass that takes most power, from 1.
    pulled, pressed : float, N
        What the teeth pull in that pass, and what their sides press, both positive into the fence; usual values.
    """

    least: float
    most: float
    low: float
    high: float
    heaviest: int
    pulled: float
    pressed: float


def pull_on_fence(loads: Sequence[Load]) -> Pull | None:
    """Return how the passes press the work against the fence; None where nothing is cut or known of the wood."""
    bands = [load.band for load in loads]
    cutting = [band for band in bands if band is not None and band[1].power > 0]
    if not cutting:
        return None
    usual = [forces.fence for _, forces, _ in cutting]
    band = [forces.fence for three in cutting for forces in three]
    _, heaviest = max((load.power or 0.0, number) for number, load in enumerate(loads, start=1))
    load = loads[heaviest - 1]
    pulled, whole = load.pulled or 0.0, 0.0 if load.usual is None else load.usual.fence
    return Pull(min(usual), max(usual), min(band), max(band), heaviest, pulled, whole - pulled)
