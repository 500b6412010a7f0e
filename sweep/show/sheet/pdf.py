"""`sheet.pdf`: the data of the sheet, set by the typesetting library from the templates in `parts/`."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pikepdf
import typst

from sweep.show.draw.fence_sketch import fence_sketch
from sweep.show.draw.full_size import full_size
from sweep.show.draw.looks import looks
from sweep.show.draw.section import frame_of, section_drawing
from sweep.show.say.after_the_cove import NOT_JUDGED, after_the_cove
from sweep.show.say.cautions import RULES, SENTENCE
from sweep.show.say.passes import title_of
from sweep.show.say.profile import marks_of, verdict_of
from sweep.show.say.report import Report
from sweep.show.sheet import first_page, second_page
from sweep.units import Units
from sweep.words import visible

PARTS = Path(__file__).parent / "parts"

MARGINS = {"left": 12.0, "right": 12.0, "top": 9.0, "bottom": 13.0}
"""mm."""

HEADING = 14.0
"""mm. What a page of drawings at 1:1 holds besides them."""

MANY = 6
"""Flags beyond which their sentences stand at the head of the second page, so that the first holds all the rest."""

LONGEST_WORD = 24
"""Letters after which a word of the user's may be broken."""


@dataclass(frozen=True)
class Paper:
    """A size of paper: its name in the typesetting library, width and height in mm."""

    name: str
    width: float
    height: float


PAPERS = {"a4": Paper("a4", 210.0, 297.0), "letter": Paper("us-letter", 215.9, 279.4)}


def paper_for(units: Units) -> str:
    """Return the paper where none is asked for: A4 for mm, Letter for inches."""
    return "a4" if units.metric else "letter"


def write_sheet(path: Path, report: Report, paper: str, source: str) -> None:
    """Write the shop sheet.

    Parameters
    ----------
    path : Path
    report : Report
    paper : str
        ``"a4"`` or ``"letter"``.
    source : str
        The name of the scene's file.

    Notes
    -----
    The same scene makes the same bytes: no date, and only the fonts that the typesetting library brings along. Viewers
    are asked to print without scaling; the bars on the sheet tell whether they did.
    """
    page = json.dumps(sheet_data(report, PAPERS[paper], source))
    inputs = {"sheet": page, "looks": json.dumps(looks())}
    drawn = typst.compile(PARTS / "sheet.typ", sys_inputs=inputs, ignore_system_fonts=True, timestamp=0)
    with pikepdf.open(io.BytesIO(drawn)) as sheet:
        sheet.Root.ViewerPreferences = pikepdf.Dictionary(PrintScaling=pikepdf.Name("/None"))
        sheet.save(path, deterministic_id=True)


def sheet_data(report: Report, paper: Paper, source: str) -> dict[str, Any]:
    """Return everything on the sheet as plain data: words, and drawings in mm of paper."""
    outcome, units, source = report.outcome, report.units, visible(source)
    job, scene = report.job, report.scene
    width = paper.width - MARGINS["left"] - MARGINS["right"]
    height = paper.height - MARGINS["top"] - MARGINS["bottom"] - HEADING
    stock = scene.stock
    size = " x ".join(units.length(side) for side in (stock.length, stock.width, stock.thickness))
    many = len(report.flags) > MANY
    roomy = scene.order is None and not scene.finish and scene.panel is None
    said = {
        "many": many,
        "roomy": roomy,
        "facts": [f"{stock.species}, {size}", second_page.blade_words(scene, units)],
        "figures": first_page.set_up_figures(scene, units),
        "tape": first_page.fence_by_tape(scene, report.layout, units),
        "passes": first_page.pass_list(report),
        "pass_notes": first_page.pass_notes(scene, units),
        "profile": section_drawing(outcome, units, frame_of(outcome, units, 0.45 * width, 42.0)),
        "verdict": verdict_of(outcome, units),
        "within": report.is_within_tolerance,
        "care": first_page.care(report),
        "flags": in_halves(first_page.flagged(outcome, units)),
        "warnings": len(report.flags),
        "of_the_job": first_page.in_short(outcome.flags_of(None)),
        "work": in_halves(first_page.work(report)),
        "rules": RULES,
        "first": SENTENCE,
        "full_size": full_size(scene, units, width, height),
        "block_marks": second_page.block_marks(report.layout, units),
        "plan": fence_sketch(scene, report.layout, units, 0.48 * width, 72.0),
        "fence_notes": second_page.fence_notes(report),
        "order": second_page.order(report),
        "after": after_the_cove(job.finishing, scene, units),
        "not_judged": NOT_JUDGED,
        "fitting": second_page.fitting(report),
        "sanding": [text for text in (second_page.sanding(job, units), marks_of(report.surface, units)) if text],
        "settings": second_page.settings(job, units, _breakable(source)),
    }
    title = _breakable(title_of(scene))
    return {"paper": paper.name, "margins": MARGINS, "title": title, "source": _breakable(source), **_typeset(said)}


def in_halves(said: Sequence[Sequence[str]]) -> list[list[Sequence[str]]]:
    """Return rows of words in two columns, in order, of about as many letters each."""
    letters = [sum(map(len, words)) for words in said]
    middle = min(range(len(said), -1, -1), key=lambda k: abs(sum(letters[:k]) - sum(letters[k:])))
    return [list(said[:middle]), list(said[middle:])]


def _breakable(text: str) -> str:
    """Return the user's text, one line, with places at which a long word may be broken."""
    zero_width = "\u200b"
    words = [re.sub(rf"(.{{{LONGEST_WORD // 2}}})(?=.)", rf"\1{zero_width}", w) if len(w) > LONGEST_WORD else w
             for w in text.split()]  # fmt: skip
    return " ".join(words)


def _typeset(said: Any) -> Any:
    """Return words as they are printed: signs for degrees, powers and products, and round quotes."""
    if isinstance(said, dict):
        return {key: _typeset(value) for key, value in said.items()}
    if isinstance(said, (list, tuple)):
        return [_typeset(value) for value in said]
    if not isinstance(said, str):
        return said
    for plain, printed in (
        (r"(?<=\d) (?=\d+/\d|[+-]0\.\d|(?:mm|in|ft|thou|m|s|N|W|kW|lbf|hp|%)(?!\w))", "\u00a0"),
        (r"(?<=\d) deg\b", "°"),
        (r"\bdeg\b", "°"),
        (r"\b(mm|cm|m|in|ft)2\b", r"\1²"),
        (r"\b(mm|cm|m|in|ft)3\b", r"\1³"),
        (r"(?<=\S) x (?=\S)", " × "),
        (r"(?<=\w)'", "’"),
        (r"'(?=\w)", "‘"),
        (r"(?<![\w.])-(?=\d)", "\N{MINUS SIGN}"),
    ):
        said = re.sub(plain, printed, said)
    return said
