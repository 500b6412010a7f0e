"""How the fence is set: tape-measure figures as tables, the rest in sentences of plain ASCII."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sweep.check.limits import HOLDS_OFF
from sweep.cut.fence import FenceLayout, Strips, Touch, pull_on_fence
from sweep.cut.lines_on_table import BESIDE, FeedLine, TapeMark
from sweep.cut.load import Load
from sweep.cut.room_on_saw import room_on_table, throat_needed
from sweep.scene.model import SetUpScene, WholeScene
from sweep.shape.section import edges_at_table
from sweep.show.say.estimates import estimates
from sweep.show.say.table import Column, Table
from sweep.shown import Shown
from sweep.units import FORCE, MM_PER_INCH, Units, degrees

SQUARE = math.radians(89.5)
"""rad. Fence angle beyond which the fence is said to run straight across."""

VAGUE = math.radians(5)
"""rad. Where a small error of the strips' gap turns them further than this, they do not set the angle."""


def beside(units: Units) -> float:
    """Return how far from the blade's centre to measure where a scene has no table, mm: a round figure to the maker."""
    return BESIDE if units.metric else 10 * MM_PER_INCH


def side_of(side: str) -> str:
    """Return which side of the blade the fence is on, as it is said."""
    return "operator's" if side == "near" else "far"


def runs_of(layout: FenceLayout) -> str:
    """Return how the fence runs over the table and on which side of it the work goes, as the maker sees it."""
    near, across = layout.side == "near", layout.angle > math.pi / 4
    left_of = ("beyond it" if near else "on your side of it") if across else f"to its {'left' if near else 'right'}"
    course = "straight across from left to right" if layout.angle > SQUARE else "from front left to rear right"
    return f"runs {course}, the work {left_of}"


def leans_to(tilt: float) -> str:
    """Return to which side the top of a tilted blade leans, looking along the feed."""
    return "right" if tilt > 0 else "left"


def rip_side(side: str) -> str:
    """Return which side of the blade the fence of a straight rip is on, looking along the feed."""
    return "right" if side == "near" else "left"


def fence_stands(scene: WholeScene) -> str:
    """Return on which side the fence is: of a rip looking along the feed, else the operator's or the far one."""
    side = scene.setup.fence_side
    return f"on the {rip_side(side)}" if scene.feed.along_blade else f"{side_of(side)} side"


def fence_in_short(scene: WholeScene) -> str:
    """Return the fence's angle and side in a few words; a rip's has no angle to set."""
    if scene.feed.along_blade:
        return f"rip fence {fence_stands(scene)}"
    return f"fence at {degrees(scene.setup.fence_angle):.2f}\N{DEGREE SIGN}, on the {fence_stands(scene)}"


def rip_gap(scene: WholeScene) -> float:
    """Return how far a rip fence is from the nearest teeth at the table, mm."""
    edges, half = edges_at_table(scene.tool, scene.feed, scene.tilt, scene.setup.blade_height), scene.stock.width / 2
    assert edges is not None  # no blade that is raised stays under the table
    return half - edges[1] if scene.setup.fence_side == "near" else edges[0] + half


def rip_sentence(scene: WholeScene, units: Units) -> str:
    """Return how far a rip fence is set from the teeth, at the table."""
    gap = units.tape(rip_gap(scene))
    return f"At the table its face is {gap} from the nearest teeth; measure to a tooth that leans that way."


def fence_headline(layout: FenceLayout) -> str:
    """Return the fence's angle and side."""
    if layout.angle == 0.0:
        return f"rip fence along the blade, on the {rip_side(layout.side)} of it (looking along the feed)"
    return f"fence at {degrees(layout.angle):.2f} deg to the blade's plane; it {runs_of(layout)}"


BLOCK = (
    "Set-up block, a short piece as the last pass leaves it: with the saw stopped and unplugged and the blade at its "
    "full height, push it along the fence. The rim just touches its leading end in these places:"
)


def lines_of(layout: FenceLayout) -> tuple[tuple[str, FeedLine], ...]:
    """Return the lines that are measured, each with what it is; the second is where a second fence can stand."""
    lines = ("face of the fence", layout.face), ("other edge of the stock", layout.opposite)
    return lines if layout.has_second else lines[:1]


def slot_headings(scene: WholeScene, units: Units) -> tuple[str, ...]:
    """Return a heading for each mitre slot, by its nearest edge."""
    return tuple(f"from slot's edge\n{aside(slot, units)}" for slot in scene.saw.slots)


