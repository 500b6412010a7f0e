"""Tables as plain rows of words: those of the terminal, taken over for paper."""

from __future__ import annotations

from typing import Any

from rich.table import Table

Rows = dict[str, Any]
"""``headings``, ``left`` (whether each column is ranged left) and ``rows`` of cells, all of them text."""


def rows_of(table: Table) -> Rows:
    """Return the headings and cells of a terminal's table."""
    columns = table.columns
    return {
        "headings": [str(column.header) for column in columns],
        "left": [column.justify == "left" for column in columns],
        "rows": [[str(cell) for cell in row] for row in zip(*(column.cells for column in columns), strict=True)],
    }
