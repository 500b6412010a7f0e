"""What is said of several set-ups: each in the wood that is there by then, what falls off, what the stock rides on."""

from __future__ import annotations

import math

import pytest
import shapely
from demos import cornice_with

from sweep.check.bearing import flats_beside, wood_above
from sweep.check.setups import Verdict, judge_setups
from sweep.cut.blank import first_met
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.errors import SceneError
from sweep.plan.complete import plan_setups
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.tolerance import Fineness

COARSE = Fineness(section_chord=1e-5, angles=128, ends=0)
NONE = {"setup": None, "passes": None, "target": None}
STOCK = {"length": "900 mm", "width": "100 mm", "thickness": "40 mm"}
COVE = {"do": "cove", "fence_angle": "20 deg", "blade_height": "8 mm"}
RIP = {"do": "rip", "at": "20 mm"}
KERF, RADIUS = 3.2, 127.0


def verdict_of(*setups, **sections) -> Verdict:
    """What is said of set-ups in a board 100 mm by 40 mm, cut with the cornice's blade."""
    scene = scene_from(cornice_with(**NONE | {"stock": STOCK, "setups": list(setups)} | sections))
    return judge_setups(mould(scene, [one.setting for one in plan_setups(scene)], COARSE))


def codes(verdict: Verdict, place: int) -> list[str]:
    """The codes of one setting, from 1."""
    return [flag.code for flag in verdict.outcomes[place - 1].flags if flag.number is None]


@pytest.mark.parametrize("ends", ["as it lay", "end for end"])
@pytest.mark.parametrize("edge", ["left", "right"])
@pytest.mark.parametrize("face", ["table", "top", "left edge", "right edge"])
def test_a_rabbet_takes_its_width_by_its_depth_off_the_corner_it_names(face, edge, ends):
    """By two kerfs and a strip that falls off; which corner of the planed stock it was is told by hand."""
    verdict = verdict_of({"do": "rabbet", "edge": edge, "width": "12 mm", "depth": "7 mm", "face": face, "ends": ends})
    left = verdict.moulding.pieces[0].outline.figure
    whole = shapely.box(-50, 0, 50, 40)
    wide, deep = (12, 7) if face in ("table", "top") else (7, 12)
    corners = ["table left", "table right", "top right", "top left"]  # in the order of a walk round the section
    downwards = {"table": ("table left", "table right"), "top": ("top right", "top left")}
    downwards |= {"left edge": ("top left", "table left"), "right edge": ("table right", "top right")}
    pair = downwards[face] if ends == "as it lay" else downwards[face][::-1]
    corner = corners[corners.index(pair[0 if edge == "left" else 1])]
    step = shapely.box(0, 0, wide, deep)
    moved = {"table left": (-50, 0), "table right": (50 - wide, 0), "top left": (-50, 40 - deep)}
    step = shapely.affinity.translate(step, *moved.get(corner, (50 - wide, 40 - deep)))

    assert section.area(shapely.symmetric_difference(left, shapely.difference(whole, step))) < 1e-6
    strip = verdict.moulding.fallen[0]
    assert strip.volume == pytest.approx((12 - KERF) * (7 - KERF) * 900)
    assert codes(verdict, 2)[-1] == "strip-falls"


def test_a_rip_right_through_leaves_the_larger_piece_and_flags_a_strip_by_the_fence():
    """The strip lies by the fence on the right, and not with the fence on the left."""
    trapped, free = (verdict_of(RIP | {"fence_side": side, "at": "40 mm"}) for side in ("right", "left"))

    for verdict in (trapped, free):
        (piece,), (strip,) = verdict.moulding.pieces, verdict.moulding.fallen
        assert piece.volume == pytest.approx((90 - KERF / 2) * 40 * 900)
        assert strip.volume == pytest.approx((10 - KERF / 2) * 40 * 900)
    assert "strip-trapped" in codes(trapped, 1) and "strip-falls" not in codes(trapped, 1)
    assert "strip-falls" in codes(free, 1) and "strip-trapped" not in codes(free, 1)
    (on_the_right,) = verdict_of(RIP | {"at": "-40 mm"}).moulding.pieces
    assert on_the_right.volume == pytest.approx((90 - KERF / 2) * 40 * 900)
    assert codes(verdict_of(RIP | {"at": "10 mm", "fence_side": "left"}), 1) == []  # a strip 38 mm wide and 40 high


