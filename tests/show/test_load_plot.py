"""The picture of the loads: whole, in the units asked, and every arrow the way its force acts."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from demos import SCENES
from drawn import crowded, inked, texts_of, words_of
from reports import COARSE

from sweep.check.judge import judge
from sweep.check.shares import shares_of
from sweep.cut.job import simulate
from sweep.cut.push import friction_of, push_of
from sweep.scene.read import read_scene
from sweep.show.draw.colours import ALARM, INK, TIP, hexed
from sweep.show.draw.entering import entering_drawing
from sweep.show.draw.forces import force_arrows
from sweep.show.draw.shares import CLIP, bands_of, shares_drawing
from sweep.show.pictures.layout import MM
from sweep.show.pictures.load_plot import HEIGHT, WIDTH, load_picture
from sweep.show.say.report import Report
from sweep.units import Units

DOTS = (hexed(INK), hexed(ALARM))
CORNICE = read_scene(SCENES / "corner-cupboard-cornice.toml")


def changed(scene, section, **values):
    """The scene with some values of one section changed."""
    return scene.model_copy(update={section: getattr(scene, section).model_copy(update=values)})


def in_passes(count):
    """The cornice in some number of equal rises."""
    return changed(CORNICE, "passes", heights=tuple(16.0 * k / count for k in range(1, count + 1)))


CASES = {
    "cornice": CORNICE,
    "greedy": read_scene(SCENES / "too-greedy.toml"),
    "tilted": read_scene(SCENES / "tilted-cove.toml"),
    "far": changed(CORNICE, "setup", fence_side="far"),
    "square": changed(CORNICE, "setup", fence_angle=math.pi / 2, fence_side="far"),
    "unknown": changed(CORNICE, "stock", species="purpleheart"),
    "once": in_passes(1),
    "sixty": in_passes(60),
}


@pytest.fixture(scope="module")
def outcomes():
    """Every case, simulated and judged."""
    return {name: judge(simulate(scene, COARSE)) for name, scene in CASES.items()}


@pytest.fixture(scope="module")
def draw(outcomes):
    """A function that draws the `load.png` of a case, once, as plain data."""

    @cache
    def drawn(name, style="mm"):
        return load_picture(Report(outcomes[name], Units(style)))

    return drawn


@pytest.mark.parametrize("name", CASES)
def test_the_picture_has_its_size_and_a_free_border(draw, name):
    """Drawn on in every case, and no word or arrow touches the border."""
    drawing, laid = draw(name)
    share, free = inked(drawing, 2.8)
    assert not laid
    assert (MM * drawing["height"], MM * drawing["width"]) == pytest.approx((HEIGHT, WIDTH))
    assert 0.08 < share < 0.5
    assert free


@pytest.mark.parametrize("style", ["mm", "in"])
@pytest.mark.parametrize("name", CASES)
def test_no_two_words_overlap(draw, name, style):
    """The rooms of all the words are apart."""
    assert crowded(words_of(draw(name, style).drawing), 0.1) == []


def test_lengths_and_areas_are_in_the_units_asked(draw):
    """An inch maker reads no mm, and a metric one no inches."""
    metric = " ".join(texts_of(draw("cornice").drawing))
    inches = " ".join(texts_of(draw("cornice", "in").drawing))
    assert "rise, at most 3.20 mm" in metric
    assert "stock, 92.00 mm wide" in metric
    assert "rise, at most 1/8 +0.001 in" in inches
    assert "mm" not in inches
    assert " in " not in metric.replace(" in pass", "").replace(" in that pass", "")


def test_an_unknown_wood_has_shares_and_no_forces(draw, outcomes):
    """What needs no wood is drawn; of the rest it says that nothing is known."""
    said = texts_of(draw("unknown").drawing)
    assert "no force constants known for" in said
    assert "purpleheart" in said
    assert not any(" N" in text for text in said)
    assert force_arrows(CASES["unknown"], outcomes["unknown"].job.loads[0], Units()) == ()
    assert list(bands_of(outcomes["unknown"].job)[0]) == ["rise", "area", "chip", "gullet"]


@pytest.mark.parametrize("name", ["cornice", "greedy", "tilted", "once"])
def test_the_band_of_shares_holds_the_usual_and_is_that_of_the_forces(outcomes, name):
    """Shares in the middle are the flags'; power's ends are the band's power over what reaches the arbor."""
    job = outcomes[name].job
    saw, push = job.scene.saw, job.scene.limits.push
    for one, taken, load, bands in zip(job.passes, job.sections, job.loads, bands_of(outcomes[name].job), strict=True):
        assert {k: usual for k, (_, usual, _) in bands.items()} == shares_of(job.scene, one, taken.area, load)
        assert all(low <= usual <= high for low, usual, high in bands.values())
        assert bands["power"][0] == pytest.approx(load.low.power / (saw.motor * saw.efficiency))
        assert bands["power"][2] == pytest.approx(load.high.power / (saw.motor * saw.efficiency))
        assert bands["push"][2] == pytest.approx(push_of(job.scene, load.high) / push)
        assert bands["plate"][2] == pytest.approx(bands["plate"][1] * abs(load.high.side / load.usual.side))


