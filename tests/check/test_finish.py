"""Flags of the finishing operations: where wood is too thin, where nothing is taken, where the cove is opened."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from demos import cornice_with
from hypothesis import given
from strategies import between, fewer

from sweep.check.finish import FINISH_CODES, wood_behind
from sweep.check.judge import judge
from sweep.cut.finish import Change
from sweep.cut.job import simulate
from sweep.scene.read import scene_from
from sweep.show.say.flags import sentence_of
from sweep.tolerance import Fineness
from sweep.units import Units

LIP = (92 - 60.767) / 2
"""mm. From the side of the stock to the cove: the flat at the table by the closed form of `tests/shape`."""


def flags(*operations: dict, **limits: str) -> dict[str, list]:
    """The flags of the demo scene with finishing operations, by code."""
    table = cornice_with(finish=list(operations), limits=limits)
    found: dict[str, list] = {}
    for flag in judge(simulate(scene_from(table), Fineness(chord=0.05))).flags:
        found.setdefault(flag.code, []).append(flag)
    return found


def rabbet(width: float, depth: float = 5.0, edge: str = "table left") -> dict:
    """A rabbet, mm."""
    return {"do": "rabbet", "edge": edge, "width": f"{width} mm", "depth": f"{depth} mm"}


@pytest.mark.parametrize(
    ("operation", "left"),
    [
        (rabbet(LIP - 2), 2.0),  # the rib beside the cove
        (rabbet(46, 5, "top right"), 1.5),  # above the cove 6.5 mm were left
        ({"do": "rip", "at": "41.9 mm"}, 2.5),  # the strip beyond the kerf of 3.2 mm
        ({"do": "cove", "fence_angle": "20 deg", "blade_height": "4.5 mm"}, 2.0),  # between the two coves
    ],
)
def test_wood_thinner_than_the_limit_is_flagged_and_said_how_thin(operation, left):
    """By what is left of the stock, in plain sums."""
    found = flags(operation)["finish-thin"]

    assert len(found) == 1
    assert left == pytest.approx(found[0].value, abs=0.03)
    assert flags(operation, finish_wood=f"{left - 0.05} mm").keys() == set()


@pytest.mark.parametrize(
    "operation",
    [
        {"do": "rip", "at": "0 mm"},
        {"do": "round over", "edge": "cove left", "radius": "3 mm"},
        {"do": "chamfer", "edge": "cove right", "size": "3 mm"},
        {"do": "chamfer", "edge": "table left", "size": f"{LIP - 1} mm"},
        {"do": "bevel", "spring": "45 deg", "wall_flat": "26 mm"},
    ],
)
def test_what_leaves_thick_wood_is_not_flagged(operation):
    """A rip through the cove and work on its edges are meant; beside a chamfer a narrow flat is no thin wood."""
    assert flags(operation) == {}


def test_an_operation_that_breaks_into_the_cove_names_the_piece():
    """Ripped in two, the right half is rabbeted too wide; whole, there is no piece to name."""
    wide = rabbet(LIP + 2, edge="table right")
    (found,) = flags({"do": "rip", "at": "0 mm"}, wide | {"piece": 2})["finish-through"]

    assert sentence_of(found, Units()).startswith("finish 2 (rabbet, piece 2) breaks into the cove")
    assert sentence_of(flags(wide)["finish-through"][0], Units()).startswith("finish 1 (rabbet) breaks into the cove")


def test_an_operation_that_takes_nothing_is_flagged():
    """Beside the stock, and where an earlier one took everything there was."""
    assert flags({"do": "rip", "at": "200 mm"}).keys() == {"finish-nothing"}
    twice = [{"do": "rip", "at": "36 mm", "keep": "left"}, {"do": "rip", "at": "40 mm"}]
    found = flags(*twice)["finish-nothing"]

    assert "finish 2 (rip) takes nothing" in sentence_of(found[0], Units())


def test_breaking_into_the_cove_is_flagged():
    """A rabbet wider than the flat beside the cove."""
    found = flags(rabbet(LIP + 3))["finish-through"]

    assert found[0].value > 3
    assert "breaks into the cove" in sentence_of(found[0], Units())


def test_a_message_names_the_operation_and_is_in_the_makers_units():
    """The second of two, in inches."""
    found = flags({"do": "chamfer", "edge": "top left", "size": "1/8 in"}, rabbet(LIP - 25.4 / 16))

    assert sentence_of(found["finish-thin"][0], Units("in")).startswith("finish 2 (rabbet) leaves 1/16")
    assert found["finish-thin"][0].number is None


def test_the_codes_are_all_there_are():
    """What pictures look for is what is raised."""
    raised = {*flags(rabbet(LIP - 2)), *flags(rabbet(LIP + 3)), *flags({"do": "rip", "at": "200 mm"})}

    assert raised == set(FINISH_CODES)


@given(thickness=between(5, 30), depth=between(1, 4), lean=between(-40, 40))
@fewer(1 / 8)
def test_the_wood_behind_a_groove_is_measured_square_to_its_faces(thickness, depth, lean):
    """A groove of parallel sides in a board: its floor keeps the board's thickness less its depth."""
    board = shapely.box(-50, 0, 50, thickness)
    slope = math.tan(math.radians(lean))
    groove = shapely.Polygon(
        [(-2 - slope, thickness + 1), (2 - slope, thickness + 1), (2, thickness - depth), (-2, thickness - depth)]
    )
    left = wood_behind(Change(board, groove, shapely.difference(board, groove)))

    assert left == pytest.approx(thickness - depth, rel=1e-9)


def test_a_face_that_runs_into_another_is_not_measured_against_it():
    """Across a corner: behind it lies only what it does not meet."""
    board = shapely.box(0, 0, 40, 20)
    corner = shapely.Polygon([(-1, 14), (-1, 21), (6, 21)])
    change = Change(board, corner, shapely.difference(board, corner))
    start, end = np.array([0, 15.0]), np.array([5.0, 20])

    assert shapely.intersection(shapely.boundary(corner), board).length == pytest.approx(np.hypot(*(end - start)))
    assert wood_behind(change) == pytest.approx(15 * math.sqrt(2), rel=1e-3)  # from its lower end to the table
