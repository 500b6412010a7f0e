"""What does not fit the saw: raised beyond what is there and not within it, with what to do."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with

from sweep.check.fits_saw import flags_of_table
from sweep.scene.read import scene_from
from sweep.show.say.flags import sentence_of
from sweep.units import Units


def flags(**sections: dict) -> dict[str, list]:
    """The flags of the demo scene's table with some values changed, by code."""
    found: dict[str, list] = {}
    for flag in flags_of_table(scene_from(cornice_with(**sections))):
        found.setdefault(flag.code, []).append(flag)
    return found


def test_the_demo_fits_its_saw():
    """Table, throat and stands are large enough."""
    assert flags() == {}


@pytest.mark.parametrize(
    ("code", "beyond", "within"),
    [
        # the cove's edge is 30.38 mm from the centreline, the stock's 46 mm
        ("fence-cut", {"setup": {"offset": "-15.7 mm"}}, {"setup": {"offset": "-15.5 mm"}}),
        ("second-fence-cut", {"setup": {"offset": "15.7 mm"}}, {"setup": {"offset": "15.5 mm"}}),
        # its back corner at the blade's reach: 84 sin 28 + about 59 cos 28 = 92 mm before the blade's centre
        ("fence-off-table", {"saw": {"front_to_blade": "85 mm"}}, {"saw": {"front_to_blade": "97 mm"}}),
        ("fence-short", {"fence": {"length": "801 mm"}}, {"fence": {"length": "802 mm"}}),
        # 2 sqrt(28 (254 - 28)) = 159.1 mm through 12 mm; at the table itself 2 sqrt(16 (254 - 16)) = 123.4 mm
        ("throat-tight", {"saw": {"throat_length": "159 mm"}}, {"saw": {"throat_length": "159.2 mm"}}),
        (
            "throat-tight",
            {"saw": {"throat_length": "123 mm", "throat_thickness": "0 mm"}},
            {"saw": {"throat_length": "124 mm", "throat_thickness": "0 mm"}},
        ),
        ("throat-tight", {"saw": {"throat_width": "3.1 mm"}}, {"saw": {"throat_width": "3.2 mm"}}),
        ("stock-unsupported", {"saw": {"support_before": "83 mm"}}, {"saw": {"support_before": "85 mm"}}),
        ("stock-unsupported", {"saw": {"support_after": "151 mm"}}, {"saw": {"support_after": "153 mm"}}),
    ],
)
def test_a_flag_is_raised_where_there_is_too_little_and_not_where_there_is_just_enough(code, beyond, within):
    """Figures by hand beside each, or those of the demo to the millimetre."""
    assert code in flags(**beyond)
    assert code not in flags(**within)


def test_a_stock_that_is_short_needs_no_stands():
    """Its middle never leaves the table."""
    bare = {"support_before": None, "support_after": None}

    assert len(flags(saw=bare)["stock-unsupported"]) == 2
    assert "stock-unsupported" not in flags(saw=bare, stock={"length": "500 mm"})


def test_what_the_scene_does_not_give_is_not_judged():
    """No table and no throat: neither can be too small; a blade in the fence is one all the same."""
    sizes = ("table_depth", "table_width", "front_to_blade", "left_to_blade", "throat_length", "throat_width")
    nothing = dict.fromkeys(sizes)

    assert flags(saw=nothing, fence={"length": "50 mm"}) == {}
    assert set(flags(saw=nothing, setup={"offset": "-20 mm"})) == {"fence-cut"}


@pytest.mark.parametrize(("side", "way"), [("near", "-20 mm"), ("far", "20 mm")])
def test_the_blade_meets_the_fence_on_the_side_to_which_the_cove_runs_off(side, way):
    """And not the one on the other side: there only a second fence would be cut."""
    other = {"near": "far", "far": "near"}[side]

    assert set(flags(setup={"fence_side": side, "offset": way})) == {"fence-cut"}
    assert set(flags(setup={"fence_side": other, "offset": way})) == {"second-fence-cut"}


def test_every_message_says_what_to_do_in_the_makers_units():
    """Inches, and a remedy after the colon."""
    found = flags(
        saw={"front_to_blade": "85 mm", "throat_length": "100 mm", "support_before": None},
        fence={"length": "2 in"},
    )
    found |= flags(setup={"offset": "-20 mm"}, fence={"length": "20 in"})

    assert set(found) == {"fence-cut", "fence-off-table", "fence-short", "throat-tight", "stock-unsupported"}
    for flag in (one for some in found.values() for one in some):
        said = sentence_of(flag, Units("in"))
        assert " in " in said
        assert "mm" not in said
        assert ": " in said
        assert math.isfinite(flag.value)
        assert math.isfinite(flag.limit)
