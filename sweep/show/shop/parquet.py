"""`shop.parquet`: the same table with types, by the library of the format (Apache Parquet).

A table of a million rows is read from it in a moment and column by column, which no text file gives.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from itertools import islice
from pathlib import Path

import pyarrow
from pyarrow import parquet

from sweep.shop.row import Row
from sweep.show.shop.table import cells

GROUP = 65_536
"""Rows that are in memory together."""

TYPES = {
    "str": pyarrow.string(),
    "str | None": pyarrow.string(),
    "int | None": pyarrow.int32(),
    "float | None": pyarrow.float64(),
    "bool | None": pyarrow.bool_(),
}
"""From the types of a row's fields, as they are written there."""

SCHEMA = pyarrow.schema([(field.name, TYPES[str(field.type)]) for field in fields(Row)])


def write_parquet(path: Path, rows: Iterable[Row]) -> None:
    """Write the table of profiles and blades; what is not known is null.

    Raises
    ------
    OSError
    """
    coming = iter(rows)
    with parquet.ParquetWriter(path, SCHEMA) as file:
        while lot := list(islice(coming, GROUP)):
            columns = zip(*map(cells, lot), strict=True)
            arrays = [pyarrow.array(column, kind.type) for column, kind in zip(columns, SCHEMA, strict=True)]
            file.write_table(pyarrow.Table.from_arrays(arrays, schema=SCHEMA))
