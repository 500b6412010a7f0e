"""What a phone says of measurements: the sentences of `sweep correct`, and a few that only a phone needs."""

from __future__ import annotations

from sweep.plan.correct.measured import INSIDE, wood_beside
from sweep.show.say.correct import WORDS
from sweep.show.say.report import Report

SAYS = WORDS | {
    "name_fence": "Fence angle",
    "name_height": "Blade height",
    "name_offset": "Offset",
    "set_to": "set to {meant}",
    "beyond_table": (
        "These figures are further from what was set than this page can tell of, or of another pass: measure again, or "
        "ask sweep correct."
    ),
    "beyond_limits": "No passes from here keep within the limits: plan them anew.",
    "pass_left": "{height} high, up {rise}, then {width} wide",
}
"""Sentences by name, with places for figures."""


def has_edges(report: Report, number: int) -> bool:
    """Return whether a pass leaves both edges of its cove on the face that lay on the table, to be measured between.

    A rip does not, nor a cove that meets what an earlier set-up took. One that runs off the stock is measured from
    there.
    """
    taken, half = report.job.sections[number - 1], report.scene.stock.width / 2
    if taken.edges is None or report.scene.feed.along_blade:
        return False
    flats = zip(wood_beside(taken.edges, taken.left), taken.edges, strict=True)
    return all(there or abs(edge) + INSIDE >= half for there, edge in flats)
