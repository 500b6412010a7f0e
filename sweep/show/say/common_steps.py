"""The steps that every order of work shares: the wood, the plug, every blank at each height, the end.

The spare blank, the set-up blocks and coming up to a height from below are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from sweep.cut.job import Job
from sweep.cut.passes import Pass
from sweep.cut.room_on_saw import room_on_table, throat_needed
from sweep.scene.defaults import default_of
from sweep.scene.model import Scene, WholeScene
from sweep.scene.order import Order
from sweep.show.say.cautions import IF_FORCED, Key
from sweep.show.say.fence import leans_to
from sweep.show.say.passes import fed_in
from sweep.show.say.steps import Step, StepFigure, by_tape, counted, fed, lasting, step, to_set, turned
from sweep.tolerance import FINE_CHORD
from sweep.units import LENGTH, Units

CLEAR = "Everything clear of the blade; only then the plug."
"""The last thing before the saw is switched on, at every height."""


def wood(scene: WholeScene, units: Units) -> Step:
    """Return what is made ready at the bench; in a later set-up of several, what the one before left."""
    cautions: tuple[Key, ...] = (
        ("ask", "stopped", "sound", "small") if scene.passes.stop_short else ("ask", "sound", "small")
    )
    if scene.stock.blank is None:
        return prepared(scene, "", units, *cautions)
    return step(
        "Wood",
        "Every blank, the spare and the scrap as the set-up before left them. Crosscut a set-up block of {block} off "
        "the spare, which stays {least} long or more.",
        "wood",
        by_tape("block", _block(scene, units), units),
        by_tape("least", scene.limits.stock_length, units),
        cautions=cautions,
    )


def prepared(scene: Scene, more: str, units: Units, *cautions: Key) -> Step:
    """Return what is made ready before any cut: blanks, spare, blocks, scrap, and in words what `more` there is."""
    stock, order = scene.stock, scene.order
    if order is None:
        wanted = "One blank more than you need at least, two set-up blocks of {block} (common practice)"
        numbers = []
    else:
        wanted = "The blanks of the cut list, {spares} of them spare, {blocks} set-up blocks of {block}"
        numbers = [counted("spares", order.spares), counted("blocks", order.setup_blocks)]
    return step(
        "Wood",
        f"{wanted} and scrap of {{least}} or more, all planed to {{width}} by {{thickness}}. Mark every blank's edge "
        f"for the fence and its leading end.{more}",
        "wood",
        *numbers,
        by_tape("block", _block(scene, units), units),
        to_set("width", stock.width, units),
        to_set("thickness", stock.thickness, units),
        by_tape("least", scene.limits.stock_length, units),
        cautions=cautions,
    )


def _block(scene: Scene, units: Units) -> float:
    if scene.order is not None:
        return scene.order.setup_block_length
    return default_of(Order, "setup_block_length", LENGTH, inches=not units.metric)


def plug_in(first: Pass, units: Units) -> Step:
    """Return how the plug is put in, the blade at the height of the first pass."""
    return step(
        "Plug in",
        f"Set the first height, {{blade_height}}, from below. {CLEAR}",
        "plug",
        to_set("blade_height", first.height, units),
        cautions=("lungs",),
    )


def every_blank(job: Job, units: Units, then: str = "") -> Iterator[Step]:
    """Yield the passes of every blank at each height, and `then`, in words; the last one; and what ends the work."""
    scene, first, last = job.scene, job.passes[0], job.passes[-1]
    numbers = tuple(one.number for one in job.passes)
    away = "lift the stock straight up" if scene.setup.blade_tilt == 0 else "lower the blade, lift the stock away"
    halted = (
        " At the stop block hold the stock still and switch off with knee or foot, without letting go. Wait until the "
        f"blade stands still, pull the plug, {away}."
    )
    yield step(
        "Every blank at each height",
        "All blanks before the blade is raised, the same edge to the fence and the same end first."
        f"{halted if scene.passes.stop_short else ''}{then}",
        "pass",
        cautions=("hands", "aside", "stopped") if scene.passes.stop_short else ("hands", "aside"),
        passes=numbers,
    )
    if len(numbers) > 1:
        yield step(
            "Next height",
            "Switch off, wait until the blade stands still, plug out. Raise it to the next height from below: if it "
            "went past, lower it a whole turn and come up again, or the wheel's slack lets it sink.",
            "height",
            cautions=("plug",),
            passes=numbers[1:],
        )
        pace = "slowly" if last.feed_speed < first.feed_speed else "evenly"
        yield step(
            "Last pass",
            f"At {{blade_height}}, fed {pace} and without a halt: {{feed}}, {{takes}}. Its marks are those that stay.",
            "pass",
            to_set("blade_height", last.height, units),
            fed("feed", last.feed_speed, units),
            lasting("takes", fed_in(scene, last) / last.feed_speed),
            cautions=("hands", "aside"),
            passes=numbers[-1:],
        )
    yield step("If it must be forced, stop", IF_FORCED, "forced", passes=numbers)
    yield step(
        "At the end",
        "Plug out. Guard and riving knife back before the saw does anything else. Keep a block with the finished "
        f"{'cut' if scene.feed.along_blade else 'cove'}; write down what was set.",
        "end",
        cautions=("plug",),
    )


def cut_into(reach: float, units: Units) -> str:
    """Return what is to be done where the blade reaches so far into the fence, mm; nothing where it does not."""
    if reach <= FINE_CHORD:
        return ""
    return (
        f" The blade reaches {units.length(reach)} into it: as it is set this is not cut. Set the fence on the stock's "
        "other side where the blade keeps clear of it, or cut wider stock and rip the rest off afterwards."
    )


def tilting(scene: WholeScene) -> tuple[str, list[StepFigure]]:
    """Return how the blade is tilted, in words with a place for its angle, and the angle; nothing where it is not."""
    tilt = scene.tilt
    if abs(tilt) < 1e-9:
        return "", []
    return f"Tilt the blade {{blade_tilt}}, its top to the {leans_to(tilt)}. ", [turned("blade_tilt", abs(tilt))]


def throat(scene: WholeScene, units: Units) -> list[StepFigure]:
    """Return how long and how wide an opening the blade needs in the throat plate."""
    long, wide = throat_needed(scene)
    return [by_tape("throat_length", long, units), by_tape("throat_width", wide, units)]


def stands(scene: WholeScene, units: Units) -> tuple[str, list[StepFigure]]:
    """Return how far stands carry the stock, in words with places for lengths, and these; nothing where none must."""
    room = room_on_table(scene)
    ends = [] if room is None else [("before", room.before), ("beyond", room.after)]
    lengths = [by_tape(name, needed, units) for name, needed in ends if needed > 0]
    carried = " and ".join(f"{{{one.name}}} {one.name}" for one in lengths)
    return (f"stands to carry it {carried} the table" if lengths else ""), lengths