def from_slots_of(mark: TapeMark, units: Units) -> tuple[str, ...]:
    """Return how far a mark lies from each slot; nothing where it is not on the edge that the slots meet."""
    return tuple(aside(distance, units) for distance in mark.from_slots)


def marks_table(scene: WholeScene, layout: FenceLayout, units: Units) -> Table:
    """Return where the fence and the stock's other edge cross the edges of the table, from the blade and the slots."""
    slots = slot_headings(scene, units)
    lines = [(name, line) for name, (_, line) in zip(("fence", "other edge"), lines_of(layout), strict=False)]
    across = all(mark.edge in ("front", "rear") for _, line in lines for mark in line.marks)
    rows: list[tuple[str, ...]] = []
    for name, line in lines:
        for number, mark in enumerate(line.marks):
            where = f"{mark.edge} edge" if layout.on_table else where_of(mark, layout, units)
            measured = aside(mark.x, units) if across else measure_of(scene, mark, layout, units)
            from_slots = from_slots_of(mark, units) or ("-",) * len(slots)
            rows.append(("" if number else name, where, measured, *from_slots))
        if not line.marks:
            rows.append((name, "misses the table", "", *[""] * len(slots)))
        elif line.difference is not None:
            rows.append(("", "difference", units.tape(abs(line.difference)), *[""] * len(slots)))
    columns = (Column("", left=True), Column("", left=True), Column("from the blade" if across else ""))
    return Table((*columns, *map(Column, slots)), tuple(rows))


def where_of(mark: TapeMark, layout: FenceLayout, units: Units) -> str:
    """Return the edge or the line at which a mark is measured."""
    if layout.on_table:
        return f"at the {mark.edge} edge"
    if mark.edge in ("front", "rear"):
        return f"{_along(mark.y, units)} the blade's centre"
    return f"{aside(mark.x, units)} of the blade"


def measure_of(scene: SetUpScene, mark: TapeMark, layout: FenceLayout, units: Units) -> str:
    """Return how far along that edge the mark lies."""
    if mark.edge in ("front", "rear"):
        return f"{aside(mark.x, units)} of the blade"
    if layout.on_table and scene.saw.front_to_blade is not None:
        return f"{units.tape(mark.y + scene.saw.front_to_blade)} from the front edge"
    return f"{_along(mark.y, units)} the blade's centre"


def aside(x: float, units: Units) -> str:
    """Return a distance to the right as a tape reads it, with its side."""
    return f"{units.tape(abs(x))} {'left' if x < 0 else 'right'}"


def _along(y: float, units: Units) -> str:
    return f"{units.tape(abs(y))} {'before' if y < 0 else 'beyond'}"


def _slip(units: Units) -> tuple[float, str]:
    """Return a small error of measuring, mm, and in words."""
    return (1.0, "1 mm") if units.metric else (MM_PER_INCH / 32, "1/32 in")


def tape_sentence(scene: WholeScene, layout: FenceLayout, units: Units) -> str:
    """Return from where to measure, and what an error of the tape does."""
    left, right = (scene.tool.profile[end][0] / math.cos(scene.tilt) for end in (0, -1))
    said = (
        "Distances from the blade are from its plane at the table; there the teeth reach from "
        f"{aside(left, units)} to {aside(right, units)} of it."
    )
    slip, words = _slip(units)
    if layout.face.turn is None:
        return said
    turn = degrees(layout.face.turn * slip)
    return f"{said} An error of {words} at one of two marks turns the fence by {turn:.2g} deg."


def strips_sentence(strips: Strips | None, units: Units) -> str:
    """Return how far apart parallel strips are set, and where they touch the rim."""
    if strips is None:
        return "The blade does not reach the table: there is nothing to lay strips against."
    return (
        f"Parallel strips: with the saw stopped and unplugged and the blade at its full height, lay two strips "
        f"{units.length(strips.gap)} apart on the table over the blade. They lie along the fence when both touch the "
        f"rim: {strips_touch(strips, units)}. Turn the blade by hand until a tooth stands there. "
        f"{strips_slip(strips, units)}"
    )


def strips_touch(strips: Strips, units: Units) -> str:
    """Return where the strips touch the rim, and that it is measured along the blade and not along the feed."""
    left, right = (_along(y, units) for _, y in (strips.left, strips.right))
    return (
        f"the left one (looking along the feed) {left} the blade's centre, the right one {right} it, measured along "
        "the blade"
    )


def strips_slip(strips: Strips, units: Units) -> str:
    """Return what an error of the strips' gap does."""
    slip, words = _slip(units)
    if strips.turn is None or strips.turn * slip > VAGUE:
        return "At this set-up the gap of the strips hardly tells the angle: set the fence by tape."
    return f"An error of {words} in the strips' gap turns them by {degrees(strips.turn * slip):.2g} deg."


