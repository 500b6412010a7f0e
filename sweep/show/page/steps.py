"""The order of work as the page shows it: numbered steps with their figures and cautions, in words."""

from __future__ import annotations

from typing import Any

from sweep.show.say.cautions import cautions
from sweep.show.say.report import Report


def steps_model(report: Report) -> list[dict[str, Any]]:
    """Return the steps ready for JSON; a caution stands with the first step that asks for it."""
    left = {one.key: one for one in cautions(report.scene, report.layout, report.units)}
    steps = []
    for step in report.steps:
        asked = [left.pop(key) for key in step.cautions if key in left]
        steps.append(
            {
                "name": step.name,
                "words": step.words,
                "picture": step.picture,
                "settings": [[one.name, one.shown] for one in step.settings],
                "cautions": [[one.name, one.words] for one in asked],
                "passes": step.passes,
            }
        )
    return steps
