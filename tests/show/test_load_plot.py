"""The picture of the loads: whole, in the units asked, and every arrow the way its force acts."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from demos import SCENES
from matplotlib.figure import Figure
from PIL import Image

from sweep.check.judge import judge
from sweep.check.shares import shares_of
from sweep.cut.job import simulate
from sweep.cut.push import friction_of, push_of
from sweep.scene.read import read_scene
from sweep.show.draw.forces import force_arrows
from sweep.show.pictures import load_plot
from sweep.show.pictures.entering import draw_entering
from sweep.show.pictures.load_plot import HEIGHT, WIDTH, bands_of, write_loads
from sweep.show.say.report import Report
from sweep.units import Units

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
    return {name: judge(simulate(scene)) for name, scene in CASES.items()}


@pytest.fixture(scope="module")
def draw(outcomes, tmp_path_factory):
    """A function that draws the `load.png` of a case, once, and returns its pixels and every word in it."""
    path = tmp_path_factory.mktemp("loads") / "load.png"

    @cache
    def drawn(name, style="mm"):
        figures = []
        save = load_plot.save
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(load_plot, "save", lambda figure, path: (figures.append(figure), save(figure, path))[1])
            write_loads(path, Report(outcomes[name], Units(style)))
        figure = figures[-1]
        words = [*figure.texts, *(t for legend in figure.legends for t in legend.get_texts())]
        for axes in figure.axes:
            ticks = [*axes.get_xticklabels(), *axes.get_yticklabels()] if axes.axison else []
            words += [*axes.texts, *ticks]
        return np.array(Image.open(path).convert("RGB")), [t for t in words if t.get_text()]

    return drawn


@pytest.mark.parametrize("name", CASES)
def test_the_picture_has_its_size_and_a_free_border(draw, name):
    """Drawn on in every case, and no word or arrow touches the border."""
    picture, _ = draw(name)
    inked = (picture < 249).any(axis=-1)
    assert picture.shape == (HEIGHT, WIDTH, 3)
    assert 0.08 < inked.mean() < 0.5
    inked[25:-25, 25:-25] = False
    assert not inked.any()


@pytest.mark.parametrize("style", ["mm", "in"])
@pytest.mark.parametrize("name", CASES)
def test_no_two_words_overlap(draw, name, style):
    """Boxes around all the words, less a pixel, are apart."""
    _, words = draw(name, style)
    boxes = [word.get_window_extent().padded(-1) for word in words if word.get_visible()]
    for k, box in enumerate(boxes):
        assert [words[j].get_text() for j in range(k) if box.overlaps(boxes[j])] == [], words[k].get_text()


def test_lengths_and_areas_are_in_the_units_asked(draw):
    """An inch maker reads no mm, and a metric one no inches."""
    metric = " ".join(word.get_text() for word in draw("cornice")[1])
    inches = " ".join(word.get_text() for word in draw("cornice", "in")[1])
    assert "rise, at most 3.20 mm" in metric
    assert "stock, 92.00 mm wide" in metric
    assert "rise, at most 1/8 +0.001 in" in inches
    assert "mm" not in inches
    assert " in " not in metric.replace(" in pass", "").replace(" in that pass", "")


def test_an_unknown_wood_has_shares_and_no_forces(draw, outcomes):
    """What needs no wood is drawn; of the rest it says that nothing is known."""
    _, words = draw("unknown")
    said = [word.get_text() for word in words]
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
        assert ("off it" in [word.get_text() for word in draw(name, style)[1]]) == off


@pytest.mark.parametrize(("name", "warns"), [("cornice", False), ("far", True), ("square", True)])
def test_a_pull_off_the_fence_is_warned_of_in_red(draw, outcomes, name, warns):
    """As the flag says it, and only then."""
    picture, words = draw(name)
    r, g, b = (picture[:, 1080:, k].astype(int) for k in range(3))
    assert any("second guide needed" in word.get_text() for word in words) == warns
    assert (((r > 150) & (g < 70) & (b < 70)).sum() > 1000) == warns
    assert any(flag.code == "off-the-fence" for flag in outcomes[name].flags) == warns


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "stopped-cove"])
def test_the_forces_at_the_ends_rise_from_nothing_to_those_of_the_pass(name):
    """It begins near nothing, comes to the pass's own steady push, and ends as it began where the pass goes through."""
    job = simulate(read_scene(SCENES / f"{name}.toml"))
    number = len(job.passes) - 1
    axes = Figure().add_subplot()
    draw_entering(axes, job.ends[number], job.fineness.ends, Units(), 8.0)
    push = next(line for line in axes.lines if len(line.get_xdata()) > 2)
    across, newtons = push.get_xdata(), push.get_ydata()
    steady = job.loads[number].usual.feed

    assert (np.diff(across) > 0).all()
    assert abs(newtons[0]) < 0.2 * steady
    assert newtons[job.fineness.ends - 1] == pytest.approx(steady, rel=0.05)
    if job.scene.passes.stops[number] is None:
        assert abs(newtons[-1]) < 0.2 * steady
    else:
        assert len(newtons) < 2 * job.fineness.ends
        assert axes.get_xticklabels()[1].get_text() == "stops before it leaves"
        assert across[-1] > 1.3  # the steady way is drawn too, up to where the stop is
        assert newtons[-1] == pytest.approx(steady, rel=0.05)
