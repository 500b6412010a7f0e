"""What the sheet of one set-up says: its first page, its second page, and what may follow; as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sweep.shape.section import Figure
from sweep.show.draw.fence_sketch import fence_sketch
from sweep.show.draw.full_size import full_size
from sweep.show.draw.section import frame_of, section_drawing
from sweep.show.say.after_the_cove import after_the_cove
from sweep.show.say.finishing import sanding_sentence
from sweep.show.say.profile import marks_of, verdict_of
from sweep.show.say.report import Report
from sweep.show.sheet import first_page, second_page

MANY = 6
"""Flags beyond which their sentences stand at the head of the second page, so that the first holds all the rest."""


def two_pages(report: Report, width: float, height: float, source: str) -> dict[str, Any]:
    """Return what is said of one set-up alone; pages leave so much room, mm."""
    scene, units, job = report.scene, report.units, report.job
    stock = scene.stock
    size = " x ".join(units.length(side) for side in (stock.length, stock.width, stock.thickness))
    return {
        **carried(report, width, verdict_of(report.outcome, units), "job"),
        **templates(report, width, height),
        "part": "shop sheet",
        "facts": [f"{stock.species}, {size}", second_page.blade_words(scene, units)],
        "roomy": scene.order is None and not scene.finish and scene.panel is None,
        "within": report.is_within_tolerance,
        "care": first_page.care(report),
        "order": second_page.order(report),
        "after": after_the_cove(job.finishing, scene, units),
        "fitting": second_page.fitting(report, job),
        "sanding": [text for text in (sanding_sentence(job, units), marks_of(report.surface, units)) if text],
        "settings": second_page.settings(job, units, source),
    }


def carried(report: Report, width: float, verdict: str, called: str) -> dict[str, Any]:
    """Return what is carried to the saw of a set-up: settings, fence, passes, flags, the order of work.

    `called` is what flags that are of no pass are said to be of.
    """
    scene, units, outcome = report.scene, report.units, report.outcome
    return {
        "many": len(report.flags) > MANY,
        "figures": first_page.set_up_figures(scene, units),
        "tape": first_page.fence_by_tape(scene, report.layout, units),
        "passes": first_page.pass_list(report),
        "pass_notes": first_page.pass_notes(scene, units),
        "profile": section_drawing(outcome, units, frame_of(outcome, units, 0.45 * width, 42.0)),
        "verdict": verdict,
        "called": called,
        "flags": in_halves(
            [(called if of == "job" else of, *more) for of, *more in first_page.flagged(outcome, units)]
        ),
        "warnings": len(report.flags),
        "of_the_job": first_page.in_short(outcome.flags_of(None)),
        "work": in_halves(first_page.work(report)),
    }


def templates(report: Report, width: float, height: float, left: Sequence[Figure] = ()) -> dict[str, Any]:
    """Return what is cut out of the paper, and how the fence stands; `left` is what a set-up of several leaves."""
    scene, units = report.scene, report.units
    return {
        "full_size": full_size(scene, units, width, height, left),
        "block_marks": second_page.block_marks(report.layout, units),
        "plan": fence_sketch(scene, report.layout, units, 0.48 * width, 72.0),
        "fence_notes": second_page.fence_notes(report),
    }


def in_halves(said: Sequence[Sequence[str]]) -> list[list[Sequence[str]]]:
    """Return rows of words in two columns, in order, of about as many letters each; no heading ends the first."""
    letters = [sum(map(len, words)) for words in said]
    middle = min(range(len(said), -1, -1), key=lambda k: abs(sum(letters[:k]) - sum(letters[k:])))
    if 0 < middle < len(said) and said[middle - 1][-1] == "":
        middle -= 1
    return [list(said[:middle]), list(said[middle:])]
