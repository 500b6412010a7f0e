"""Where traced points and the picture of their outline are written."""

from __future__ import annotations

from pathlib import Path

from sweep.trace.face import Kind


def places_of(image: Path, out: Path | None, kind: Kind) -> tuple[Path, Path]:
    """Return the file of points and that of the outline's picture: beside the image unless a file is named."""
    points = image.with_name(f"{image.stem}-{kind}.csv") if out is None else out
    return points, points.with_name(f"{points.stem}-outline.png")