def test_of_a_wide_rabbet_the_strip_falls_off_though_it_is_the_larger_part():
    """95 by 35 mm off 100 by 40: as a set-up, and in what follows one."""
    step = {"width": "95 mm", "depth": "35 mm"}
    listed = verdict_of({"do": "rabbet", "edge": "right"} | step)
    finished = verdict_of(RIP | {"at": "60 mm"}, finish=[{"do": "rabbet", "edge": "table right"} | step])

    assert listed.moulding.fallen[0].volume == pytest.approx((95 - KERF) * (35 - KERF) * 900)
    assert finished.moulding.finishing[0].offcuts == pytest.approx((95 - KERF) * (35 - KERF) * 900)
    for made in (listed.moulding, finished.moulding):
        assert made.pieces[0].volume == pytest.approx((100 * 40 - 95 * 35) * 900)


def test_what_a_rip_saws_off_and_keeps_is_a_piece_that_later_set_ups_leave_alone():
    """30 mm on the right, kept with its part of the cove; then a cove in the rest, or a chamfer on both."""
    rip, later = RIP | {"keep": "all"}, COVE | {"blade_height": "4 mm", "offset": "-20 mm"}
    cut, uncut = (verdict_of(COVE | {"offset": "-20 mm"}, rip, *more).moulding for more in ((later,), ()))
    chamfer = {"do": "chamfer", "edge": "top right", "size": "2 mm"}
    chamfered = verdict_of(COVE | {"offset": "-20 mm"}, rip, finish=[chamfer]).moulding
    once = verdict_of(
        COVE | {"offset": "-20 mm"}, finish=[{"do": "rip", "at": "20 mm"}, chamfer]
    ).moulding  # the same, by operations alone

    for made in (cut, uncut):
        left, right = made.pieces
        assert [left.number, right.number] == [1, 2]
        assert right.volume == pytest.approx(uncut.fallen[0].volume, rel=1e-9)
        assert section.sides_of(right.outline.figure) == pytest.approx((20 + KERF / 2, 50))
        assert set(right.mesh.cut_by.tolist()) > {0} and right.mesh.is_closed()
    assert cut.pieces[0].volume < uncut.pieces[0].volume - 1
    assert [one.volume for one in chamfered.pieces] == pytest.approx([one.volume for one in once.pieces], rel=1e-9)
    large, small = (
        codes(verdict_of(rip | {"at": at}), 1) for at in ("10 mm", "35 mm")
    )  # 38.4 and 13.4 mm at the fence
    assert "strip-trapped" in small and not {"strip-trapped", "strip-falls"} & set(large)
    assert uncut.fallen[0].is_kept and not verdict_of(RIP).moulding.fallen[0].is_kept


def test_the_piece_that_is_named_goes_on():
    """The smaller one, on the right."""
    verdict = verdict_of(RIP | {"piece": 2}, COVE | {"blade_height": "3 mm"})

    assert verdict.outcomes[1].job.scene.stock.width == pytest.approx(30 - KERF / 2)
    assert verdict.moulding.fallen[0].volume == pytest.approx((70 - KERF / 2) * 40 * 900)


