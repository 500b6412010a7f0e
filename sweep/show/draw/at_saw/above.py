"""Pictures of the table from above: the strips against the rim, and what holds, covers and carries the work."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sweep.cut.lines_on_table import Box, along_box
from sweep.cut.room_on_saw import room_on_table
from sweep.show.draw.at_saw.room import HEIGHT, LARGE, WIDTH, WORDS
from sweep.show.draw.dimensioned_plan import table_plan
from sweep.show.draw.guards import boards_across, cage, cage_named
from sweep.show.draw.saw_from_above import FromAbove, blade_at_table, feed_arrow, saw_parts
from sweep.show.draw.sketch import Drawing, Part, dot, drawing, path, words
from sweep.show.say.report import Report

_AROUND = 1.25  # of the blade's length, of the table drawn round it
_STRIP = 12.0  # width of a strip, mm
_FEATHERS = 5
_ROOM = 6.0  # above and below the table, mm of drawing


def strips(report: Report) -> Drawing:
    """Return the two strips over the blade, each against the rim, and how far apart they are."""
    scene, layout = report.scene, report.layout
    long = blade_at_table(scene)
    reach = max(_AROUND * long / 2, 0.9 * (layout.strips.gap if layout.strips else long))
    wide = reach * (WIDTH - 2) / (HEIGHT - 8)
    edges: Box = (-wide, wide, -reach, reach)
    scale = (HEIGHT - 8) / (2 * reach)
    view = FromAbove(scene, layout, edges, scale, (1.0, 1.0))
    parts = [part for part in saw_parts(view) if part.get("stroke") != "dashed" and part.get("fill") != "wood"]
    if layout.strips is None:
        return drawing(WIDTH, HEIGHT, parts)
    ends = along_box((-2 * wide, 2 * wide, -2 * reach, 2 * reach), scene.feed, 0.0) or (-reach, reach)
    places = sorted(float(np.dot(scene.feed.across[:2], place)) for place in (layout.strips.left, layout.strips.right))
    for side, where in zip((-1, 1), places, strict=True):
        beyond = where + side * _STRIP
        around = [(where, ends[0]), (where, ends[1]), (beyond, ends[1]), (beyond, ends[0])]
        corners = view.at([view.along(across, run) for across, run in around])
        parts.append(path(corners, "edge", "wood", closed=True, clip=view.table))
    for place in (layout.strips.left, layout.strips.right):
        parts.append(dot(*view.spot(place), 0.9, "edge", "paper"))
    one, other = (view.along(where, -0.62 * reach) for where in places)
    tail, tip = view.at([one, other])
    x, y = ((tail + tip) / 2).tolist()
    parts.append(path([tail, tip], "edge"))
    parts.append(words(report.units.length(layout.strips.gap), x, y, size=LARGE, bold=True, halo=True))
    parts.append(words("operator's side", WIDTH / 2, HEIGHT - 3.4, size=WORDS, colour="faint"))
    return drawing(WIDTH, HEIGHT, parts)


def guards(report: Report) -> Drawing:
    """Return the table with fence, second fence, cage over the blade, featherboards, and how far stands carry."""
    scene, units = report.scene, report.units
    plan = table_plan(scene, report.layout, units)
    left, right, front, rear = plan.edges
    scale = min((WIDTH - 4) / (right - left), (HEIGHT - 2 * _ROOM) / (rear - front))
    view = FromAbove(scene, plan.layout, plan.edges, scale, ((WIDTH - (right - left) * scale) / 2, _ROOM))
    parts = [*saw_parts(view), *feed_arrow(view)]
    if not scene.feed.along_blade:
        parts.append(path(view.at(cage(view)), "dashed", closed=True))
    for board in boards_across(view):
        parts += _featherboard(view, board)
    if not scene.feed.along_blade:
        parts.append(cage_named(view, WORDS))
    bottom = view.table[1] + view.table[3]
    room = room_on_table(scene)
    if room is not None and room.before > 0:
        parts.append(_word(f"stand {units.tape(room.before)} before", bottom + 3.2))
    else:
        parts.append(_word("operator's side", bottom + 3.2))
    if room is not None and room.after > 0:
        parts.append(_word(f"stand {units.tape(room.after)} beyond", view.table[1] - 3.0))
    return drawing(WIDTH, HEIGHT, parts)


def _word(text: str, level: float) -> Part:
    return words(text, WIDTH / 2, level, size=WORDS, bold=True)


def _featherboard(view: FromAbove, board: NDArray[np.float64]) -> list[Part]:
    """Return a featherboard and the slots between its feathers."""
    start, end, other_end, other_start = view.at(board)
    slots = [np.array([start + k * (end - start), other_start + k * (other_end - other_start)])
             for k in np.linspace(0, 1, _FEATHERS + 1)[1:-1]]  # fmt: skip
    clip = view.table
    return [path([start, end, other_end, other_start], "hair", "paper", closed=True, clip=clip),
            *(path(slot, "faint", clip=clip) for slot in slots)]  # fmt: skip
