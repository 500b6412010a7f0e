"""Pages set by a process of its own, which alone loads the typesetting library."""

from __future__ import annotations

from pathlib import Path
from typing import Any


def write(path: Path, template: str, data: dict[str, Any]) -> None:
    """Write the pages that a template makes of plain data, see `pages.write_pages`."""
    from sweep.show.sheet.pages import write_pages

    write_pages(path, template, data)
