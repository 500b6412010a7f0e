"""What is written over the picture where one looks square on it: drawn already, ready for JSON."""

from __future__ import annotations

from typing import Any

from sweep.show.draw.forces import force_arrows
from sweep.show.draw.over_picture import Over, over_section, over_table
from sweep.show.draw.paint_svg import svg_of
from sweep.show.draw.section import frame_of
from sweep.show.say.report import Report

ROOMS = ((100.0, 66.0), (140.0, 92.0))
"""mm. Width and height of the room for a drawing, on a phone and on a desk."""


def over_pictures(report: Report) -> dict[str, list[dict[str, Any]]]:
    """Return by the name of the view what is written over it, drawn for pictures of some width."""
    outcome, units, job = report.outcome, report.units, report.job
    seen: dict[str, list[dict[str, Any]]] = {"above": [], "section": []}
    for width, height in ROOMS:
        table = over_table(job.scene, report.layout, job.loads, units, width, height)
        section = over_section(outcome, units, frame_of(outcome, units, width, height))
        middle = (
            job.scene.setup.offset * job.scene.feed.across
        ).tolist()  # of the stock, abreast of the blade's centre
        seen["above"].append(_drawn(table, [0.0, 0.0, 0.0], f"above-{width:g}"))
        seen["section"].append(_drawn(section, middle, f"over-{width:g}"))
    return seen


def pull_of(report: Report) -> list[list[str]]:
    """Return for each pass what its lettered arrows say."""
    scene, units = report.scene, report.units
    return [
        [f"{letter} {one.label(units)}" for letter, one in zip("ABC", force_arrows(scene, load, units), strict=False)]
        for load in report.job.loads
    ]


def _drawn(over: Over, at: list[float], name: str) -> dict[str, Any]:
    always, passes = over.always, over.passes
    return {
        "width": always["width"],
        "height": always["height"],
        "at": at,
        "origin": over.origin,
        "scale": over.scale,
        "always": svg_of(always, "", name),
        "passes": [svg_of(one, "", f"{name}-{number}") for number, one in enumerate(passes, start=1)],
    }