def test_a_kerf_is_loaded_as_ripping_is_known_to_be():
    """Its area is kerf times height; the thickest shaving is at the table, f cos p where the rim leaves it."""
    height = 12.0
    (job,) = verdict_of(RIP | {"blade_height": f"{height} mm"}).moulding.jobs
    load = job.loads[-1]

    assert sum(one.area for one in job.sections) == pytest.approx(KERF * height)
    thickest = math.sqrt(1 - (1 - height / RADIUS) ** 2)
    assert load.chip_thickness_max == pytest.approx(load.feed_per_tooth * thickest, rel=0.01)
    assert load.chip_side == 0.0
    assert load.usual.fence == pytest.approx(0.0, abs=1e-9)
    (higher,) = verdict_of(RIP | {"blade_height": "50 mm"}).moulding.jobs  # more of its teeth come down on the wood
    assert load.usual.feed > 0
    assert higher.loads[-1].usual.lift < 0 < load.usual.lift  # a higher blade holds the work down: common practice


def test_wood_above_is_that_between_a_cut_and_what_an_earlier_one_took_over_it():
    """Two coves over one another leave the rest between them; a rip beside the other's hollow leaves more."""
    verdict = verdict_of(COVE, COVE | {"face": "top", "blade_height": "10 mm"})

    assert wood_above(verdict.moulding.jobs[0]) == pytest.approx(32.0)
    assert wood_above(verdict.moulding.jobs[1]) == pytest.approx(40 - 8 - 10, abs=0.01)
    through = verdict_of(RIP)
    assert wood_above(through.moulding.jobs[0]) == math.inf


def test_flats_are_those_that_earlier_set_ups_left_beside_the_cut():
    """A cove off the left edge takes the flat there; the next one rides on nothing on that side."""
    off_edge = COVE | {"offset": "40 mm", "name": "first"}
    verdict = verdict_of(off_edge, COVE | {"offset": "-10 mm", "blade_height": "5 mm"})
    first, second = verdict.moulding.jobs
    edge = section.edges_at_table(first.scene.tool, first.scene.feed, 0.0, 8.0)[1]
    inner = section.edges_at_table(second.scene.tool, second.scene.feed, 0.0, 5.0)

    assert flats_beside(first) == pytest.approx((0.0, 50 - edge))
    assert flats_beside(second) == pytest.approx((inner[0] - edge, 50 - inner[1]), abs=0.01)
    assert "no-flat" in codes(verdict, 1)
    assert "no-flat" not in codes(verdict, 2)


def test_in_planed_stock_of_several_the_same_is_found_as_in_one_set_up():
    """The first set-up alone, and as the only one of a scene."""
    passes = {"heights": ["3 mm", "6 mm", "8 mm"], "feed_speed": "2 m/min"}
    alone = simulate(
        scene_from(
            cornice_with(
                stock=STOCK,
                target=None,
                setup={"fence_angle": "20 deg", "blade_height": "8 mm"},
                passes=passes | {"last_feed_speed": None},
            )
        ),
        COARSE,
    )
    (several,) = verdict_of(COVE | {"passes": passes}).moulding.jobs

    assert several.loads == alone.loads
    assert [one.area for one in several.sections] == [one.area for one in alone.sections]
    assert several.finished.volume == alone.finished.volume


def test_passes_begin_where_the_blade_first_meets_wood_under_a_hollow():
    """The second time over the same cove a deeper one begins at the bottom of the first."""
    verdict = verdict_of(COVE, COVE | {"blade_height": "12 mm"})
    second = verdict.moulding.jobs[1]

    assert first_met(second.scene) == pytest.approx(8.0, abs=0.01)
    assert second.passes[0].rise == pytest.approx(second.passes[0].height - 8.0, abs=0.01)
    assert "rise-large" not in [flag.code for flag in verdict.outcomes[1].flags]


