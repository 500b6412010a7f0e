"""The order of work of a straight rip, along the saw's own fence: how it differs from an oblique cut.

A riving knife wherever the cut goes through, a featherboard before the blade only, nothing on the other side of what
is sawn off, and leaving that until the blade stands still are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from sweep.cut.job import Job
from sweep.shape import section
from sweep.show.say.common_steps import cut_into, every_blank, plug_in, stands, throat, tilting, wood
from sweep.show.say.fence import rip_gap, rip_side
from sweep.show.say.passes import turns_of
from sweep.show.say.steps import Step, step, to_set
from sweep.units import Units


def rip_steps(job: Job, units: Units) -> Iterator[Step]:
    """Yield the steps of a rip, in the order in which a maker goes through them."""
    scene, setup, first = job.scene, job.scene.setup, job.passes[0]
    through = len(section.parts(job.sections[-1].left)) > 1
    covered = setup.blade_height < scene.stock.thickness  # wood above the blade, though a step may come free below it
    gap = to_set("to_teeth", rip_gap(scene), units)
    yield wood(scene, units)
    yield step(
        "Block",
        "Draw the cut on the end of a set-up block, full size as in sheet.pdf: at the table its near side is "
        f"{{to_teeth}} from the fence's side{'' if through else ', its bottom {blade_height} up'}.",
        "block",
        gap,
        *([] if through else [to_set("blade_height", setup.blade_height, units)]),
    )
    turns, (lean, tilted) = turns_of(setup.blade_height, scene), tilting(scene)
    yield step(
        "Full height",
        f"Plug out, and in your sight. {lean}Turn a tooth to the top by hand and raise it to "
        f"{{blade_height}}{f', {turns} turns up from the table' if turns else ''}"
        f"{_reaches(through, covered)}. Throat plate: an opening of {{throat_length}} by {{throat_width}}, hardly "
        "more.",
        "height",
        *tilted,
        to_set("blade_height", setup.blade_height, units),
        *throat(scene, units),
        cautions=("plug",),
    )
    yield step(
        "Rip fence",
        f"The saw's own, on the {rip_side(setup.fence_side)} of the blade (looking along the feed): {{to_teeth}} to "
        "the nearest teeth at the table, with the same tooth turned to the front and to the rear. Clamp it; hold the "
        f"block against it: the teeth stand on the drawn cut.{cut_into(-rip_gap(scene), units)}",
        "fence",
        gap,
        cautions=("plug",),
    )
    held = (
        "Wood stays above the blade: a riving knife no higher than the teeth, and a cover over the blade."
        if covered
        else "The cut goes right through: riving knife and guard on."
    )
    carried, lengths = stands(scene, units)
    yield step(
        "Knife, guard, featherboard",
        f"{held} A featherboard to the fence before the blade, none beside or beyond it: it would close the kerf. No "
        "second fence, and no stop where a piece comes free."
        f"{f' {carried.capitalize()}.' if carried else ''}",
        "guards",
        *lengths,
        cautions=("guard", "stopped") if scene.passes.stop_short else ("guard",),
    )
    yield plug_in(first, units)
    yield step(
        "Scrap first",
        "One pass of scrap at {blade_height}. Plug out, measure: {to_teeth} from the edge at the fence, or begin again "
        "with the fence.",
        "pass",
        to_set("blade_height", first.height, units),
        gap,
        cautions=("hands", "aside", "plug"),
        passes=(first.number,),
    )
    free = " Push each past the blade with a push block. What is sawn off stays where it is until the blade stands."
    yield from every_blank(job, units, free if through else "")


def _reaches(through: bool, covered: bool) -> str:
    """Return how far the blade is raised, as it is seen."""
    if not covered:
        return ", just out of the wood"
    return ", just into the cut before" if through else ", level with the bottom of the drawn cut"
