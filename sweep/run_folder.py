"""What a run leaves: its folder, whole or not at all, and the last words about it; of one set-up and of several."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rich.console import Console

from sweep.apart import Apart
from sweep.disk.folder import swapped_in
from sweep.show.files import meshes_apart
from sweep.show.files.folder import mesh_files, write_numbers
from sweep.show.files.sanding import write_scraper
from sweep.show.page.page import removal_of, write_removal
from sweep.show.say.cautions import PARAGRAPH
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.sheet import pages_apart
from sweep.show.sheet.pdf import TEMPLATE, paper_for, sheet_data
from sweep.words import visible


def write_run(
    folder: Path, report: Report | SetupsReport, source: str, chord: float, paper: str | None, beside: Apart,
    pictures: Callable[[], object] | None,
) -> str:  # fmt: skip
    """Write all that a run leaves, and return why pictures are missing: nothing where none is, or none were asked for.

    Parameters
    ----------
    folder : Path
    report : Report or SetupsReport
    source : str
        The name of the scene's file.
    chord : float, mm
        Within which the sanding block and the scraper are drawn.
    paper : str or None
        That of the sheet; None for the usual one.
    beside : Apart
        Where meshes and the sheet are written meanwhile.
    pictures : callable or None
        Called when the drawing of pictures begins; None where there are to be none.
    """
    with swapped_in(folder) as fresh:

        def write_all_else() -> None:
            kind, sheet = paper or paper_for(report.units), fresh / "sheet.pdf"
            with (
                beside.doing(meshes_apart.write, fresh, mesh_files(report, chord)),
                beside.doing(pages_apart.write, sheet, TEMPLATE, sheet_data(report, kind, source)),
            ):
                write_numbers(fresh, report)
                if isinstance(report, Report):
                    write_scraper(fresh, report.scene, report.units, chord)
                removal = removal_of(report)
            beside.end()
            write_removal(fresh / "removal.html", removal)

        if pictures is None:
            write_all_else()
            return ""
        from sweep.show.pictures.every_picture import drawn_or_why

        pictures()
        return drawn_or_why(fresh, report, write_all_else)


def print_written(console: Console, folder: Path, without: str) -> None:
    """Print where the folder is, what it is without, and the cautions."""
    console.print(f"Written to {visible(str(folder))}", soft_wrap=True)
    if without:
        console.print(without)
    console.print(PARAGRAPH, style="dim")
