"""A table of facts as the templates take it: plain rows of words."""

from __future__ import annotations

from typing import Any

from sweep.show.say.table import Table

Rows = dict[str, Any]
"""``headings``, ``left`` (whether each column is ranged left) and ``rows`` of cells, all of them text."""


def on_paper(table: Table, units_above: bool = False) -> Rows:
    """Return a table for paper, the units beside the figures or above them in the headings."""
    headings = [column.heading for column in table.columns]
    if units_above:
        headings = [
            f"{heading}, {unit}" if unit else heading for heading, unit in zip(headings, table.units, strict=True)
        ]
    return {
        "headings": headings,
        "left": [column.left for column in table.columns],
        "rows": table.under_units() if units_above else table.rows,
    }
