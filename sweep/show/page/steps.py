"""The order of work as the page shows it: numbered steps with their figures and cautions, in words."""

from __future__ import annotations

from sweep.show.page.template import filled
from sweep.show.say.cautions import cautions
from sweep.show.say.report import Report


def steps_text(report: Report) -> str:
    """Return the steps as HTML; a caution stands with the first step that asks for it."""
    left = {one.key: one for one in cautions(report.scene, report.layout, report.units)}
    steps = []
    for step in report.steps:
        asked = [left.pop(key) for key in step.cautions if key in left]
        steps.append({"name": step.name, "words": step.words, "cautions": asked})
    return filled("steps.html", steps=steps)
