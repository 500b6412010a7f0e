"""The answers to what live pages ask for, each worked out from what it is given alone; see `worker.py`."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sweep.errors import SceneError
from sweep.live.asked import PageRequest
from sweep.live.beside import compared, outline_of, solid_of
from sweep.live.both import side_by_side_text
from sweep.live.made import KEPT, AnyReport, cut_whole, whole_scene
from sweep.live.opened import Opened, digests_beside
from sweep.live.standing import forms_of, stand, state_of
from sweep.plan.written_out import written_out
from sweep.scene.changes import changed
from sweep.scene.edits import Edit
from sweep.scene.file import read_text
from sweep.scene.read import scene_beside
from sweep.scene.rewrite import rewritten
from sweep.scene.shop import SHOP, shop_in, shop_with
from sweep.scene.toml import tables_of
from sweep.show.page.forms import lines_told
from sweep.show.page.model import WhileHeld, opening_model, stretches_model
from sweep.show.page.page import TAKEN_AWAY, page_text, saw_page, shown_live
from sweep.show.page.refusals import without_keys
from sweep.show.page.template import filled
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.tolerance import AS_DRAGGED, AS_RUN
from sweep.units import Units
from sweep.words import visible


def opened(path: Path, units: Units | None, before: Opened | None = None) -> Opened:
    """Return the scene as it stands in its file now; what is worked out for it is written in `units`, or in its own.

    Set-ups for a whole moulding take a while to find: where the text, and what it takes from other files, is as it was
    `before`, they are those.
    """
    text = read_text(path, "a scene")
    data = tables_of(text, path)
    beside = digests_beside(path, [data.get("target")])  # before they are read: what changes meanwhile is seen later
    scene = scene_beside(data, path.parent)
    if scene.lacks_setups and before is not None and (before.text, before.beside) == (text, beside):
        return before
    return Opened(path, text, written_out(text, scene, units or scene.units), beside)


def page(path: Path, units: Units | None, home: str = "", before: Opened | None = None) -> tuple[Opened, bytes]:
    """Return the scene as it stands in its file now, and the page that shows it."""
    now = opened(path, units, before)
    trial, shown_in = stand(now, {}, (), AS_RUN, units, ordered=True)
    live = {
        "version": now.version,
        "file": visible(path.name),
        "scene": f"sweep {hashlib.sha256(str(path.absolute()).encode()).hexdigest()[:16]}",
        "beside": now.beside,
        "files": TAKEN_AWAY,
        "state": state_of(now, trial, shown_in),
    }
    report = trial.made.report
    shown, first = _shown(report), report if isinstance(report, Report) else report.reports[0]
    data = shown | {"model": shown["model"] | {"stretches": opening_model(first)}}
    data |= {"files": {}, "live": live, "settings": []}
    return now, page_text(data, forms_of(now, trial, shown_in), home).encode()


def saw(path: Path, units: Units | None) -> bytes:
    """Return the page of a phone at the saw, of the scene as it stands in its file now."""
    now = opened(path, units)
    return saw_page(stand(now, {}, (), AS_RUN, units)[0].made.report, now.version).encode()


def take(path: Path, units: Units | None, asked: PageRequest, before: Opened | None = None) -> tuple[Opened, bytes]:
    """Return the scene as it stands in its file now with a page's edits laid over it, as `cut` does."""
    now = opened(path, units, before)
    return now, _json({"version": now.version, **_cut(now, asked)})


def cut(now: Opened, asked: PageRequest) -> bytes:
    """Return the simulation of the scene with every edit that can be, and why the others cannot.

    Of a moment only, and coarser, while a slider is dragged; then without the forms, which stay as they are.
    """
    return _json(_cut(now, asked))


def _cut(now: Opened, asked: PageRequest) -> dict[str, Any]:
    held = None if asked.number is None else WhileHeld(asked.number, asked.travel, asked.width)
    care, whole = (AS_RUN, True) if held is None else (AS_DRAGGED, False)
    trial, units = stand(now, asked.changes, asked.edits, care, Units(asked.units), ordered=whole)
    report, state = trial.made.report, {"state": state_of(now, trial, units)}
    if held is None:
        return _shown(report) | state | {"forms": forms_of(now, trial, units)}
    lines = lines_told(trial.data, shop_in(now.path.parent))
    return shown_live(report, held, asked.place) | state | {"lines": lines}


@lru_cache(maxsize=KEPT)
def _shown(report: AnyReport) -> dict[str, Any]:
    """Return what a page shows of a report, for all who only read it."""
    return shown_live(report)