@pytest.mark.parametrize("angle", [10, 28, 45, 90])
@pytest.mark.parametrize(("side", "near"), [("near", 1), ("far", -1)])
@pytest.mark.parametrize("sign", [1, -1])
def test_each_arrow_points_the_way_its_force_acts(outcomes, angle, side, near, sign):
    """Push along the feed, fence towards the fence, plate along the arbor; all turn round with their signs."""
    turn = math.radians(angle)
    scene = changed(CORNICE, "setup", fence_angle=turn, fence_side=side)
    load = outcomes["cornice"].job.loads[6]
    usual = replace(load.usual, feed=sign * 80.0, fence=sign * 12.0, side=sign * 7.0)
    push, fence, plate = force_arrows(scene, replace(load, usual=usual), Units())
    assert push.direction == pytest.approx((sign * math.sin(turn), sign * math.cos(turn)))
    assert fence.direction == pytest.approx((near * sign * math.cos(turn), -near * sign * math.sin(turn)))
    assert plate.direction == (sign, 0)
    assert (push.usual, fence.usual, plate.usual) == (80, 12, 7)
    assert (push.alarm, fence.alarm, plate.alarm) == (sign < 0, sign < 0, False)
    assert all(arrow.low <= arrow.usual <= arrow.high for arrow in (push, fence, plate))


def test_forces_are_said_to_two_figures_with_their_band(outcomes):
    """No more is known; what may have either sign is known no more finely than the larger end of its band."""
    load = outcomes["cornice"].job.loads[6]
    low, usual, high = (
        replace(load.usual, fence=fence, feed=feed) for fence, feed in ((14.03, 64.1), (5.89, 107.8), (-60.9, 1238.0))
    )
    push, fence, _ = force_arrows(CORNICE, replace(load, low=low, usual=usual, high=high), Units())
    friction = f"{friction_of(CORNICE, usual):.2g}"
    assert push.label(Units()) == f"110 N (64 to 1200 N) push, and {friction} N friction"
    assert fence.label(Units()) == "6 N (\N{MINUS SIGN}61 to 14 N) into the fence, or off it"
    assert not fence.alarm

    _, nearly, _ = force_arrows(CORNICE, replace(load, low=low, usual=replace(usual, fence=0.0066), high=high), Units())
    assert nearly.label(Units()).startswith("0 N (\N{MINUS SIGN}61 to 14 N)")


