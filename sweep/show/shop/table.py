"""`shop.csv` and `alike.csv`: rows for a spreadsheet, in which a name of the user's is a name and nothing to be run."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import astuple, fields
from pathlib import Path
from typing import Any

from sweep.shop.alike import Alike
from sweep.shop.row import COLUMNS, Row
from sweep.words import visible

OBEYED = ("=", "+", "-", "@")
"""How what a spreadsheet works out begins (OWASP, CSV injection)."""


def cells(row: Row | Alike) -> tuple[Any, ...]:
    """Return the values of a row; text is such that no program obeys it, and a name that would be one is a path."""
    return tuple(_plain(value) if isinstance(value, str) else value for value in astuple(row))


def write_rows(path: Path, rows: Iterable[Row]) -> None:
    """Write the table of profiles and blades; what is not known is left empty.

    Raises
    ------
    OSError
    """
    _write(path, COLUMNS, rows)


def write_alike(path: Path, rows: Iterable[Alike]) -> None:
    """Write which profiles are the same, and which set-up makes which.

    Raises
    ------
    OSError
    """
    _write(path, [field.name for field in fields(Alike)], rows)


def _write(path: Path, columns: Iterable[str], rows: Iterable[Row | Alike]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(columns)
        table.writerows(map(_shown, cells(row)) for row in rows)


def _shown(value: Any) -> Any:
    return str(value).lower() if isinstance(value, bool) else value


def _plain(text: str) -> str:
    text = visible(text)
    return f"./{text}" if text.startswith(OBEYED) else text
