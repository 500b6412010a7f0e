"""The order of work at the saw: numbered steps, told alike on the sheet, on the page and in `result.json`.

One list is for one set-up of the saw; a straight rip has its own (`rip_work.py`). Its order, the set-up block and
sighting along the fence are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

from sweep.cut.fence import FenceLayout
from sweep.cut.job import Job
from sweep.plan.correct.measured import has_edges
from sweep.scene.model import WholeScene
from sweep.show.say.common_steps import cut_into, every_blank, plug_in, stands, throat, tilting, wood
from sweep.show.say.fence import measure_of, runs_of, strips_touch, where_of
from sweep.show.say.passes import fed_in, turns_of
from sweep.show.say.rip_work import rip_steps
from sweep.show.say.steps import Step, fed, lasting, step, to_mark, to_set, turned
from sweep.units import Units


def order_of_work(job: Job, layout: FenceLayout, units: Units) -> tuple[Step, ...]:
    """Return the steps of one set-up, in the order in which a maker goes through them."""
    if job.scene.feed.along_blade:
        steps = rip_steps(job, units)
    else:
        made_ready = chain(_prepared(job.scene, layout, units), _set(job.scene, layout, units))
        steps = chain(made_ready, _guarded(job, layout, units), _cut(job, units))
    return tuple(replace(one, number=number) for number, one in enumerate(steps, start=1))


def _prepared(scene: WholeScene, layout: FenceLayout, units: Units) -> Iterator[Step]:
    """Yield what is made ready at the bench: wood, and the cove drawn on the end of a block."""
    yield wood(scene, units)
    across = sorted(touch.from_fence for touch in layout.touches if touch.where != "bottom")
    edges = [to_mark(f"edge_{number}", mm, units) for number, mm in enumerate(across, start=1)]
    places = " and ".join(f"{{{edge.name}}}" for edge in edges)
    marked = f"its edge{'s' if len(edges) > 1 else ''} {places} from the fence's side, " if edges else ""
    yield step(
        "Block",
        f"Draw the cove on the end of a set-up block, full size as in sheet.pdf: {marked}its bottom {{blade_height}} "
        "up.",
        "block",
        *edges,
        to_set("blade_height", scene.setup.blade_height, units),
    )


def _set(scene: WholeScene, layout: FenceLayout, units: Units) -> Iterator[Step]:
    """Yield how blade and fence are set, the saw unplugged."""
    setup, turns = scene.setup, turns_of(scene.setup.blade_height, scene)
    lean, tilted = tilting(scene)
    yield step(
        "Full height",
        f"Plug out, and in your sight. {lean}Turn a tooth to the top by hand and raise the blade beside the block "
        f"until that tooth is level with the bottom of the cove: {{blade_height}}"
        f"{f', {turns} turns up from the table' if turns else ''}. Throat plate: an opening of {{throat_length}} by "
        "{throat_width} or more.",
        "height",
        *tilted,
        to_set("blade_height", setup.blade_height, units),
        *throat(scene, units),
        cautions=("plug",),
    )
    places = [f"{measure_of(scene, at, layout, units)} {where_of(at, layout, units)}" for at in layout.face.marks]
    stands = f"Its face is {' and '.join(places)}." if places else "Its face misses the table."
    cut = cut_into(-layout.clear, units)
    yield step(
        "Fence by tape",
        f"At {{fence_angle}} to the blade, it {runs_of(layout)}. {stands}{cut}",
        "fence",
        turned("fence_angle", setup.fence_angle),
        cautions=("plug",),
    )
    strips, gap, laid = layout.strips, [], ""
    if strips is not None:
        gap = [to_set("gap", strips.gap, units)]
        laid = (
            "Two parallel strips {gap} apart over the blade lie along the fence when both touch the rim: "
            f"{strips_touch(strips, units)}. "
        )
    yield step(
        "Strips and block",
        f"{laid}Set the block against the fence past the blade, drawn end towards you, and sight along the fence: "
        "the rim just fills the drawn cove.",
        "check",
        *gap,
        cautions=("plug",),
    )
    yield step(
        "Clamp, and check again",
        "Clamp the fence at both ends so that neither can shift; then tape, strips and block once more.",
        "clamps",
        cautions=("plug",),
    )
    yield step("Blade down", "Lower the blade below the table.", "low")


def _guarded(job: Job, layout: FenceLayout, units: Units) -> Iterator[Step]:
    """Yield what holds and covers the work, tried with the blade below the table, and the plug."""
    scene, first = job.scene, job.passes[0]
    if layout.has_second:
        second = (
            "A second fence along the stock's other edge, clamped at both ends; the stock slides between without play "
            "or binding."
        )
    else:
        second = (
            "No second fence: the blade would cut it. Only featherboards clear of the blade hold the work to the "
            "fence; better cut wider stock and rip it afterwards."
        )
    carried, lengths = stands(scene, units)
    stops = sorted({one.stop for one in job.passes if one.stop is not None})
    halts = [to_set("stop", stops[0], units)] if len(stops) == 1 else []
    where = "{stop} past the blade's centre, along the feed" if halts else "where the list of passes says"
    yield step(
        "Fences, guard, featherboards",
        f"{second} Featherboards to hold the work down, a cage or cover over the blade"
        f"{f', {carried}' if carried else ''}."
        f"{f' A stop block, clamped so that the leading end halts {where}.' if stops else ''}"
        " Blade down, plug out, push a blank through at the pace of the passes: {feed}, {takes}.",
        "guards",
        *lengths,
        *halts,
        fed("feed", first.feed_speed, units),
        lasting("takes", fed_in(scene, first) / first.feed_speed),
        cautions=("guard", "stopped") if stops else ("guard",),
    )
    yield plug_in(first, units)


def _cut(job: Job, units: Units) -> Iterator[Step]:
    """Yield the passes: on scrap, on every blank at each height, the last one, and what to do when one is hard."""
    first, taken = job.passes[0], job.sections[0]
    alone = has_edges(job.scene, taken)  # what meets an earlier cut has no width of its own
    seen = "measure: a cove {width} wide where it was drawn" if alone else "look: it cuts where it was drawn"
    yield step(
        "Scrap first",
        f"One pass of scrap at {{blade_height}}. Plug out, {seen}, or begin again with the fence.",
        "pass",
        to_set("blade_height", first.height, units),
        *((to_mark("width", taken.width, units),) if alone else ()),
        cautions=("hands", "aside", "plug"),
        passes=(first.number,),
    )
    yield from every_blank(job, units)
