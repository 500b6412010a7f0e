"""`sheet.pdf`: everything on the sheet as data, which `pages` sets from the templates in `parts/`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from sweep.show.say.after_the_cove import NOT_JUDGED
from sweep.show.say.cautions import RULES, SENTENCE
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.sheet.several_pages import several_pages
from sweep.show.sheet.two_pages import two_pages
from sweep.units import Units
from sweep.words import visible

TEMPLATE = "sheet.typ"
"""In `parts/`."""

MARGINS = {"left": 12.0, "right": 12.0, "top": 9.0, "bottom": 13.0}
"""mm."""

HEADING = 14.0
"""mm. What a page of drawings at 1:1 holds besides them."""

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


def write_sheet(path: Path, report: Report | SetupsReport, paper: str, source: str) -> None:
    """Write the shop sheet.

    Parameters
    ----------
    path : Path
    report : Report or SetupsReport
    paper : str
        ``"a4"`` or ``"letter"``.
    source : str
        The name of the scene's file.

    Notes
    -----
    The same scene makes the same bytes. The bars on the sheet tell whether it was printed without scaling.
    """
    from sweep.show.sheet.pages import write_pages  # a run has a process of its own do it, and never loads that here

    write_pages(path, TEMPLATE, sheet_data(report, paper, source))


def sheet_data(report: Report | SetupsReport, paper: str, source: str) -> dict[str, Any]:
    """Return everything on the sheet as plain data, given what `write_sheet` is: words, and drawings in mm of paper."""
    page = PAPERS[paper]
    source = breakable(visible(source))
    width = page.width - MARGINS["left"] - MARGINS["right"]
    height = page.height - MARGINS["top"] - MARGINS["bottom"] - HEADING
    if isinstance(report, SetupsReport):
        said = several_pages(report, width, height, source)
    else:
        said = two_pages(report, width, height, source)
    title = breakable(title_of(report.scene))
    common = {"paper": page.name, "margins": MARGINS, "title": title, "source": source}
    return {**common, **typeset(said | {"first": SENTENCE, "rules": RULES, "not_judged": NOT_JUDGED})}


def breakable(text: str) -> str:
    """Return the user's text, one line, with places at which a long word may be broken."""
    zero_width = "\u200b"
    words = [re.sub(rf"(.{{{LONGEST_WORD // 2}}})(?=.)", rf"\1{zero_width}", w) if len(w) > LONGEST_WORD else w
             for w in text.split()]  # fmt: skip
    return " ".join(words)


def typeset(said: Any) -> Any:
    """Return words as they are printed: signs for degrees, powers and products, and round quotes."""
    if isinstance(said, dict):
        return {key: typeset(value) for key, value in said.items()}
    if isinstance(said, (list, tuple)):
        return [typeset(value) for value in said]
    return _printed(said) if isinstance(said, str) else said


@lru_cache(2048)  # most words are the same few: names of looks, colours, units
def _printed(said: str) -> str:
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
