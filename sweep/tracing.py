"""What `sweep trace` does: the outline of the wood in a picture, as points: written, or on a page to be corrected."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweep.trace.face import Kind, Side, Traced
    from sweep.trace.reader import Seen


@dataclass(frozen=True)
class TraceOptions:
    """What is to be traced.

    Parameters
    ----------
    image : Path
    scale, marks : str or None
        One of the two.
    side : str or None
        Of the picture, on which the face lies that lay on the table; the one with the hollow where it is not told.
    kind : str
    out : Path or None
        The file of points; beside the picture, under its name, unless given. The outline's picture goes beside it.
    """

    image: Path
    scale: str | None
    marks: str | None
    side: Side | None
    kind: Kind
    out: Path | None


def trace(asked: TraceOptions, style: str | None) -> int:
    """Trace a picture and write its points and `outline.png`, neither over another file; 1 where it is not clear."""
    from sweep.disk.file import new_file
    from sweep.show.pictures.traced import traced_png
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.say.traced import how_to_match, traced_sentences
    from sweep.show.terminal.console import terminal
    from sweep.trace.written import points_text
    from sweep.units import Units
    from sweep.words import visible

    seen, traced, points, picture = _traced(asked)
    text = points_text(traced, traced.pixels)
    new_file(picture, traced_png(seen, traced), "--out")
    try:
        new_file(points, text.encode("utf-8"), "--out")
    except BaseException:
        picture.unlink()
        raise
    console, units = terminal(), Units(style or "mm")
    for line in traced_sentences(traced, units):
        console.print(line)
    console.print(f"Written to {visible(str(points))}; look at {visible(str(picture))}.", soft_wrap=True)
    console.print(how_to_match(traced, visible(str(points)), units), soft_wrap=True)
    console.print(PARAGRAPH, style="dim")
    return 0 if traced.is_clear else 1


def on_page(asked: TraceOptions, style: str | None, port: int, browser: bool) -> int:
    """Trace a picture and serve the page on which its outline is corrected and saved, until it is interrupted."""
    import webbrowser

    from sweep.live.server import address, bound, serve_traced
    from sweep.live.traced import TraceDesk
    from sweep.show.terminal.console import terminal
    from sweep.units import Units
    from sweep.words import visible

    seen, traced, points, picture = _traced(asked)
    place = bound(port)

    def ready() -> None:
        terminal().print(f"{visible(asked.image.name)} is shown at {address(place)} (Ctrl+C ends it)")
        if browser:
            webbrowser.open(address(place))

    serve_traced(TraceDesk(seen, traced, asked.image.name, points, picture, Units(style or "mm")), place, ready)
    return 0


def _traced(asked: TraceOptions) -> tuple[Seen, Traced, Path, Path]:
    """Return what was found, and the places of points and picture, at which nothing stands."""
    from sweep.disk.file import fit_new_file
    from sweep.trace.face import trace as traced_in
    from sweep.trace.places import places_of
    from sweep.trace.reader import look_at
    from sweep.trace.scale import read_scale

    scale = read_scale(asked.scale, asked.marks)
    points, picture = places_of(asked.image, asked.out, asked.kind)
    for place in (points, picture):
        fit_new_file(place, "--out")
    seen = look_at(asked.image)
    return seen, traced_in(seen, scale, asked.side, asked.kind), points, picture
