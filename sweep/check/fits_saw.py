"""Whether fence, blade and stock have room on the saw: flags, each with what to do."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.cut.fence import fence_on_table
from sweep.cut.room_on_saw import TableRoom, room_on_table, throat_needed
from sweep.scene.model import Scene
from sweep.tolerance import FINE_CHORD, SAME_HEIGHT
from sweep.units import Units


def flags_of_table(scene: Scene, u: Units) -> list[Flag]:
    """Return what does not fit the saw; sizes that the scene does not give are not judged."""
    room = room_on_table(scene)
    return [*_fence_cut(scene, u), *_fence(scene, room, u), *_throat(scene, u), *_support(scene, room, u)]


def _fence_cut(scene: Scene, u: Units) -> list[Flag]:
    into = -fence_on_table(scene).clear
    if into <= FINE_CHORD:
        return []
    message = (
        f"the blade reaches {u.length(into)} into the fence: cut the cove in wider stock and rip the rest off "
        "afterwards, or face the fence with a board that may be cut"
    )
    return [Flag("fence-cut", None, into, 0.0, message)]


def _fence(scene: Scene, room: TableRoom | None, u: Units) -> list[Flag]:
    length = scene.fence.length
    if room is None:
        return []
    if room.fence_missing > SAME_HEIGHT:
        other = "far" if scene.setup.fence_side == "near" else "operator's"
        message = (
            f"beside the cut {u.length(room.fence_missing)} of the fence has no table under it: set it on the {other} "
            "side of the blade, or fix a board level with the table there"
        )
        return [Flag("fence-off-table", None, room.fence_missing, 0.0, message)]
    if length is not None and room.fence_length is not None and length < room.fence_length - SAME_HEIGHT:
        message = (
            f"a fence {u.length(length)} long cannot be clamped at both edges of the table: take one at least "
            f"{u.length(room.fence_length)} long"
        )
        return [Flag("fence-short", None, length, room.fence_length, message)]
    return []


def _throat(scene: Scene, u: Units) -> list[Flag]:
    flags, saw = [], scene.saw
    if saw.throat_length is None:
        return []
    for name, opening, needed in zip(
        ("long", "wide"), (saw.throat_length, saw.throat_width), throat_needed(scene), strict=True
    ):
        if needed > opening + SAME_HEIGHT:
            message = (
                f"the opening of the throat plate is {u.length(opening)} {name}, and the blade needs "
                f"{u.length(needed)} through a plate {u.length(saw.throat_thickness)} thick: fit a plate with a larger "
                "opening before the blade is raised"
            )
            flags.append(Flag("throat-tight", None, opening, needed, message))
    return flags


def _support(scene: Scene, room: TableRoom | None, u: Units) -> list[Flag]:
    flags = []
    if room is None:
        return []
    for when, key, needed, given in (
        ("as a pass begins", "before", room.before, scene.saw.support_before),
        ("as a pass ends", "after", room.after, scene.saw.support_after),
    ):
        if needed > given + SAME_HEIGHT:
            message = (
                f"{when} the middle of the stock stands {u.length(needed)} beyond the table's edge and is carried for "
                f"{u.length(given)}: set stands or rollers that carry it further (saw.support_{key}), or cut shorter "
                "stock"
            )
            flags.append(Flag("stock-unsupported", None, needed, given, message))
    return flags
