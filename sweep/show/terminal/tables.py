"""A table of facts on a terminal of any kind: plain ASCII, headings above figures, colour only as an extra."""

from __future__ import annotations

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.table import Table as Drawn

from sweep.show.say.table import Table


def print_table(console: Console, table: Table, *, units_above: bool = False, styles: Sequence[str] = ()) -> None:
    """Print a table at its natural width: a narrow window wraps its lines, but no figure is lost.

    Parameters
    ----------
    console : Console
    table : Table
    units_above : bool
        Whether the unit of a column stands below its heading rather than beside each figure.
    styles : sequence of str
        One for each row, or none.
    """
    drawn = _drawn(table, units_above, styles)
    width = console.width
    console.width = max(width, _natural(console, drawn))
    console.print(drawn)
    console.width = width


def width_of(console: Console, table: Table, *, units_above: bool = False) -> int:
    """Return how many columns of a terminal a table takes at its natural width."""
    return _natural(console, _drawn(table, units_above, ()))


def _natural(console: Console, drawn: Drawn) -> int:
    return console.measure(drawn, options=console.options.update(width=1000)).maximum


def _drawn(table: Table, units_above: bool, styles: Sequence[str]) -> Drawn:
    headings = [column.heading for column in table.columns]
    rows: Sequence[Sequence[str]] = table.rows
    if units_above:
        units = table.units
        headings = [f"{heading}\n{unit}" if unit else heading for heading, unit in zip(headings, units, strict=True)]
        rows = table.under_units()
    drawn = Drawn(
        box=box.SIMPLE_HEAD,
        show_edge=False,
        pad_edge=False,
        padding=(0, 1),
        collapse_padding=True,
        header_style="bold",
        show_header=any(headings),
    )
    for column, heading in zip(table.columns, headings, strict=True):
        drawn.add_column(heading, justify="left" if column.left else "right", no_wrap=True)
    for row, style in zip(rows, styles or [""] * len(rows), strict=True):
        drawn.add_row(*row, style=style)
    return drawn
