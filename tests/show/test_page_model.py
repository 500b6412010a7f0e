"""What the page is given to show."""

from __future__ import annotations

import pytest
from reports import report_of

from sweep.show.page.model import WIDTHS, WhileHeld, page_model


@pytest.mark.parametrize("width", [*WIDTHS, None, 1.0])
def test_while_a_setting_is_moved_a_page_is_given_what_it_shows_and_nothing_else(width):
    """One stage, the section as it is seen or at every width; no places to look from, no steps, nothing over it."""
    report = report_of("corner-cupboard-cornice")
    whole, held = page_model(report), page_model(report, WhileHeld(3, None, width))
    passes = [one | {"pull": []} for one in whole["passes"]]
    stages, section = {3: whole["stages"][3]}, [one for one in whole["section"] if one["width"] == width]

    assert held == {key: value for key, value in whole.items() if key != "blade"} | {
        "stages": stages,
        "section": section or whole["section"],
        "views": [],
        "over": {},
        "steps": "",
        "passes": passes,
    }
