"""Finishing operations as people write them, and what is refused in one sentence that names which of them."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with

from sweep.errors import SceneError
from sweep.scene.finish import Bevel, Chamfer, Rabbet, Rip, RoundOver, SecondCove
from sweep.scene.read import scene_from

LISTED = [
    {"do": "rip", "at": "-1/2 in", "tilt": "15 deg", "keep": "left"},
    {"do": "round over", "edge": "table left", "radius": "3 mm"},
    {"do": "chamfer", "edge": "cove right", "size": "1/16 in", "piece": 2},
    {"do": "bevel", "spring": "38 deg", "wall_flat": "12 mm"},
    {"do": "rabbet", "edge": "top right", "width": "8 mm", "depth": "5 mm"},
    {"do": "cove", "fence_angle": "20 deg", "blade_height": "4 mm", "turn": "end for end"},
]


def test_each_operation_is_read_as_its_own_kind_in_mm_and_radians():
    """In the order in which they are written."""
    read = scene_from(cornice_with(finish=LISTED)).finish

    assert [type(one) for one in read] == [Rip, RoundOver, Chamfer, Bevel, Rabbet, SecondCove]
    assert read[0].at == pytest.approx(-12.7)
    assert read[0].tilt == pytest.approx(math.radians(15))
    assert read[2].piece == 2
    assert read[3].wall == "left"
    assert scene_from(cornice_with()).finish == ()


@pytest.mark.parametrize(
    ("operation", "says"),
    [
        ({"do": "rip"}, "finish.at, number 2: it is missing"),
        ({}, "finish.do, number 2: it is missing"),
        ({"do": "champfer"}, "finish.do, number 2: 'champfer' is not known here; write one of 'rip', 'round over', "),
        ({"do": 3}, "finish.do, number 2: '3' is not known here"),
        (3, "finish, number 2: this is not what belongs here; write a table of its own, [[section]]"),
        ({"do": "rip", "at": 3}, 'finish.at, number 2: 3 has no unit; write "16 mm"'),
        ({"do": "rip", "at": "3 mm", "kepp": "left"}, "finish.kepp, number 2: there is no such key; the nearest known"),
        ({"do": "rip", "at": "3 mm", "radius": "3 mm"}, "finish.radius, number 2: there is no such key; known here"),
        ({"do": "round over", "edge": "left", "radius": "3 mm"}, "finish.edge, number 2: 'left' is not known here; "),
        ({"do": "rabbet", "edge": "cove left", "width": "3 mm", "depth": "3 mm"}, "finish.edge, number 2: 'cove left'"),
        ({"do": "chamfer", "edge": "top left", "size": "0 mm"}, "finish.size, number 2: '0 mm' is less than 0.05 mm"),
        ({"do": "bevel", "spring": "90 deg", "wall_flat": "3 mm"}, "finish.spring, number 2: '90 deg' is more than 85"),
        ({"do": "rip", "at": "3 mm", "piece": 0}, "finish.piece, number 2: 0 is less than 1; write at least that"),
        ({"do": "rip", "at": "3 mm", "tilt": "50 deg"}, "finish.tilt, number 2: '50 deg' is more than 45 deg"),
    ],
)
def test_what_cannot_be_used_is_refused_naming_which_of_them(operation, says):
    """The key without its kind, and its place in the list."""
    with pytest.raises(SceneError) as wrong:
        scene_from(cornice_with(finish=[LISTED[0], operation]))

    assert str(wrong.value).startswith(says)


def test_a_list_is_wanted_and_not_one_table():
    """[finish] where [[finish]] is meant."""
    with pytest.raises(SceneError, match=r"finish: \[finish\] is one table; write \[\[finish\]\] above each"):
        scene_from(cornice_with(finish=LISTED[0]))