@pytest.mark.parametrize(("turn", "ends"), [("about its length", "as it lay"), ("end for end", "end for end")])
def test_a_second_cove_after_the_saw_and_a_second_set_up_leave_the_same_moulding(turn, ends):
    """`[[finish]]` and `[[setups]]` say the same cut in two ways."""
    first = {"fence_angle": "20 deg", "blade_height": "8 mm", "blade_tilt": "10 deg", "offset": "6 mm"}
    second = {"fence_angle": "14 deg", "blade_height": "6 mm", "blade_tilt": "-5 deg", "offset": "9 mm"}
    listed = verdict_of({"do": "cove"} | first, {"do": "cove", "face": "top", "ends": ends} | second)
    finished = simulate(
        scene_from(
            cornice_with(
                stock=STOCK,
                target=None,
                setup=first,
                passes={"heights": ["8 mm"], "feed_speed": "2 m/min"},
                finish=[{"do": "cove", "turn": turn} | second],
            )
        ),
        COARSE,
    )
    one, other = (made.pieces[0].outline.figure for made in (listed.moulding, finished))

    assert section.area(shapely.symmetric_difference(one, other)) < 1e-6
    assert listed.moulding.pieces[0].volume == pytest.approx(finished.pieces[0].volume, rel=1e-9)


LEAN = math.radians(20)
SIDE = 22 - KERF / 2 / math.cos(LEAN)
"""mm. Where the near side of a kerf passes the table that leans 20 deg, its middle at 22 mm."""


@pytest.mark.parametrize(
    ("setup", "operation", "gone"),
    [
        (
            {"do": "rip", "at": "22 mm", "blade_tilt": "20 deg"},
            {"do": "rip", "at": "22 mm", "tilt": "20 deg", "keep": "left"},
            [(SIDE, 0), (90, 0), (90, 40), (SIDE + 40 * math.tan(LEAN), 40)],
        ),
        (
            {"do": "rabbet", "edge": "right", "width": "9 mm", "depth": "6 mm"},
            {"do": "rabbet", "edge": "table right", "width": "9 mm", "depth": "6 mm"},
            [(41, -1), (60, -1), (60, 6), (41, 6)],
        ),
        (
            {"do": "rabbet", "edge": "right", "width": "9 mm", "depth": "6 mm", "face": "top"},
            {"do": "rabbet", "edge": "top left", "width": "9 mm", "depth": "6 mm"},
            [(-41, 34), (-60, 34), (-60, 50), (-41, 50)],
        ),
    ],
)
def test_a_rip_and_a_rabbet_take_what_is_told_by_hand_as_set_ups_and_as_finishing(setup, operation, gone):
    """One way to cut both; the outlines of what is gone are closed forms."""
    listed, finished = verdict_of(COVE, setup), verdict_of(COVE, finish=[operation])
    cove = verdict_of(COVE).moulding.pieces[0].outline.figure

    for made in (listed, finished):
        left = made.moulding.pieces[0].outline.figure
        assert section.area(shapely.symmetric_difference(left, shapely.difference(cove, shapely.Polygon(gone)))) < 1e-6


def test_a_cut_that_saws_apart_what_a_stopped_pass_left_thin_is_refused():
    """It does so as far as that pass went, and no further; where the pass goes through it is cut."""
    deep = {"heights": ["20 mm"], "feed_speed": "2 m/min"}
    cove = COVE | {"blade_height": "20 mm"}
    kerf = {"do": "rip", "at": "0 mm", "face": "top", "blade_height": "25 mm"}

    with pytest.raises(SceneError, match=r"^setups, number 2: it saws the stock apart on a part of its length only"):
        verdict_of(cove | {"passes": deep | {"stop": "400 mm"}}, kerf)
    assert len(verdict_of(cove | {"passes": deep}, kerf).moulding.fallen) == 1


def test_stock_lies_on_what_a_stopped_pass_left_whole():
    """A kerf along the edge that stops part-way leaves the stock as wide as it was, and its centreline where it was."""
    kerf = RIP | {"at": "48.5 mm", "blade_height": "43 mm"}
    passes = {"heights": ["43 mm"], "feed_speed": "2 m/min"}
    stopped, through = (
        verdict_of(kerf | {"passes": passes | stop}, COVE).outcomes[1].job.scene.stock.width
        for stop in ({"stop": "200 mm"}, {})
    )

    assert (stopped, through) == (pytest.approx(100.0), pytest.approx(50 + 48.5 - KERF / 2))
