"""What follows the cove, in words: settings of the saw where it is sawn, said plainly where it is not."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with
from hypothesis import assume, given
from reports import COARSE, report_of
from strategies import fewer, finished_scenes

from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.scene.read import scene_from
from sweep.show.say.after_the_cove import after_the_cove
from sweep.show.say.finishing import mitre_sentence
from sweep.show.say.numbers.result import result_of
from sweep.units import Units


def told(*operations: dict, style: str = "mm") -> list[str]:
    """What follows the cornice's cove."""
    scene = scene_from(cornice_with(finish=list(operations)))
    return after_the_cove(simulate(scene, COARSE).finishing, scene, Units(style))


@fewer(1 / 20)
@given(scene=finished_scenes())
def test_every_operation_on_any_scene_has_its_paragraph(scene):
    """Random operations: one each, whatever they meet, and no router or plane where a rip saw is set."""
    try:
        job = simulate(scene, COARSE)
    except SceneError:
        assume(False)
    said = after_the_cove(job.finishing, scene, Units())

    assert len(said) == len(scene.finish)
    for words, operation in zip(said, scene.finish, strict=True):
        assert words.endswith(".")
        if operation.do in ("round over", "rabbet"):
            assert "router" in words or "takes nothing" in words
        else:
            assert "router" not in words


def test_a_rip_is_told_as_the_saw_is_set():
    """Fence to blade 46 + 38 - 3.2 / 2 mm, which face down, which edge, the width that results."""
    (rip,) = told({"do": "rip", "at": "38 mm", "keep": "left"})

    assert rip == (
        "Rip: back down, left edge at the fence, 82.4 mm from the blade at the saw's table; blade upright, just "
        "through 22.50 mm of wood. What is kept is 82.40 mm wide at the widest; kerf 3.20 mm."
    )


def test_each_flat_of_a_bevelled_back_lies_opposite_the_edge_at_the_fence():
    """Wall on the left: its flat is cut with the right edge at the fence, and is as wide as it is wanted."""
    flats = {"spring": "45 deg", "wall_flat": "20 mm", "ceiling_flat": "10 mm"}
    for wall, other in (("left", "right"), ("right", "left")):
        (bevel,) = told({"do": "bevel", "wall": wall, **flats})
        assert f"lat for the wall, 20.00 mm wide: back down, {other} edge at the fence, 77.9 mm from" in bevel
        assert f"lat for the ceiling, 10.00 mm wide: back down, {wall} edge at the fence, 84.9 mm from" in bevel


def test_a_narrow_strip_is_told_to_be_pushed_with_a_block():
    """3.9 mm beside the blade: no room for a hand or a stick, and no middle to lie on."""
    (rip,) = told({"do": "rip", "at": "40 mm", "tilt": "20 deg", "keep": "right"})

    assert "right edge at the fence, 3.9 mm from the blade" in rip
    assert "It does not lie steady so: fix it to a carrier. Narrow: push it with a block as wide as the piece." in rip


def test_a_second_cove_is_set_like_the_first_the_stock_turned():
    """About its length the edge that was left lies at a fence on the operator's side, end for end the right one."""
    cove = {"do": "cove", "fence_angle": "20 deg", "blade_height": "3 mm"}
    (about,), (ends,) = told(cove), told(cove | {"turn": "end for end"})

    assert "turn the stock over about its length, its left edge now at the fence" in about
    assert "turn the stock over end for end, its right edge now at the fence" in ends
    assert "the fence at 20.00 deg runs from front left to rear right, the work to its left, its face" in about


def test_pieces_are_told_apart_only_where_they_are_not_alike():
    """Two halves of a blank: one chamfered."""
    rip, chamfer = told({"do": "rip", "at": "0 mm"}, {"do": "chamfer", "edge": "top left", "size": "3 mm", "piece": 2})

    assert "Both parts are kept, 44.40 mm and 44.40 mm wide" in rip
    assert "back along both faces: piece 2, with a plane, or back down, right edge at the fence" in chamfer


def test_the_result_holds_the_cuts_of_the_saw():
    """The cornice's two flats and two rips, in numbers; nothing for its round over and its rabbet."""
    result = result_of(report_of("cornice-to-fit")).model_dump()["finish"]

    assert [len(one["saw_cuts"]) for one in result] == [2, 1, 1, 0, 0]
    assert [cut["tilt_deg"] for one in result for cut in one["saw_cuts"]] == pytest.approx([45] * 4)
    assert result[0]["saw_cuts"][0]["fence_to_blade_mm"] == pytest.approx(92 - 26 * math.sqrt(0.5))


@pytest.mark.parametrize(
    ("sections", "where"),
    [
        ({"order": {"rectangle": ["600 mm", "320 mm"], "wrap": "outside"}}, "Fitted, the moulding"),
        ({"order": {"rectangle": ["3 m", "4 m"], "wrap": "inside"}}, "On the wall the moulding"),
        ({}, "On the wall the moulding"),
    ],
)
def test_a_wall_is_named_only_where_there_is_one(sections, where):
    """A bevelled moulding sits between wall and ceiling in a room; one that lies round a cupboard or a top does not."""
    bevel = {"do": "bevel", "spring": "45 deg", "wall_flat": "20 mm"}
    for finish in ([bevel], []):
        scene = scene_from(cornice_with(finish=finish, **sections))
        said = mitre_sentence(simulate(scene, COARSE), Units())
        if finish:
            assert said.startswith(where)
        else:
            assert said.startswith("Fitted, the moulding") or not sections


def test_router_and_plane_are_named_for_what_no_saw_is_set_for():
    """The cornice's round over and rabbet: common practice."""
    report = report_of("cornice-to-fit")
    *_, round_over, rabbet = after_the_cove(report.job.finishing, report.scene, report.units)

    assert round_over == "Round over the edge table left, radius 4.00 mm: with a router or a plane, not at the saw."
    assert rabbet.endswith("with a router or a rabbet plane; no saw is set for it here.")