def past_of(touch: Touch, units: Units) -> str:
    """Return how far the end of a block has gone past the blade's centre when the rim touches it."""
    return f"{units.nearest(abs(touch.travel))} {'before' if touch.travel < 0 else 'beyond'}"


def touches_table(layout: FenceLayout, units: Units) -> Table:
    """Return where the rim touches the end of a set-up block, in the order in which it does."""
    headings = ("its end from the centre,\nalong the feed", "from the edge\nat the fence", "above\nthe table")
    rows = (
        (touch.where, past_of(touch, units), units.nearest(touch.from_fence), units.length(touch.height))
        for touch in layout.touches
    )
    return Table((Column("at the cove's", left=True), *map(Column, headings)), tuple(rows))


def pull_sentence(layout: FenceLayout, loads: Sequence[Load], units: Units) -> str:
    """Return the two forces across, their balance, and whether its sign is known."""
    if layout.angle == 0.0:
        return (
            "The teeth run towards the operator at the top. A featherboard before the blade holds the work to the "
            "fence, none beside or beyond it."
        )
    said = "The teeth run towards the operator at the top, to the right looking along the feed."
    pull = pull_on_fence(loads)
    both = "hold the work from both sides"
    if not layout.has_second:
        both = "only featherboards clear of the blade can hold it from the other side"
    if pull is None:
        return f"{said} The forces are not known for this wood: {both}."
    whole = (pull.pulled, pull.pressed, pull.least, pull.most, pull.low, pull.high)
    pulled, pressed, *balance = estimates(whole, FORCE, units)
    said += (
        f" In the heaviest pass, {pull.heaviest}, they pull with {_across(pulled)} the fence and their sides press "
        f"with {_across(pressed)} it; over all passes the balance is {_from_to(*balance[:2])} it (estimates; band "
        f"{_from_to(*balance[2:])})"
    )
    if pull.least < -HOLDS_OFF and not layout.has_second:
        return f"{said}: nothing holds the work there safely, for the blade would cut a second fence."
    if pull.least < -HOLDS_OFF:
        return f"{said}: only a second fence holds the work there, or the fence on the other side of the blade."
    if pull.low < 0:
        return f"{said}: the sign is not known, {both}."
    return f"{said}: hold the work to the fence from the other side too."


def _across(force: Shown) -> str:
    return f"{_size(force)} {'off' if force.startswith('-') else 'into'}"


def _size(force: Shown) -> Shown:
    return Shown(force.figure.lstrip("-"), force.unit)


def _from_to(least: Shown, most: Shown) -> str:
    """Return two forces across; the side once where both have it, as one of nought has."""
    off = least.startswith("-")
    if off and (most.startswith("-") or most.figure == "0"):
        return f"{_size(most).bare} to {_across(least)}"
    return f"{_across(least)} to {_across(most)}" if off else f"{least.bare} to {_across(most)}"


def clear_sentence(layout: FenceLayout, units: Units) -> str:
    """Return how near the blade comes to the fence and to a second one."""
    gap, beyond = (units.tape(abs(gap)) for gap in (layout.clear, layout.clear_opposite))
    stands = f"The blade stands {gap} {'clear of' if layout.clear >= 0 else 'into'} the fence"
    if layout.angle == 0.0:
        return f"{stands}. No second fence: what is sawn off must lie free."
    said = f"{stands}, and "
    if layout.has_second:
        return f"{said}{beyond} clear of a second fence at the stock's other edge."
    return f"{said}reaches {beyond} beyond the stock's other edge: no second fence can stand there."


def room_sentence(scene: WholeScene, units: Units) -> str:
    """Return what room the set-up takes: of the throat plate, and of the table where the scene gives it."""
    long, wide = throat_needed(scene)
    said = (
        f"The blade needs an opening at least {units.tape(long)} long and {units.tape(wide)} wide through a throat "
        f"plate {units.tape(scene.saw.throat_thickness)} thick"
    )
    room = room_on_table(scene)
    if room is None:
        return f"{said}. The scene gives no table (saw.table_depth and the like): what fits on it is not judged."
    if room.fence_length is not None:
        said += f"; the fence must be {units.tape(room.fence_length)} long to reach both edges of the table"
    needs = ((room.before, "before the table"), (room.after, "beyond it"))
    carried = " and ".join(f"{units.tape(needed)} {where}" for needed, where in needs if needed > 0)
    return f"{said}; the stock must be carried at least {carried}." if carried else f"{said}."
