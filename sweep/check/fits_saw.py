"""Whether fence, blade and stock have room on the saw: a flag for whatever has not."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.cut.fence import fence_on_table
from sweep.cut.room_on_saw import TableRoom, room_on_table, throat_needed
from sweep.figure import length, named
from sweep.scene.model import WholeScene
from sweep.tolerance import FINE_CHORD, SAME_HEIGHT
from sweep.units import LENGTH


def flags_of_table(scene: WholeScene) -> list[Flag]:
    """Return what does not fit the saw; sizes that the scene does not give are not judged."""
    room = room_on_table(scene)
    return [*_fence_cut(scene), *_fence(scene, room), *_throat(scene), *_support(scene, room)]


def _fence_cut(scene: WholeScene) -> list[Flag]:
    layout, flags = fence_on_table(scene), []
    if layout.clear < -FINE_CHORD:
        flags.append(Flag("fence-cut", None, -layout.clear, 0.0, LENGTH))
    if not layout.has_second and not scene.feed.along_blade:
        flags.append(Flag("second-fence-cut", None, -layout.clear_opposite, 0.0, LENGTH))
    return flags


def _fence(scene: WholeScene, room: TableRoom | None) -> list[Flag]:
    """Return what is too little of the table for the fence; the saw's own, of a straight rip, fits it."""
    given = scene.fence.length
    if room is None or scene.feed.along_blade:
        return []
    if room.fence_missing > SAME_HEIGHT:
        return [Flag("fence-off-table", None, room.fence_missing, 0.0, LENGTH, scene.setup.fence_side)]
    if given is not None and room.fence_length is not None and given < room.fence_length - SAME_HEIGHT:
        return [Flag("fence-short", None, given, room.fence_length, LENGTH)]
    return []


def _throat(scene: WholeScene) -> list[Flag]:
    saw = scene.saw
    if saw.throat is None:
        return []
    openings = zip(("long", "wide"), saw.throat, throat_needed(scene), strict=True)
    plate = named(throat_thickness=length(saw.throat_thickness))
    return [
        Flag("throat-tight", None, opening, needed, LENGTH, way, plate)
        for way, opening, needed in openings
        if needed > opening + SAME_HEIGHT
    ]


def _support(scene: WholeScene, room: TableRoom | None) -> list[Flag]:
    if room is None:
        return []
    ends = (
        ("before", room.before, scene.saw.support_before),
        ("after", room.after, scene.saw.support_after),
    )
    return [
        Flag("stock-unsupported", None, needed, given, LENGTH, end)
        for end, needed, given in ends
        if needed > given + SAME_HEIGHT
    ]
