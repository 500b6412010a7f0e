"""The `fence` table of `result.json`: how the fence is set, with the unit in each name."""

from __future__ import annotations

from typing import Any

from sweep.cut.fence import Strips, fence_on_table, pull_on_fence
from sweep.cut.job import Job
from sweep.cut.lines_on_table import Line, Mark
from sweep.cut.room_on_saw import room_on_table, throat_needed
from sweep.units import degrees


def fence_result(job: Job) -> dict[str, Any]:
    """Return every figure of the fence; x is to the right of the blade's plane, y beyond its centre."""
    scene = job.scene
    layout, room, pull = fence_on_table(scene), room_on_table(scene), pull_on_fence(job.loads)
    long, wide = throat_needed(scene)
    front = scene.saw.front_to_blade
    return {
        "angle_deg": degrees(layout.angle),
        "side": layout.side,
        "measured_at_table_edges": layout.on_table,
        "face": _line(layout.face, front),
        "other_edge": _line(layout.opposite, front),
        "clear_of_blade_mm": layout.clear,
        "other_edge_clear_of_blade_mm": layout.clear_opposite,
        "strips": layout.strips and _strips(layout.strips),
        "touches": [
            {
                "where": touch.where,
                "travel_mm": touch.travel,
                "from_fence_mm": touch.from_fence,
                "height_mm": touch.height,
                "x_mm": touch.at[0],
                "y_mm": touch.at[1],
            }
            for touch in layout.touches
        ],
        "into_fence_least_n": pull and pull.least,
        "into_fence_most_n": pull and pull.most,
        "into_fence_low_n": pull and pull.low,
        "into_fence_high_n": pull and pull.high,
        "throat_length_needed_mm": long,
        "throat_width_needed_mm": wide,
        "fence_length_needed_mm": room and room.fence_length,
        "fence_off_table_mm": room and room.fence_missing,
        "support_before_needed_mm": room and max(0.0, room.before),
        "support_after_needed_mm": room and max(0.0, room.after),
    }


def _line(line: Line, front: float | None) -> dict[str, Any]:
    return {
        "across_mm": line.across,
        "marks": [_mark(mark, front) for mark in line.marks],
        "difference_mm": line.difference,
        "turn_deg_per_mm": None if line.turn is None else degrees(line.turn),
    }


def _mark(mark: Mark, front: float | None) -> dict[str, Any]:
    return {
        "edge": mark.edge,
        "x_mm": mark.x,
        "y_mm": mark.y,
        "from_front_edge_mm": None if front is None else mark.y + front,
        "from_slots_mm": list(mark.from_slots),
    }


def _strips(strips: Strips) -> dict[str, Any]:
    return {
        "gap_mm": strips.gap,
        "left": {"x_mm": strips.left[0], "y_mm": strips.left[1]},
        "right": {"x_mm": strips.right[0], "y_mm": strips.right[1]},
        "turn_deg_per_mm": None if strips.turn is None else degrees(strips.turn),
    }
