"""What `sweep keep` does: a job that was made, put by in the shop's record."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class KeepOptions:
    """What the maker tells of a job that was made, as it was written; None for what was not said.

    Parameters
    ----------
    date, block, notes : str or None
    record, points : Path or None
        What a phone wrote down, and points measured on the profile.
    width, depth, flat, accuracy : str or None
    after_pass, setup : int or None
    """

    date: str | None
    block: str | None
    notes: str | None
    record: Path | None
    points: Path | None
    width: str | None
    depth: str | None
    flat: str | None
    accuracy: str | None
    after_pass: int | None
    setup: int | None


def keep(path: Path, into: Path | None, told: KeepOptions) -> int:
    """Put a scene by in the record with everything that it was cut by, never over another; 0, for it is written."""
    from datetime import date
    from importlib.metadata import version

    from sweep.plan.written_out import written_out
    from sweep.scene.file import read_text
    from sweep.scene.keep import fit_measured, fit_record, kept_text, measured_now, put_by, record_beside
    from sweep.scene.points import read_points
    from sweep.scene.read import scene_of
    from sweep.scene.record import record_of
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.terminal.console import terminal
    from sweep.words import visible

    into = record_beside(path) if into is None else into
    fit_record(into)
    text = read_text(path, "a scene")
    scene = scene_of(text, path)
    record, measured = record_of(told.record, scene.title)
    measured = measured + measured_now(
        {
            "setup": told.setup,
            "after_pass": told.after_pass,
            "width": told.width,
            "depth": told.depth,
            "flat": told.flat,
            "points": None if told.points is None else read_points(told.points),
            "accuracy": told.accuracy,
        }
    )
    kept = {
        "date": told.date or record.date or date.today().isoformat(),
        "program": version("sweep"),
        "scene": path.name,
        "block": told.block or record.block,
        "notes": told.notes or record.notes,
    }
    kept = {name: words for name, words in kept.items() if words}
    text = kept_text(written_out(text, scene, scene.units), path, kept, measured)
    fit_measured(scene_of(text, into / path.name))  # what is kept can be read, and can be: nothing else is written
    place = put_by(into, f"{path.stem}-{kept['date']}", text)
    console = terminal()
    console.print(f"Kept as {visible(str(place))}", soft_wrap=True)
    times = len(measured)
    console.print(
        f"Measured: {times} time{'' if times == 1 else 's'}." if times else "Nothing measured is kept with it."
    )
    if len(set(record.ticked)) < record.steps:
        console.print(f"On the phone {len(set(record.ticked))} of {record.steps} steps are ticked.")
    console.print(PARAGRAPH, style="dim")
    return 0
