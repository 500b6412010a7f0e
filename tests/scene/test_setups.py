"""Several set-ups as people write them, and what is refused in one sentence that names which of them."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with

from sweep.errors import SceneError
from sweep.scene.model import SetUpScene
from sweep.scene.read import scene_from
from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup

PASSES = {"heights": ["4 mm", "8 mm"], "feed_speed": "2 m/min"}
LISTED = [
    {"do": "cove", "fence_angle": "20 deg", "blade_height": "8 mm", "offset": "-1/2 in", "passes": PASSES},
    {"do": "rip", "at": "10 mm", "face": "left edge", "blade_tilt": "15 deg", "fence": {"height": "60 mm"}},
    {"do": "rip", "at": "10 mm", "blade_height": "6 mm", "fence_side": "left", "piece": 2},
    {"do": "rabbet", "edge": "left", "width": "10 mm", "depth": "5 mm", "name": "step", "ends": "end for end"},
]
NONE = {"setup": None, "passes": None, "target": None}


def read(*listed, **sections):
    """The cornice's stock, blade and saw with set-ups of its own."""
    return scene_from(cornice_with(**NONE | {"setups": list(listed)} | sections))


def test_each_set_up_is_read_as_its_own_kind_in_mm_and_radians():
    """In the order in which they are written; the scene itself has neither set-up nor passes."""
    scene = read(*LISTED)
    cove, through, kerf, rabbet = scene.setups

    assert [type(one) for one in scene.setups] == [CoveSetup, RipSetup, RipSetup, RabbetSetup]
    assert not isinstance(scene, SetUpScene)
    assert (cove.offset, cove.passes.heights, cove.fence_side) == (pytest.approx(-12.7), (4.0, 8.0), "near")
    assert (through.blade_height, through.blade_tilt) == (None, pytest.approx(math.radians(15)))
    assert (through.face, through.fence.height, through.passes_written) == ("left edge", 60.0, None)
    assert (kerf.blade_height, kerf.fence_side, kerf.piece) == (6.0, "left", 2)
    assert (rabbet.name, rabbet.width, rabbet.depth, rabbet.ends) == ("step", 10.0, 5.0, "end for end")


@pytest.mark.parametrize(
    ("setup", "says"),
    [
        ({"do": "rip"}, "setups.at, number 2: it is missing"),
        ({}, "setups.do, number 2: it is missing"),
        ({"do": "plough"}, "setups.do, number 2: 'plough' is not known here"),
        ({"do": "rabbet", "edge": "top"}, "setups.edge, number 2: 'top' is not known here"),
        ({**LISTED[1], "blade_hight": "3 mm"}, "setups.blade_hight, number 2: there is no such key; the nearest known"),
        ({**LISTED[1], "blade_height": "3"}, "setups.blade_height, number 2: "),
        ({**LISTED[1], "passes": PASSES}, "setups, number 2: passes are written, but no height"),
        ({**LISTED[0], "blade_height": "9 mm"}, "setups.passes, number 2: the last pass is at 8 mm and blade_height"),
        (
            {**LISTED[0], "passes": PASSES | {"stop": "5 m"}},
            "setups.passes, number 2: 5000 mm is more than the stock",
        ),
        (
            {**LISTED[0], "passes": PASSES | {"heights": ["8 mm", "4 mm"]}},
            "setups.passes, number 2: pass 2 at 4 mm is lower",
        ),
        ({**LISTED[2], "blade_height": "200 mm"}, "setups.blade_height, number 2: 200 mm would bring the blade's"),
        ({**LISTED[3], "width": "200 mm"}, "setups.width, number 2: 200 mm would bring the blade's centre"),
    ],
)
def test_a_wrong_set_up_is_refused_in_one_sentence_that_names_its_place(setup, says):
    """The first set-up is right."""
    with pytest.raises(SceneError) as wrong:
        read(LISTED[0], setup)

    assert str(wrong.value).startswith(says)


def test_what_goes_with_one_set_up_only_is_refused_beside_several():
    """A set-up, passes, a target of one cove."""
    whole = cornice_with()
    for name in ("setup", "passes"):
        with pytest.raises(SceneError, match=rf"^setups: there is \[{name}\] as well"):
            read(LISTED[0], **{name: whole[name]})
    with pytest.raises(SceneError, match=r"^target: it is compared with what one set-up cuts"):
        read(LISTED[0], target=whole["target"])


def test_a_set_up_names_its_blade_where_there_is_a_list():
    """And no other."""
    blades = [
        {"name": name, "teeth": 40, "diameter": "254 mm", "kerf": f"{kerf} mm"} for name, kerf in (("a", 2), ("b", 3))
    ]
    scene = read(LISTED[0] | {"blade": "b"}, blade=None, blades=blades)

    assert scene.named(scene.setups[0].blade).kerf == 3.0
    with pytest.raises(SceneError, match=r"^setups.blade, number 1: 'c' is none of the blades; write one of a, b"):
        read(LISTED[0] | {"blade": "c"}, blade=None, blades=blades)
    with pytest.raises(SceneError, match=r"^setups.blade, number 1: '' is none of the blades"):
        read(LISTED[0], blade=None, blades=blades)
