"""A panel through the year: what its edges do, what they need, and when it is flagged."""

from __future__ import annotations

import pytest
from demos import cornice_with
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.check.panel import COVER, check_panel, flags_of_panel
from sweep.errors import SceneError
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.show.say.flags import sentence_of
from sweep.show.say.panel import panel_sentences
from sweep.units import Units

OAK = {
    "species": "white oak",
    "width": "400 mm",
    "moisture": ["6 %", "12 %"],
    "moisture_at_fitting": "8 %",
    "lip": "8 mm",
    "gap": "4 mm",
}
FITTED_DAMP = {"moisture_at_fitting": "12 %"}


def with_panel(**values: object) -> Scene:
    """The demo scene with a panel of flat-sawn white oak, some of its values changed."""
    return scene_from(cornice_with(panel=OAK | values))


def test_a_panel_of_white_oak_moves_as_worked_out_by_hand():
    """400 mm, 0.00365 a per cent: 2 per cent drier 2.92 mm, 4 damper 5.84 mm, half of it at each edge."""
    found = check_panel(with_panel())

    assert (found.dry, found.damp) == pytest.approx((-2.92, 5.84))
    assert (found.edge_dry, found.edge_damp) == pytest.approx((-1.46, 2.92))
    assert (found.gap_needed, found.lip_needed) == pytest.approx((2.92, 1.46 + COVER))
    assert (found.gap_left, found.lap_left) == pytest.approx((4 - 2.92, 8 - 1.46))


def test_a_panel_held_at_one_edge_moves_all_of_it_at_the_other():
    """Twice as far as one held in the middle; quarter-sawn less than half as far as flat-sawn."""
    middle, edge, quarter = (
        check_panel(with_panel(**values)) for values in ({}, {"fixed": "edge"}, {"grain": "radial"})
    )

    assert edge.gap_needed == pytest.approx(2 * middle.gap_needed)
    assert edge.edge_dry == pytest.approx(2 * middle.edge_dry)
    assert quarter.damp / middle.damp == pytest.approx(0.00180 / 0.00365)


@pytest.mark.parametrize(
    ("code", "beyond", "within"),
    [
        ("gap-small", {"gap": "2.91 mm"}, {"gap": "2.93 mm"}),
        ("lip-short", {"lip": "2.45 mm"}, {"lip": "2.47 mm"}),
        ("gap-small", {"moisture": ["6 %", "13.6 %"]}, {"moisture": ["6 %", "13.4 %"]}),
        (
            "lip-short",
            {"moisture_at_fitting": "12 %", "lip": "5.3 mm"},
            {"moisture_at_fitting": "12 %", "lip": "5.5 mm"},
        ),
    ],
)
def test_a_flag_is_raised_just_beyond_its_limit_and_not_just_within_it(code, beyond, within):
    """With what is needed in its words."""
    (flag,) = flags_of_panel(with_panel(**beyond))

    assert flag.code == code
    assert flag.value < flag.limit
    assert Units().length(flag.limit) in sentence_of(flag, Units())
    assert flags_of_panel(with_panel(**within)) == []


def test_without_lip_or_gap_it_is_told_what_is_needed_and_nothing_is_flagged():
    """The maker has not drawn them yet."""
    table = {key: value for key, value in OAK.items() if key not in ("lip", "gap")}
    scene = scene_from(cornice_with(panel=table))
    found = check_panel(scene)

    assert found.gap_needed == pytest.approx(2.92)
    assert (found.gap_left, found.lap_left) == (None, None)
    assert flags_of_panel(scene) == []
    assert check_panel(scene_from(cornice_with())) is None


@given(
    moistures=st.lists(st.integers(0, 30), min_size=3, max_size=3).map(sorted),
    width=between(50, 1500),
    fixed=st.sampled_from(["centre", "edge"]),
)
@fewer(1 / 8)
def test_the_lip_and_the_gap_that_are_needed_are_enough_all_year(moistures, width, fixed):
    """Fitted at any moisture of the year, and so a hair less of either is flagged."""
    dry, fitted, damp = (f"{moisture} %" for moisture in moistures)
    values = {"moisture": [dry, damp], "moisture_at_fitting": fitted}
    values |= {"width": f"{width} mm", "fixed": fixed}
    needed = check_panel(with_panel(**values))
    enough = with_panel(**values, gap=f"{needed.gap_needed + 1e-6:.9f} mm", lip=f"{needed.lip_needed + 1e-6:.9f} mm")
    short = with_panel(**values, lip=f"{needed.lip_needed - 1e-3:.9f} mm")

    assert flags_of_panel(enough) == []
    assert [flag.code for flag in flags_of_panel(short) if flag.code == "lip-short"] == ["lip-short"]


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"moisture": ["12 %", "6 %"]}, "panel.moisture: the first is more than the second"),
        ({"moisture": ["6 %", "31 %"]}, "panel.moisture.*'31 %' is more than 30 %"),
        ({"grain": "flat"}, "panel.grain: 'flat' is not known here"),
        ({"species": "ironwood"}, "panel.species: nothing is known of how 'ironwood' moves"),
        ({"moisture_at_fitting": "8"}, "panel.moisture_at_fitting: '8' has no unit"),
        ({"moisture_at_fitting": "13 %"}, "panel.moisture_at_fitting: 13 % is outside the year's 6 % to 12 %; fit the"),
        ({"moisture_at_fitting": "5.9 %"}, "panel.moisture_at_fitting: 5.9 % is outside the year's 6 % to 12 %"),
    ],
)
def test_a_panel_that_cannot_be_worked_out_is_refused_in_one_sentence(values, says):
    """Naming the field."""
    with pytest.raises(SceneError, match=says):
        check_panel(with_panel(**values))


@pytest.mark.parametrize(
    ("width", "wrap", "fits"),
    [
        ("600 mm", "outside", True),
        ("320 mm", "outside", True),
        ("365 mm", "outside", True),  # 8 mm of lip and 4 of gap, or 25 mm an edge
        ("371 mm", "outside", False),
        ("269 mm", "outside", False),
        ("430 mm", "outside", False),
        ("430 mm", "inside", True),  # the moulding stands into the rectangle of 600 by at most 92 x 22.5 mm, twice
        ("81 mm", "inside", True),
        ("80 mm", "inside", False),
    ],
)
def test_a_panel_is_held_against_the_rectangle_that_is_wrapped(width, wrap, fits):
    """As wide as one of its sides, about; else the scene says something that cannot be meant."""
    tables = cornice_with(order={"rectangle": ["600 mm", "320 mm"], "wrap": wrap}, panel=OAK | {"width": width})
    if fits:
        assert scene_from(tables).panel is not None
        return
    with pytest.raises(SceneError, match=r"panel\.width: .* is the width of neither side of order\.rectangle, 600 mm"):
        scene_from(tables)


@pytest.mark.parametrize(
    ("width", "sides", "across"),
    [
        ("320 mm", 4, " (the left and the right side)"),
        ("600 mm", 4, " (the front and the back)"),
        ("600 mm", 3, " (the front)"),
    ],
)
def test_the_moulding_is_never_to_be_glued_across_the_panels_grain(width, sides, across):
    """Common practice; the sides that run across it are those as long as the panel is wide."""
    order = {"rectangle": ["600 mm", "320 mm"], "sides": sides}
    scene = scene_from(cornice_with(order=order, panel=OAK | {"width": width}))
    *_, said = panel_sentences(check_panel(scene), scene.order, Units())

    assert said.startswith(f"Never glue the moulding across the panel's grain{across}: the panel moves")
    assert "at its middle alone" in said
