"""What the second page says: the fence, the order, what follows the cove, and the record of the set-up."""

from __future__ import annotations

from importlib.metadata import version
from typing import Any

from sweep.cut.fence import FenceLayout
from sweep.cut.job import Job
from sweep.cut.moulding import Made
from sweep.scene.model import Scene, WholeScene
from sweep.show.say.fence import (
    clear_sentence,
    past_of,
    pull_sentence,
    rip_gap,
    rip_side,
    room_sentence,
    tape_sentence,
)
from sweep.show.say.finishing import mitre_sentence
from sweep.show.say.may_exceed import in_short
from sweep.show.say.order import blanks_sentences, boards_sentences, order_tables, time_sentence
from sweep.show.say.panel import panel_sentences
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.say.table import Column, Table
from sweep.show.say.wood import wood_sentence
from sweep.show.sheet.tables import Rows, on_paper
from sweep.units import Units, degrees, rpm


def fence_notes(report: Report) -> list[str]:
    """Return how the fence is set and what it takes of the saw, in sentences."""
    scene, layout, units = report.scene, report.layout, report.units
    return [
        *([] if scene.feed.along_blade else [tape_sentence(scene, layout, units)]),
        clear_sentence(layout, units),
        pull_sentence(layout, report.job.loads, report.units),
        *filter(None, (in_short(report.outcome.may_exceed),)),
        room_sentence(scene, units),
    ]


def block_marks(layout: FenceLayout, units: Units) -> Rows:
    """Return the marks on the end of a set-up block: number, what of the cove, from the fence, height, where it is."""
    headings = ("", "at the cove's", "from the fence", "up", "its end from the centre, along the feed")
    columns = tuple(Column(heading, left=place < 2) for place, heading in enumerate(headings))
    rows = (
        (str(number), touch.where, units.nearest(touch.from_fence), units.length(touch.height), past_of(touch, units))
        for number, touch in enumerate(layout.touches, start=1)
    )
    return on_paper(Table(columns, tuple(rows)))


def order(report: Report | SetupsReport) -> dict[str, Any] | None:
    """Return the cut list as tables and sentences; None when nothing is ordered."""
    cut, scene, units = report.cut_list, report.scene, report.units
    if cut is None:
        return None
    said = [*blanks_sentences(cut, units), *boards_sentences(scene, cut, units), time_sentence(cut)]
    return {"tables": [on_paper(table) for table in order_tables(cut, units)], "said": said}


def fitting(report: Report | SetupsReport, made: Made) -> list[str]:
    """Return how the moulding sits and is mitred, and what a panel beside it needs."""
    said = [sentence for sentence in (mitre_sentence(made, report.units),) if sentence]
    if report.panel is not None:
        said += panel_sentences(report.panel, report.scene.order, report.units)
    return said


def settings(job: Job, units: Units, source: str) -> list[list[str]]:
    """Return everything that was set, as pairs of name and words, to find the set-up again."""
    scene, fence = job.scene, job.scene.fence
    height = units.length(fence.height or scene.stock.thickness)
    return [
        stock_setting(scene, units),
        *saw_settings(scene, units),
        ["Set-up", f"{set_to(scene, units)} (right of the blade's centre is positive)"],
        ["Fence", f"{units.length(fence.thickness)} thick, {height} high"],
        ["Heights", heights_of(job, units)],
        worked_out(source, job.chord, units),
    ]


def stock_setting(scene: Scene, units: Units) -> list[str]:
    """Return the planed stock, as a pair of name and words."""
    stock = scene.stock
    size = " x ".join(units.length(side) for side in (stock.length, stock.width, stock.thickness))
    moisture = f"{100 * stock.moisture:.3g} % moisture"
    return ["Stock", f"{stock.species}, {size} (planed), {moisture}. {wood_sentence(scene, units)}"]


def saw_settings(scene: WholeScene, units: Units) -> list[list[str]]:
    """Return the blade and the saw's speed, as pairs of name and words."""
    blade, saw = scene.blade, scene.saw
    speed = f"arbor {rpm(saw.speed):.0f} rpm, rim {units.rim_speed(saw.speed * scene.tool.radius)}"
    marked = "" if blade.max_speed is None else f", blade marked {rpm(blade.max_speed):.0f} rpm"
    motor = "" if saw.motor is None else f", motor {units.motor(saw.motor)}"
    return [["Blade", blade_words(scene, units)], ["Saw", speed + marked + motor]]


def set_to(scene: WholeScene, units: Units) -> str:
    """Return how fence and blade are set, to the last figure."""
    setup = scene.setup
    if scene.feed.along_blade:
        high, tilt = units.written(setup.blade_height), degrees(setup.blade_tilt)
        gap = f"{units.written(rip_gap(scene))} to the teeth"
        return f"rip fence on the {rip_side(setup.fence_side)}, {gap}; height {high}; tilt {tilt:.4f} deg"
    return (
        f"fence {degrees(setup.fence_angle):.4f} deg, {setup.fence_side} side; height "
        f"{units.written(setup.blade_height)}; tilt {degrees(setup.blade_tilt):.4f} deg; offset "
        f"{units.written(setup.offset)}"
    )


def heights_of(job: Job, units: Units) -> str:
    """Return the heights of all passes."""
    return ", ".join(units.written(one.height) for one in job.passes)


def worked_out(source: str, chord: float, units: Units) -> list[str]:
    """Return from what all of it was worked out, as a pair of name and words."""
    return ["Worked out", f"{source}, sweep {version('sweep')}, chords of {units.fine(chord)}"]


def blade_words(scene: WholeScene, units: Units) -> str:
    """Return the blade in words."""
    blade, tool = scene.blade, scene.tool
    name = f"{blade.name}, " if blade.name else ""
    tip = "shaped" if blade.profile is not None else blade.tip
    bevel = "" if blade.bevel is None else f" {degrees(blade.bevel):.3g} deg"
    kerf = units.length(tool.kerf)
    across = units.tape(2 * tool.radius)
    return f"{name}{across} across, kerf {kerf}, {blade.teeth} teeth, {tip}{bevel}"
