"""What every means is measured with: the job, its exact answer in closed form, and two errors.

The answer comes from plane geometry alone (an untilted, flat-topped blade cuts a piece of an ellipse,
drawn apart by the kerf), not from the code that is timed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from oracles import disc_section_area

from sweep.scene.model import Scene

CHORD = 0.01
"""mm. The tolerance of the job, for every means that has one."""

TRUE_CHORD = 1e-7
"""mm. How finely the exact outline is drawn: far below any error worth showing."""

SAMPLE = 0.02
"""mm. Spacing of the points at which two outlines are compared."""


@dataclass(frozen=True, eq=False)
class Outcome:
    """What a means has made.

    Parameters
    ----------
    left : sequence of float, mm3
        What is left of the stock after each of the stages it made, the last of them the last pass.
    outlines : sequence of (k, 2, 2) float, mm
        Pieces of the finished section in (y, z), at one or more stations.
    triangles : int or None
        Of the finished solid.
    """

    left: Sequence[float]
    outlines: Sequence[NDArray[np.float64]]
    triangles: int | None = None


@dataclass(frozen=True)
class Job:
    """A scene of through passes with an untilted, flat-topped blade on the centreline."""

    scene: Scene

    @property
    def radius(self) -> float:
        return self.scene.tool.radius

    @property
    def kerf(self) -> float:
        return self.scene.tool.kerf

    @property
    def angle(self) -> float:
        return self.scene.setup.fence_angle

    @property
    def heights(self) -> tuple[float, ...]:
        return self.scene.passes.heights

    @property
    def box(self) -> tuple[float, float, float]:
        """Length, width and thickness of the stock, mm."""
        return self.scene.stock.length, self.scene.stock.width, self.scene.stock.thickness

    def cut_area(self, height: float) -> float:
        """Return the exact area of the cove at one blade height, mm2."""
        return disc_section_area(self.radius, self.kerf, self.angle, height)

    def cove(self, height: float, step: float) -> NDArray[np.float64]:
        """Return points of the exact cove from edge to edge, (n, 2), mm, at most one rim angle `step` apart."""
        reach = math.acos(1 - height / self.radius)
        rim = np.linspace(0.0, reach, math.ceil(reach / step) + 1)
        half = np.column_stack(
            [
                self.radius * np.sin(rim) * math.sin(self.angle) + self.kerf / 2 * math.cos(self.angle),
                height - self.radius * (1 - np.cos(rim)),
            ]
        )
        return np.vstack([half[::-1] * [-1, 1], half])

    def finished_outline(self) -> NDArray[np.float64]:
        """Return the exact outline of the finished section, pieces (k, 2, 2), mm."""
        _, width, thickness = self.box
        cove = self.cove(self.heights[-1], 2 * math.acos(1 - TRUE_CHORD / self.radius))
        cove[[0, -1], 1] = 0.0
        sides = [(width / 2, 0.0), (width / 2, thickness), (-width / 2, thickness), (-width / 2, 0.0)]
        ring = np.vstack([cove, sides])
        area = width * thickness - shapely.Polygon(ring).area
        assert math.isclose(area, self.cut_area(self.heights[-1]), rel_tol=1e-7), "two closed forms disagree"
        return closed(ring)

    def volume_error(self, outcome: Outcome) -> float:
        """Return the wood wrongly left or taken, summed over the stages made, as a share of all they should take."""
        length, width, thickness = self.box
        exact = np.array([length * self.cut_area(height) for height in self.heights[-len(outcome.left) :]])
        taken = length * width * thickness - np.array(outcome.left)
        return float(np.abs(taken - exact).sum() / exact.sum())

    def section_error(self, outcome: Outcome) -> float:
        """Return the largest distance between the finished section's outline and the exact one, either way, mm."""
        exact = self.finished_outline()
        return max(_apart(pieces, exact) for pieces in outcome.outlines)


def closed(ring: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the pieces, (n, 2, 2), between the points, (n, 2), of a closed outline."""
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def stations(middle: float, span: float) -> Iterable[float]:
    """Return stations across one span of the stock, for what repeats along the feed, mm."""
    return np.linspace(middle, middle + span, 9)


def _apart(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    return max(_furthest(one, other), _furthest(other, one))


def _furthest(of: NDArray[np.float64], to: NDArray[np.float64]) -> float:
    """Return the largest distance of one set of pieces, (k, 2, 2), from another."""
    points = shapely.points(shapely.get_coordinates(shapely.segmentize(shapely.linestrings(of), SAMPLE)))
    _, away = shapely.STRtree(shapely.linestrings(to)).query_nearest(points, return_distance=True, all_matches=False)
    return float(away.max())
