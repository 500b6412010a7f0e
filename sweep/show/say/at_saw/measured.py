"""What a phone says of measurements: the sentences of `sweep correct`, and a few that only a phone needs."""

from __future__ import annotations

from sweep.show.say.correct import WORDS

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
