"""How exactly each setting is set: what the scene says in `[accuracy]`, or what follows from how it is set.

A fence is set by tape at two marks, so its angle and its place are as exact as the tape is at each of them. The
two errors are taken to be independent. A mark's error moves the line across by the cosine or the sine of the angle,
as the mark lies along a front or a side edge; over the distance between the marks that is a turn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sweep.cut.fence import fence_on_table
from sweep.cut.lines_on_table import BESIDE
from sweep.scene.model import WholeScene


@dataclass(frozen=True)
class SettingErrors:
    """One standard deviation of each setting.

    Parameters
    ----------
    fence_angle, blade_tilt : float, rad
    blade_height, offset, kerf : float, mm
    apart : float or None, mm
        How far apart along the fence the marks are from which the angle's error follows; None where the scene says it.
    """

    fence_angle: float
    blade_height: float
    blade_tilt: float
    kerf: float
    offset: float
    apart: float | None


def setting_errors(scene: WholeScene) -> SettingErrors:
    """Return how exactly each setting of a scene is set."""
    accuracy = scene.accuracy
    angle, offset, apart = _by_tape(scene)
    return SettingErrors(
        fence_angle=angle if accuracy.fence_angle is None else accuracy.fence_angle,
        blade_height=accuracy.blade_height,
        blade_tilt=accuracy.blade_tilt,
        kerf=accuracy.kerf,
        offset=offset if accuracy.offset is None else accuracy.offset,
        apart=apart if accuracy.fence_angle is None else None,
    )


def _by_tape(scene: WholeScene) -> tuple[float, float, float]:
    """Return the errors of the fence's angle, rad, and place abreast of the blade, mm, and the marks' distance, mm.

    A fence that misses the table has no marks; then they are taken to lie `BESIDE` the blade's centre either way.
    """
    sin, cos = math.sin(scene.setup.fence_angle), math.cos(scene.setup.fence_angle)
    marks = [
        (mark.x * sin + mark.y * cos, cos if mark.edge in ("front", "rear") else sin)
        for mark in fence_on_table(scene).face.marks
    ] or [(-BESIDE, 1.0), (BESIDE, 1.0)]
    (first, moved_first), (last, moved_last) = marks
    apart, tape = last - first, scene.accuracy.tape
    angle = tape * math.hypot(moved_first, moved_last) / apart
    return angle, tape * math.hypot(moved_first * last, moved_last * first) / apart, apart
