"""What `sweep shop` does: a folder of profiles answered for a rack of blades, and what it leaves."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from pathlib import Path

from rich.progress import Progress

from sweep.disk.folder import fit_folder, swapped_in
from sweep.errors import SceneError
from sweep.scene.file import read_text
from sweep.scene.shop import shop_in
from sweep.scene.toml import tables_of
from sweep.shop.catalogue import Catalogue, catalogue_of
from sweep.shop.folder import names_in, writes_inches
from sweep.shop.journal import ANSWERS, cleared, kept_beside
from sweep.shop.rack import rack_of
from sweep.shop.work import Opened, pool_of
from sweep.show.page.drawer import write_drawer_page
from sweep.show.say.cautions import PARAGRAPH
from sweep.show.say.numbers.model import written
from sweep.show.say.numbers.shop import shop_answer
from sweep.show.say.shop import summary_of
from sweep.show.sheet.catalogue import write_catalogue
from sweep.show.sheet.pdf import paper_for
from sweep.show.shop.parquet import write_parquet
from sweep.show.shop.scenes import scene_files, write_scenes
from sweep.show.shop.table import write_alike, write_rows
from sweep.show.terminal.console import aside, terminal
from sweep.show.terminal.shop import print_shop
from sweep.units import Units
from sweep.words import visible


@dataclass(frozen=True)
class ShopOptions:
    """What is wanted of a folder of profiles.

    Parameters
    ----------
    workers : int or None
        Processes here; as many as there are cores unless given.
    cluster : str or None
        The address of a cluster's scheduler, instead of processes here.
    full : bool
        Every blade fitted, planned and judged, and whole mouldings by several set-ups.
    scenes, as_json : bool
        A scene for each profile; the rows on standard output.
    catalogue : bool
        A printed one; `paper` is its size, by the units unless given.
    style : str or None
        The units in which figures are shown; as the shop's first blade is written unless given.
    like : Path or None
        The scene from which a profile without one takes all but its size.
    """

    workers: int | None = None
    cluster: str | None = None
    full: bool = False
    scenes: bool = False
    as_json: bool = False
    style: str | None = None
    catalogue: bool = False
    paper: str | None = None
    like: Path | None = None


def run_shop(folder: Path, out: Path, asked: ShopOptions) -> int:
    """Answer for every profile of a folder; 1 when one is out of tolerance, flagged, or has no set-up."""
    opened = _executor(asked)
    like = None if asked.like is None else tables_of(read_text(asked.like, "a scene"), asked.like)
    names = names_in(folder)
    if not names:
        raise SceneError(str(folder), "there is no profile in it", "put CSV, DXF or SVG files or scenes there")
    shop = shop_in(folder)
    rack = rack_of(shop, like)
    units = Units(asked.style or ("in" if writes_inches(shop) else "mm"))
    fit_folder(out)
    console, progress_on = terminal(), aside()
    with kept_beside(out) as journal:
        with Progress(console=progress_on, transient=True, disable=not progress_on.is_terminal) as progress:
            task = progress.add_task("profiles", total=len(names))
            found = catalogue_of(
                folder, rack, opened, journal, asked.full, lambda count: progress.update(task, completed=count)
            )
        with swapped_in(out) as fresh:
            _leave(fresh, found, asked, units, folder.resolve().name)
        summary = summary_of(found.answers(), found.alike)
        if asked.as_json:
            sys.stdout.write(written(shop_answer(found.answers(), found.alike)))
        cleared(out)
    if not asked.as_json:
        print_shop(console, summary, summary.profiles - found.fresh, units)
        console.print(f"Written to {visible(str(out))}", soft_wrap=True)
        console.print(PARAGRAPH, style="dim")
    return 0 if summary.is_well else 1


def _executor(asked: ShopOptions) -> Opened:
    if asked.cluster is not None:
        from sweep.shop.cluster import cluster_at

        return cluster_at(asked.cluster)
    return pool_of(asked.workers or os.cpu_count() or 1)


def _leave(fresh: Path, found: Catalogue, asked: ShopOptions, units: Units, folder: str) -> None:
    write_rows(fresh / "shop.csv", (row for answer in found.answers() for row in answer.rows))
    write_parquet(fresh / "shop.parquet", (row for answer in found.answers() for row in answer.rows))
    write_alike(fresh / "alike.csv", found.alike)
    scenes = scene_files(found.answers())
    if asked.scenes:
        write_scenes(fresh, found.answers(), scenes)
    title = f"Profiles of {visible(folder)}"
    write_drawer_page(fresh / "shop.html", title, found.answers(), found.alike, scenes, asked.scenes, units)
    if asked.catalogue:
        write_catalogue(fresh / "shop.pdf", title, found.answers(), units, asked.paper or paper_for(units))
    with (fresh / ANSWERS).open("wb") as file:
        file.writelines(found.lines())
