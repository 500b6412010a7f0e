"""Pages set by the typesetting library from the templates in `parts/`: the one door to it, and to what mends PDFs."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pikepdf
import typst

from sweep.show.draw.looks import looks

PARTS = Path(__file__).parent / "parts"


def write_pages(path: Path, template: str, data: dict[str, Any]) -> None:
    """Write the pages that a template of `parts/` makes of plain data.

    The same data makes the same bytes: no date, and only the fonts that the typesetting library brings along. Viewers
    are asked to print without scaling.
    """
    write_parts(path, template, [data])


def write_parts(path: Path, template: str, parts: Iterable[dict[str, Any]]) -> None:
    """Write the pages of one part after the other, each set by itself, so that only one is in memory; at least one."""
    with ExitStack() as files:
        drawn = (files.enter_context(pikepdf.open(io.BytesIO(_drawn(template, data)))) for data in parts)
        sheet = next(drawn)
        for more in drawn:
            sheet.pages.extend(more.pages)
        sheet.Root.ViewerPreferences = pikepdf.Dictionary(PrintScaling=pikepdf.Name("/None"))
        # into memory first, for the PDF library ends the whole process where the disk is full; streams halve the size
        written = io.BytesIO()
        sheet.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    path.write_bytes(written.getvalue())


def _drawn(template: str, data: dict[str, Any]) -> bytes:
    inputs = {"sheet": json.dumps(data), "looks": json.dumps(looks())}
    drawn: bytes = typst.compile(
        PARTS / template, root=PARTS.parents[1], sys_inputs=inputs, ignore_system_fonts=True, timestamp=0
    )
    return drawn