def beside(now: Opened, asked: PageRequest) -> bytes:
    """Return what lies beside the scene: its figures and the scene's, its outline and its solid."""
    units = Units(asked.units)
    one, other = (stand(now, changes, (), AS_RUN, units)[0].made.report for changes in (asked.beside, asked.changes))
    shown = filled("beside.html", rows=compared(one, other, units))
    return _json({"shown": shown, "outline": outline_of(one), "solid": solid_of(one)})


def both(path: Path, units: Units | None, asked: PageRequest, before: Opened) -> bytes:
    """Return what stands in the scene's file now beside what a page changed of the text before."""
    file = opened(path, units, before).tables
    return _json({"shown": side_by_side_text(before.tables, file, changed(before.tables, asked.changes))})


def feed(now: Opened, asked: PageRequest) -> bytes:
    """Return the stock at every moment of one pass."""
    report = stand(now, asked.changes, (), AS_RUN, Units(asked.units))[0].made.report
    if isinstance(report, SetupsReport):
        report = report.reports[min(asked.place, len(report.reports) - 1)]
    number = min(max(asked.number or 1, 1), len(report.job.passes))
    return _json({"stretches": stretches_model(report, number)})


def solve(now: Opened, asked: PageRequest) -> bytes:
    """Return a proposal that comes closest to the target, to be taken or left.

    Of a whole moulding it is one for every number of set-ups; or else it is with the blade as it is.
    """
    units = Units(asked.units)
    data = changed(now.tables, asked.changes)
    scene = scene_beside(data, now.path.parent)
    if scene.target is not None and scene.target.whole:
        from sweep.live.proposal_setups import offered  # a second of optimisers to load, which most pages never ask

        offer = offered(scene, units)
        notes = [without_keys(note) for note in offer.notes]
        return _proposal(offer.edits, filled("offer.html", offer=offer, notes=notes))
    if scene.setups:
        raise SceneError("Marks", "no whole moulding is marked", "write its profile there")
    from sweep.live.proposal import proposed

    proposal = proposed(data, whole_scene(data, now.path.parent), units)
    parts = list(dict.fromkeys(part for part, _ in proposal.edits))
    shown = filled("proposal.html", rows=proposal.rows, notes=proposal.notes, parts=parts, far=proposal.is_far)
    return _proposal(proposal.edits, shown)


def _proposal(edits: Sequence[tuple[str, Edit]], shown: str) -> bytes:
    return _json({"edits": [{"part": part, "edit": edit.model_dump()} for part, edit in edits], "shown": shown})


def revised(now: Opened, asked: PageRequest) -> str:
    """Return the scene's text with the changes written into it; what else stands in it is kept."""
    data = changed(now.tables, asked.changes)
    cut_whole(data, now.path.parent, None, AS_RUN)  # what cannot be cut is refused, not saved
    return rewritten(now.whole, data)


def saved(path: Path, units: Units | None, asked: PageRequest) -> tuple[Opened, bytes]:
    """Return the scene as it stands in its file after saving, and its forms."""
    now, shown_in = opened(path, units), Units(asked.units)
    trial, _ = stand(now, {}, asked.edits, AS_RUN, shown_in, ordered=True)
    return now, _json(
        {"version": now.version, "state": state_of(now, trial, shown_in), "forms": forms_of(now, trial, shown_in)}
    )


def shop(now: Opened, asked: PageRequest, section: str) -> tuple[str | None, str]:
    """Return the text of the folder's shop, None where there is none, and with a section as the scene has it."""
    data, folder = changed(now.tables, asked.changes), now.path.parent
    scene_beside(data, folder)
    before = read_text(folder / SHOP, "a shop") if (folder / SHOP).exists() else None
    return before, rewritten(before or "", shop_with(shop_in(folder), data, section))


def file(now: Opened, asked: PageRequest, name: str) -> bytes:
    """Return a finished file of the scene with changed settings."""
    if name not in TAKEN_AWAY:
        raise SceneError("file", f"there is no '{name[:40]}' to take away", f"ask for one of {', '.join(TAKEN_AWAY)}")
    units = Units(asked.units)
    with TemporaryDirectory() as folder:
        report = cut_whole(changed(now.tables, asked.changes), now.path.parent, units, AS_RUN)
        made = report.job if isinstance(report, Report) else report.moulding
        if name == "sheet.pdf":
            write_sheet(Path(folder) / name, report, paper_for(units), now.path.name)
        else:
            from sweep.show.files.meshes import write_meshes  # a second to load, and most pages give no mesh away

            write_meshes(Path(folder), {name: [piece.mesh for piece in made.pieces]})
        return (Path(folder) / name).read_bytes()


def _json(answer: dict[str, Any]) -> bytes:
    return json.dumps(answer, allow_nan=False, separators=(",", ":")).encode()
