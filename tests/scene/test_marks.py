"""A target told by what is marked on the end of the stock."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with
from hypothesis import given
from hypothesis import strategies as st
from saws import changed
from strategies import fewer

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.scene.model import Scene
from sweep.scene.read import scene_from

INCHES = {"length": "36 in", "width": "3 in", "thickness": "3/4 in"}


def marked(shape: str = "cove", stock: dict | None = None, **target: str) -> Scene:
    """Return a scene that wants such a target and has nothing set up."""
    return scene_from(
        cornice_with(stock=stock or INCHES, setup=None, passes=None) | {"target": {"shape": shape} | target}
    )


@fewer(1 / 8)
@given(st.integers(1, 90), st.integers(1, 40), st.integers(91 * 2, 400), st.integers(41, 90))
def test_shoulders_and_wood_above_are_what_is_left_of_the_stock(shoulder, above, width, thickness):
    """Width and two shoulders make the stock's width, depth and wood above its thickness; in quarters of a mm."""
    stock = {"width": f"{width / 4} mm", "thickness": f"{thickness / 4} mm"}
    size = marked(stock=stock, shoulders=f"{shoulder / 4} mm", wood_above=f"{above / 4} mm").wanted.size

    assert size[0] + 2 * shoulder / 4 == pytest.approx(width / 4, abs=1e-12)
    assert size[1] + above / 4 == pytest.approx(thickness / 4, abs=1e-12)


@pytest.mark.parametrize(
    "target",
    [
        {"shoulders": "1/4 in", "wood_above": "1/4 in"},
        {"width": "2 1/2 in", "wood_above": "1/4 in"},
        {"shoulders": "1/4 in", "depth": "1/2 in"},
    ],
)
def test_marks_sizes_or_one_of_each_make_the_same_cove(target):
    """The set-up that is worked out is the same, and what the maker sets."""
    by_size = complete(marked(width="2 1/2 in", depth="1/2 in")).scene
    by_marks = complete(marked(**target)).scene

    assert by_marks.setup.fence_angle == pytest.approx(by_size.setup.fence_angle, abs=1e-12)
    assert by_marks.passes.heights == pytest.approx(by_size.passes.heights, abs=1e-9)


@pytest.mark.parametrize("angle", ["as it is found", "to four decimals"])
def test_marks_at_the_very_limits_are_cut_without_a_flag(angle):
    """A quarter of an inch on every side is what the limits ask for; floats and rounding do not make it less."""
    scene = complete(marked(shoulders="1/4 in", wood_above="1/4 in")).scene
    if angle == "to four decimals":
        written = f"{math.degrees(scene.setup.fence_angle):.4f}"
        scene = changed(scene, "setup", fence_angle=math.radians(float(written)))
    codes = {flag.code for flag in judge(simulate(scene)).flags}

    assert not codes & {"wood-above-thin", "shoulder-narrow", "rise-large"}


@pytest.mark.parametrize(
    ("target", "says"),
    [
        ({"shoulders": "1 1/2 in", "depth": "1/4 in"}, "target.shoulders: two of 1 1/2 in leave no cove in stock 3 in "
         "wide; write less than 1 1/2 in."),
        ({"width": "2 in", "wood_above": "7/8 in"}, "target.wood_above: 7/8 in above it leaves no cove in stock 3/4 in "
         "thick; write less than that."),
        ({"width": "2 in", "shoulders": "1/2 in", "depth": "1/4 in"}, "target.shoulders: the width already says it"),
        ({"shoulders": "1/2 in", "depth": "1/4 in", "wood_above": "1/2 in"}, "target.wood_above: the depth already "),
        ({"shoulders": "1/2 in", "depth": "1/4 in", "across": "1/8 in"}, "target.across: the shoulders are the same "),
        ({"depth": "1/4 in"}, "target.width: it is missing; a target of shape \"cove\" needs it, for example width = "
         "\"5/8 in\", or shoulders = \"1/4 in\", which is left of the stock."),
    ],
)  # fmt: skip
def test_marks_that_cannot_be_are_refused_in_words_of_marks(target, says):
    """In the notation of the scene."""
    with pytest.raises(SceneError) as wrong:
        marked(**target)

    assert wrong.value.sentence(inches=True).startswith(says)


def test_an_arc_that_marks_make_too_deep_is_refused_by_its_mark():
    """An arc is at most a half circle, whichever way it is told."""
    with pytest.raises(SceneError, match=r"target.wood_above: an arc is at most half as deep as it is wide"):
        marked("arc", shoulders="1 1/4 in", wood_above="1/4 in")
    with pytest.raises(SceneError, match=r"target.shoulders: the points already say it"):
        marked("points", shoulders="1 1/4 in")


def test_marks_that_no_blade_reaches_are_refused_with_the_marks_that_one_does():
    """What is said to be the least is reached, and a hair less is not."""
    wide = {"width": "12 in", "thickness": "3/4 in", "length": "36 in"}
    with pytest.raises(SceneError, match=r"target.shoulders: .* on either side leaves a cove") as wrong:
        complete(marked(stock=wide, shoulders="1 in", wood_above="1/4 in"))
    least = wrong.value.figures["limit"].value
    complete(marked(stock=wide, shoulders=f"{least + 1e-6} mm", wood_above="1/4 in"))
    with pytest.raises(SceneError, match=r"target.shoulders"):
        complete(marked(stock=wide, shoulders=f"{least - 1e-3} mm", wood_above="1/4 in"))

    with pytest.raises(SceneError, match=r"target.wood_above: .* no blade of the scene can cut that: only") as wrong:
        complete(marked(shoulders="1/4 in", wood_above="1/8 in"))
    assert wrong.value.sentence(inches=True).endswith("leave at least 1/4 in, or change what limits it.")
