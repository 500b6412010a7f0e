"""Pages set by the typesetting library from the templates in `parts/`: the one door to it, and to what mends PDFs."""

from __future__ import annotations

import io
import json
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
    inputs = {"sheet": json.dumps(data), "looks": json.dumps(looks())}
    drawn = typst.compile(
        PARTS / template, root=PARTS.parents[1], sys_inputs=inputs, ignore_system_fonts=True, timestamp=0
    )
    with pikepdf.open(io.BytesIO(drawn)) as sheet:
        sheet.Root.ViewerPreferences = pikepdf.Dictionary(PrintScaling=pikepdf.Name("/None"))
        # into memory first, for the PDF library ends the whole process where the disk is full; streams halve the size
        written = io.BytesIO()
        sheet.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    path.write_bytes(written.getvalue())
