"""What a phone says of measurements: the sentences of `sweep correct`, and a few that only a phone needs."""

from __future__ import annotations

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
    "pass_left": "{height} high, {by}{turns}; {goes}; then {width} wide",
    "up": "up {by}",
    "down": "down {by}",
    "turns": ", {turns} turns",
}
"""Sentences by name, with places for figures."""


def goes_on(report: Report) -> list[str]:
    """Return of each pass how fast it is fed, and where it halts: what a pass that takes its wood keeps to."""
    own, units = report.scene.passes, report.units
    return [
        f"feed {units.feed(speed)}" + ("" if stop is None else f", halt {units.tape(stop)} past the blade's centre")
        for speed, stop in zip(own.feed_speeds, own.stops, strict=True)
    ]
