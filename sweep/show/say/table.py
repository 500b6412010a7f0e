"""A table of facts, as data: each output sets it in its own way."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.units import Shown


@dataclass(frozen=True)
class Column:
    """One column: its heading, and whether words in it are ranged left rather than figures right."""

    heading: str
    left: bool = False


@dataclass(frozen=True)
class Table:
    """Headings and rows of cells.

    Parameters
    ----------
    columns : tuple of Column
    rows : tuple of tuple of str
        One cell a column; a figure is a `Shown`. Lines of a cell, and of a heading, are parted by line breaks.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def units(self) -> tuple[str, ...]:
        """The unit of each column, where all its figures have the same one; else nothing."""
        found = ({cell.unit for cell in cells if isinstance(cell, Shown)} for cells in self._cells_by_column())
        return tuple(next(iter(units)) if len(units) == 1 else "" for units in found)

    def under_units(self) -> tuple[tuple[str, ...], ...]:
        """Return the rows as they stand below headings that name the units: figures without those."""
        units = self.units
        return tuple(
            tuple(
                cell.bare if unit and isinstance(cell, Shown) else str(cell)
                for cell, unit in zip(row, units, strict=True)
            )
            for row in self.rows
        )

    def _cells_by_column(self) -> list[tuple[str, ...]]:
        return list(zip(*self.rows, strict=True)) if self.rows else [() for _ in self.columns]
