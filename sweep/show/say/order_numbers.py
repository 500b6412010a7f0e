"""The `cut_list` table of `result.json`, with the unit in each name."""

from __future__ import annotations

from typing import Any

from sweep.cut.job import Job
from sweep.plan.boards import Bar
from sweep.plan.cutlist import cut_list, leftover


def cut_list_result(job: Job) -> dict[str, Any] | None:
    """Return every figure of the cut list, or None when nothing is ordered."""
    cut = cut_list(job)
    if cut is None:
        return None
    kerf = job.scene.order.saw_kerf
    return {
        "pieces": [
            {
                "name": piece.name,
                "length_mm": piece.length,
                "inner_length_mm": piece.inner_length,
                "mitred_ends": piece.mitres,
                "rough_length_mm": piece.rough,
            }
            for piece in cut.pieces
        ],
        "blanks": [_strips(bar, kerf) for bar in cut.blanks],
        "blanks_are_fewest": cut.blanks_least,
        "blank_length_mm": cut.blank_length,
        "least_length_mm": cut.least_length,
        "spares": cut.spares,
        "passed": cut.passed,
        "setup_blocks": cut.setup_blocks,
        "setup_block_length_mm": cut.setup_block_length,
        "boards": [
            {"length_mm": length} | _strips(bar, kerf)
            for length, bar in zip(cut.board_lengths, cut.boards, strict=True)
        ],
        "boards_length_mm": sum(cut.board_lengths),
        "boards_are_least": cut.boards_least,
        "time_at_saw_s": cut.seconds,
    }


def _strips(bar: Bar, kerf: float) -> dict[str, Any]:
    return {
        "strips": [
            {"parts": [part.name for part in strip], "left_over_mm": leftover(bar.length, strip, kerf)}
            for strip in bar.strips
        ]
    }
