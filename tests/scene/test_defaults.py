"""What a scene leaves out is a round figure in the notation it is written in."""

from __future__ import annotations

import pytest
from demos import SCENES, cornice_with

from sweep.errors import SceneError
from sweep.quantity import in_inches, read_quantity
from sweep.scene.documented import documented_keys
from sweep.scene.notation import text_in_inches
from sweep.scene.read import read_scene, scene_from
from sweep.units import AREA, FORCE, LENGTH, SPEED

KINDS = {kind.name: kind for kind in (LENGTH, AREA, SPEED, FORCE)}
CLAIMS = [key for key in documented_keys() if key.kind in KINDS and key.default is not None]


@pytest.mark.parametrize("key", CLAIMS, ids=lambda key: key.path)
def test_every_default_that_is_a_size_has_its_twin_in_inches(key):
    """About as large (1 mm and 1/32 in are furthest apart), and written as who thinks in inches writes."""
    kind = KINDS[key.kind]

    assert text_in_inches(key.in_inches) is True
    assert read_quantity(key.in_inches, kind) == pytest.approx(read_quantity(key.default, kind), rel=0.25)


@pytest.mark.parametrize(
    "limit",
    [
        "stock_length",
        "stock_width",
        "stock_thickness",
        "rim_speed",
        "push",
        "rise",
        "wood_above",
        "shoulder",
        "contact",
        "finish_wood",
    ],
)
def test_a_limit_that_guards_hands_is_no_laxer_in_inches(limit):
    """A shorter piece, a faster rim or a harder push is not let through by the notation."""
    key = next(key for key in CLAIMS if key.path == f"limits.{limit}")
    mm, inches = (read_quantity(text, KINDS[key.kind]) for text in (key.default, key.in_inches))

    assert inches <= mm if limit in ("rim_speed", "push", "rise") else inches >= mm


@pytest.mark.parametrize(("length", "twin"), [("36 in", True), ("3 ft", True), ('36"', True), ("900 mm", False)])
def test_the_notation_of_the_stocks_length_chooses_the_defaults(length, twin):
    """In a section that is written, in one that is not, and never over what the maker wrote."""
    data = cornice_with(stock={"length": length}, limits={"push": "70 N"}, order={"lengths": ["500 mm"]})
    scene = scene_from(data)

    assert scene.limits.push == 70.0
    assert scene.limits.stock_length == (12 * 25.4 if twin else 300.0)
    assert scene.fence.thickness == pytest.approx(1.5 * 25.4 if twin else 38.0)
    assert scene.order is not None and scene.order.setup_block_length == (6 * 25.4 if twin else 150.0)
    assert "fence" not in data and data["limits"] == {"push": "70 N"}


def test_each_of_several_blades_has_the_defaults_of_inches():
    """A list of tables is filled table by table."""
    blades = [{"name": name, "diameter": "10 in", "kerf": "1/8 in", "teeth": 40} for name in ("a", "b")]
    scene = scene_from(cornice_with(stock={"length": "36 in"}, blade=None, blades=blades, setup={"blade": "a"}))

    assert [blade.runout for blade in scene.blades] == pytest.approx([2 * 0.0254] * 2)


def test_a_table_within_a_set_up_has_the_defaults_of_inches_too():
    """The fence of one of several set-ups; what its thickness is left out of is not a fence of 38 mm."""
    cove = {"do": "cove", "fence_angle": "28 deg", "blade_height": "5/8 in", "fence": {"length": "40 in"}}
    scene = scene_from(cornice_with(stock={"length": "36 in"}, setup=None, passes=None, target=None, setups=[cove]))

    fence = scene.setups[0].fence
    assert fence is not None and fence.thickness == pytest.approx(1.5 * 25.4)


@pytest.mark.parametrize("stock", ["oak", ["36 in"], {"length": 36}, {}])
def test_what_is_no_stock_is_refused_as_in_mm(stock):
    """The defaults are no reason for another sentence."""
    with pytest.raises(SceneError, match="stock"):
        scene_from(cornice_with() | {"stock": stock})


def test_the_demo_in_inches_is_read_so():
    """The picture rail, of which other tests say what is printed."""
    assert in_inches("4 ft") and read_scene(SCENES / "picture-rail.toml").units.style == "in"