@pytest.mark.parametrize("style", ["mm", "in"])
def test_what_pulls_off_the_fence_is_in_the_legend_only_where_it_is_seen(draw, outcomes, style):
    """As the blade enters and leaves, by half a newton: the far fence is pulled off, the others are not."""
    for name, off in (("greedy", False), ("cornice", False), ("far", True)):
        job = outcomes[name].job
        heaviest = max(range(len(job.loads)), key=lambda k: job.loads[k].power)
        assert (min(moment.forces.fence for moment in job.ends[heaviest]) < -0.5) == off
        assert ("off it" in texts_of(draw(name, style).drawing)) == off


@pytest.mark.parametrize(("name", "warns"), [("cornice", False), ("far", True), ("square", True)])
def test_a_pull_off_the_fence_is_warned_of_in_red(draw, outcomes, name, warns):
    """As the flag says it, and only then: in words, and by a red arrow."""
    parts = draw(name).drawing["parts"]
    assert any("second guide needed" in part.get("text", "") and part["colour"] == "alarm" for part in parts) == warns
    assert any(part.get("stroke") == "alarm" for part in parts) == warns
    assert any(flag.code == "off-the-fence" for flag in outcomes[name].flags) == warns


@pytest.mark.parametrize("name", CASES)
def test_each_dot_stands_as_high_as_its_share_of_the_limit(draw, outcomes, name):
    """Counted by the line of the limit, 1, and the foot, 0, of its own row."""
    drawing = shares_drawing(outcomes[name].job, Units(), 100.0, 180.0)
    rows = [np.array(part["rings"][0]) for part in drawing["parts"] if part.get("stroke_colour") == hexed(TIP)]
    feet = [part["rings"][0][1][1] for part in drawing["parts"] if len(part.get("rings", [[]])[0]) == 3
            and part["stroke"] == "faint"]  # fmt: skip
    marks = [np.array(part["rings"][0]) for part in drawing["parts"] if part.get("stroke_colour") in DOTS]
    bands = bands_of(outcomes[name].job)
    wanted = [band[limit][1] for limit in bands[0] for band in bands if band[limit][1] <= CLIP]
    found = []
    for ring in marks:
        middle = float(ring[:, 1].min() + ring[:, 1].max()) / 2
        row = next(k for k, foot in enumerate(feet) if middle < foot + 1.0)
        found.append((middle - feet[row]) / (rows[row][0, 1] - feet[row]))

    assert len(rows) == len(feet) == len(bands[0])
    assert sorted(found) == pytest.approx(sorted(wanted), abs=0.01)


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "stopped-cove"])
def test_the_forces_at_the_ends_rise_from_nothing_to_those_of_the_pass(name):
    """It begins near nothing, comes to the pass's own steady push, and ends as it began where the pass goes through."""
    job = simulate(read_scene(SCENES / f"{name}.toml"))
    number = len(job.passes) - 1
    drawing = entering_drawing(job.ends[number], job.fineness.ends, Units(), 80.0, 30.0)
    curve = next(part for part in drawing["parts"] if part.get("stroke") == "curve")
    marks = {float(part["text"]): part["y"] for part in drawing["parts"] if part.get("anchor") == "right"}
    (low, at_low), (high, at_high) = min(marks.items()), max(marks.items())
    across, level = np.array(curve["rings"][0]).T
    newtons = low + (level - at_low) / (at_high - at_low) * (high - low)
    steady = job.loads[number].usual.feed

    assert (np.diff(across) > 0).all()
    assert abs(newtons[0]) < 0.2 * steady
    assert newtons[job.fineness.ends - 1] == pytest.approx(steady, rel=0.05)
    if job.scene.passes.stops[number] is None:
        assert abs(newtons[-1]) < 0.2 * steady
    else:
        assert len(newtons) < 2 * job.fineness.ends
        assert "stops before it leaves" in texts_of(drawing)
        assert across[-1] - across[0] > 0.5 * 80.0  # the steady way is drawn too, up to where the stop is
        assert newtons[-1] == pytest.approx(steady, rel=0.05)
