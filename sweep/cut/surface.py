"""The marks that the tooth corners of the last pass leave along the finished profile: how high, how far apart.

Seen from the stock every tooth runs round the same circle, one feed per tooth further on than the tooth before: the
feed during a stroke is the same for all. So a row of still tools, each moved on by f, leaves the finished surface. The
ridges are the wood that this row leaves and the tool, drawn along without a break, would take.

Derived by us. Look along the rim at rim angle p. A corner of the tool is a wedge between two faces with the outward
normals m and n; on a square tooth they are the side, along the arbor, and the top, along the radius. From tooth to
tooth the corner moves by f v, with v = (d . arbor, d . radius) and

    d . arbor = sin(theta) cos(beta),    d . radius = sin(theta) sin(beta) sin(p) + cos(theta) cos(p).

It stays on the surface where one face runs ahead and the other behind, (v . m) (v . n) < 0. Two wedges a step apart
then leave a triangle of wood between them, whose height over the line of the corners is

    f |v . m| |v . n| / (|v| |m x n|)

and for a square tooth, untilted, f sin(theta) cos(theta) |cos p| / sqrt(sin^2 theta + cos^2 theta cos^2 p): nothing at
the bottom, most at the edges, in proportion to f. Which corner it is follows from the signs: d . arbor is positive,
so the corner a = -k/2 stays on the surface where d . radius is positive, the left flank looking along the feed, and
a = +k/2 where it is negative, the right flank. They change over where d . radius = 0, which is p = 90 deg untilted
and cos p = -tan(theta) sin(beta) sin p tilted: there the top edge runs along the surface and leaves the flat of the
kerf, with only the scallops of the round rim, (f |d in the blade's plane|)^2 / (8 R), hundreds of times lower. They
are the floor under all ridges here.

Alternate bevels leave the corner of a flank to every second tooth. A shaped cutter is taken as it is written, straight
edges and sharp corners: where its polyline stands for a curve, the ridges are those of the facets and shrink with them.
Steps are taken as small beside the kerf. This is the geometry of sharp, rigid teeth: tear-out, vibration and what
wood fibres do are not in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from sweep.cut.blank import wood_section
from sweep.cut.kerf_marks import kerf_marks
from sweep.cut.passes import feed_per_tooth, passes_of
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.shape.frame import centre_height
from sweep.shape.outline import curves, settings
from sweep.shape.plane import Plane

Array = NDArray[np.float64]

CHORDS = 200
"""Chords to each smooth piece of the profile at which ridges are given."""

ON_CIRCLE = 1e-9
"""mm. A point of the exact curve this close to a circle of the tool was left by it: rounding."""

STRAIGHT = 1e-12
"""Sine of the angle at a corner below which its faces are one straight line, and no corner: rounding."""


@dataclass(frozen=True)
class Surface:
    """The tooth marks along the finished profile, as the last pass leaves them.

    Parameters
    ----------
    points : tuple of (y, z), mm
        Along the profile from the left edge to the right one, stock frame; none when the pass misses the stock.
    ridges : tuple of float, mm
        Height of the marks at each point, square to the surface, from the bottom of a mark to the crest.
    spacing : float, mm
        From mark to mark, along the feed.
    feed_per_tooth : float, mm
    crest : float
        At the largest: how far the crest stands from one mark towards the next, along x; 0 to 1. Equal teeth.
    slant : float
        At the largest: how far the line of a mark runs along x, for each mm along the section away from the table.
    equal : float, mm
        The highest ridge of teeth that are equal and run true: the least there can be.
    of_rip : bool
        Whether they are those of a straight cut; see `kerf_marks.py`.
    """

    points: tuple[tuple[float, float], ...]
    ridges: tuple[float, ...]
    spacing: float
    feed_per_tooth: float
    crest: float
    slant: float
    equal: float
    of_rip: bool = False

    @property
    def largest(self) -> float:
        """The height of the highest ridge, mm."""
        return max(self.ridges, default=0.0)

    @property
    def where(self) -> tuple[float, float] | None:
        """Where the highest ridge is, (y, z) mm; None when there is none."""
        return self.points[self.ridges.index(self.largest)] if self.points else None

    @property
    def sanding_depth(self) -> float:
        """How much must come off to reach the bottom of every mark, mm: the highest ridge."""
        return self.largest

    @property
    def ridge_per_feed(self) -> float:
        """The highest ridge for each mm of feed per tooth. Equal teeth: half the last feed leaves half the ridge."""
        return self.equal / self.feed_per_tooth


def surface_of(
    scene: WholeScene, runout: float | None = None, wobble: float | None = None, number: int | None = None
) -> Surface:
    """Return the tooth marks that a pass leaves.

    Parameters
    ----------
    scene : WholeScene
        With its set-up and passes.
    runout : float or None, mm
        How far one tooth stands proud of all others, along the radius; None for what the scene says.
    wobble : float or None, mm
        How far the rim moves to and fro along the arbor in a turn; None for what the scene says.
    number : int or None
        The pass, from 1; None for the last.

    Notes
    -----
    Run-out, derived by us. Let equal teeth leave ridges h(f). The one proud by `runout` reaches deeper, square to the
    surface, by e = (runout |d . arbor| + wobble |d . radius|) / |v|, the wobble's part at most. Alone it would leave
    h(z f); the others cut down whatever stands higher than their own ridges, e + h(f) above its marks. So ridges are
    min(h(z f), e + h(f)). That is exact at both ends, but for terms of second order; between them it is too high, by
    less than h(f). With any run-out marks repeat once a turn, z f. The eye sees that spacing, and it is returned, where
    e is more than h(f) at the largest ridge. With alternate bevels the proud tooth marks one flank only; both are
    returned as if it marked them.
    """
    runout = scene.blade.runout if runout is None else runout
    wobble = scene.blade.wobble if wobble is None else wobble
    if runout < 0.0 or wobble < 0.0:
        raise ValueError("run-out and wobble must not be negative")
    last = passes_of(scene)[(number or 0) - 1]
    per_tooth = feed_per_tooth(scene, last)
    step = per_tooth * scene.blade.stagger
    turn = per_tooth * max(scene.blade.teeth, scene.blade.stagger)

    nothing = Surface((), (), step, per_tooth, 0.5, 0.0, 0.0)
    if scene.feed.along_blade:
        return _of_a_rip(scene, last.height, nothing, turn, runout, wobble)
    setup = settings(scene.setup.fence_angle, scene.tilt, last.height, scene.setup.offset)
    (points,) = curves(scene.tool, setup, CHORDS)
    points = points[np.append(np.diff(points, axis=0).any(axis=1), True)]  # pieces of no length repeat a point
    points = points[np.abs(points[:, 0]) <= scene.stock.width / 2]
    if scene.stock.blank is not None:
        points = points[section.holds(wood_section(scene.stock), points)]
    if not len(points):
        return nothing
    marks = _marks(scene, points, last.height)
    floor = _scallop(scene)
    equal = np.maximum(step * marks.height, step**2 * floor)
    proud = runout * marks.radial + wobble * marks.axial
    ridges = np.minimum(np.maximum(turn * marks.height, turn**2 * floor), equal + proud)
    top = int(np.argmax(ridges))
    return Surface(
        points=tuple(map(tuple, points.tolist())),
        ridges=tuple(ridges.tolist()),
        spacing=turn if proud[top] > equal[top] else step,
        feed_per_tooth=per_tooth,
        crest=float(marks.crest[top]),
        slant=float(marks.slant[top]),
        equal=float(equal.max()),
    )


def _of_a_rip(
    scene: WholeScene, blade_height: float, nothing: Surface, turn: float, runout: float, wobble: float
) -> Surface:
    """Return the marks of a straight cut: scallops of the rim at its bottom, on its walls what a wobbling rim leaves.

    `nothing` is the surface without them.
    """
    marks, floor = kerf_marks(scene, blade_height), _scallop(scene)
    if not len(marks.points):
        return nothing
    equal = np.where(marks.on_wall, 0.0, nothing.spacing**2 * floor)
    proud = np.minimum(np.maximum(turn**2 * floor, equal), equal + runout)
    ridges = np.where(marks.on_wall, wobble, proud)
    top = int(np.argmax(ridges))
    return replace(
        nothing,
        points=tuple(map(tuple, marks.points.tolist())),
        ridges=tuple(ridges.tolist()),
        spacing=turn if ridges[top] > equal[top] else nothing.spacing,
        equal=float(equal.max()),
        of_rip=True,
    )


@dataclass(frozen=True, eq=False)
class _Marks:
    """At each point, (n,): ridge for each mm of step, shares of run-out and wobble square to it, crest and slant."""

    height: Array
    radial: Array
    axial: Array
    crest: Array
    slant: Array


def _marks(scene: WholeScene, points: Array, blade_height: float) -> _Marks:
    """Return the marks at points on the exact curve: of the corner whose circle runs through each."""
    tool, feed, tilt = scene.tool, scene.feed, scene.tilt
    plane, centre = Plane(feed.fence_angle, tilt), centre_height(tool, tilt, blade_height)
    east, north, _ = feed.direction
    none = np.zeros(len(points))
    marks = _Marks(none.copy(), none + 1.0, none.copy(), none + 0.5, none.copy())
    # back from the section to the plane in which the tool's circles are true circles
    lean = points[:, 1] * math.tan(tilt) * math.cos(feed.fence_angle)
    flat = np.column_stack(
        [(points[:, 0] + feed.offset - lean) / math.sin(feed.fence_angle), points[:, 1] / math.cos(tilt)]
    )
    for (a, r), before, behind in _corners(tool.profile):
        x, z, _ = plane.circle(a, r, centre)
        reach = flat - (x, z)
        cos, sin = -reach[:, 0] / r, reach[:, 1] / r  # of the rim angle
        v = np.column_stack([np.full(len(points), east * math.cos(tilt)), east * math.sin(tilt) * sin + north * cos])
        size = np.hypot(*v.T)
        first, second = v @ before, v @ behind
        turn = before[1] * behind[0] - before[0] * behind[1]  # sine of the angle between the normals; < 0 in a notch
        if turn < STRAIGHT:
            continue
        height = np.abs(first * second) / size / turn
        here = (np.abs(np.hypot(*reach.T) - r) <= ON_CIRCLE) & (first * second < 0) & (height > marks.height)
        v, size, sin, cos = v[here], size[here], sin[here], cos[here]
        # The tool steps by -v through the wood. The crest lies on the face of one tooth that the next one breaks
        # through, and on the other face of the next.
        ahead = (first[here] < 0)[:, None]
        through, other = np.where(ahead, before, behind), np.where(ahead, behind, before)
        along = np.column_stack([-through[:, 1], through[:, 0]])
        crest = along * (-(other * v).sum(axis=1) / (other * along).sum(axis=1))[:, None]
        marks.height[here] = height[here]
        marks.radial[here] = np.abs(v[:, 0]) / size
        marks.axial[here] = np.abs(v[:, 1]) / size
        marks.crest[here] = -(crest * v).sum(axis=1) / size**2
        # along the rim, for each radian and mm of radius: by x, and by the length of the section
        section = plane.to_section(sin, cos)
        by_x = north * sin - east * math.sin(tilt) * cos
        marks.slant[here] = by_x * np.sign(cos) / np.hypot(*section.T)
    return marks


def _corners(profile: tuple[tuple[float, float], ...]) -> list[tuple[tuple[float, float], Array, Array]]:
    """Return each point of a profile with the outward normals, (arbor, radius), of the faces before and behind it."""
    points = [point for point, _ in groupby(profile)]
    normals = [np.array([-1.0, 0.0])]
    for (a1, r1), (a2, r2) in pairwise(points):
        normals.append(np.array([r1 - r2, a2 - a1]) / math.hypot(a2 - a1, r2 - r1))
    normals.append(np.array([1.0, 0.0]))
    return [(point, *faces) for point, faces in zip(points, pairwise(normals), strict=True)]


def _scallop(scene: WholeScene) -> float:
    """Return the height of the scallops of the round rim for a step of 1 mm, 1/mm: they grow with its square."""
    east, north, _ = scene.feed.direction.tolist()
    return float(((east * math.sin(scene.tilt)) ** 2 + north**2) / (8 * scene.tool.radius))
