"""A whole moulding as the target: which body stays, and what is refused."""

from __future__ import annotations

import ezdxf
import pytest

from sweep.errors import SceneError
from sweep.scene.read import read_scene, scene_from
from sweep.scene.whole import kept_body
from sweep.shape import section

STEP = [[-20, 0], [-10, 0], [-10, 6], [10, 6], [10, 2], [20, 2]]
"""Two upright steps up to a floor 6 mm deep, and a land 2 mm below the face: 12 x 40 less 120 and 20 mm2."""

DOVETAIL = [[-20, 0], [-5, 0], [-9, 5], [9, 5], [5, 0], [20, 0]]
"""A groove that is wider at its bottom, 10 and 18 mm: it takes 70 mm2."""


def with_points(points: object, **more: object) -> dict[str, object]:
    """A scene with a whole target."""
    return {
        "stock": {"length": "600 mm", "width": "40 mm", "thickness": "12 mm"},
        "blade": {"teeth": 40, "diameter": "254 mm", "kerf": "3.2 mm"},
        "saw": {"speed": "4000 rpm"},
        "target": {"shape": "points", "whole": True, "points": points, **more},
    }


def kept(points: object, **more: object) -> section.Figure:
    """The body that stays."""
    scene = scene_from(with_points(points, **more))
    return kept_body(scene.wanted, scene.stock)


@pytest.mark.parametrize(
    ("points", "area"),
    [
        (STEP, 480 - 120 - 20),
        (STEP[::-1], 480 - 120 - 20),
        (DOVETAIL, 480 - 70),
        ([[-10, 2], [10, 2], [10, 8], [-10, 8], [-10, 2]], 120),
        ([[-20, 3], [0, 3], [20, 3]], 40 * 9),
        ([[-19.995, 3], [0, 3], [20.004, 3]], 40 * 9),
    ],
)
def test_the_wood_beyond_an_open_line_stays_and_that_within_a_closed_one(points, area):
    """Steps upright, undercuts and lines written from right to left among them; areas by hand."""
    assert section.area(kept(points)) == pytest.approx(area)


def test_the_target_is_moved_across():
    """As every other."""
    square = [[-20, 2], [0, 2], [0, 8], [-20, 8], [-20, 2]]

    assert kept(square, across="20 mm").bounds == (0, 2, 20, 8)


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[-20, 0], [0, 13], [20, 0]], r"the point at y = 0 mm, z = 13 mm lies outside the stock"),
        ([[-20, 0], [0, -1], [20, 0]], r"z = -1 mm lies outside the stock"),
        ([[-20, 0], [-21, 5], [20, 0]], r"y = -21 mm, z = 5 mm lies outside the stock"),
        ([[-18, 0], [0, 5], [18, 0]], r"the profile runs from y = -18 mm to y = 18 mm"),
        ([[-20, 0], [10, 5], [-10, 5], [20, 0]], "the profile crosses or touches itself"),
        ([[-20, 3], [0, 12], [20, 3]], "the profile crosses or touches itself"),
        ([[-20, 12], [0, 12], [20, 12]], "the profile crosses or touches itself"),
        ([[-20, 0], [0, 0], [20, 0]], "nothing is to be cut"),
        ([[-20, 0], [20, 0]], "fewer than three points"),
        ([[-20, 0], [0, 5], [-20, 0]], "the profile crosses or touches itself"),
    ],
)
def test_what_is_no_profile_of_this_stock_is_refused(points, says):
    """In one sentence that names the field, and where."""
    with pytest.raises(SceneError, match=says) as caught:
        scene_from(with_points(points))

    assert caught.value.field == "target.points"


@pytest.mark.parametrize("value", ["true", 1, "yes"])
def test_whole_is_true_or_false(value):
    """And nothing that only stands for it."""
    with pytest.raises(SceneError, match=r"target.whole: this is not what belongs here; write true or false"):
        scene_from(with_points(STEP, whole=value))


def test_only_points_are_a_whole_moulding():
    """A cove is told by its width and depth."""
    table = with_points(STEP) | {"target": {"shape": "cove", "width": "20 mm", "depth": "5 mm", "whole": True}}
    with pytest.raises(SceneError, match=r"target.whole: a target of shape \"cove\" is one cove"):
        scene_from(table)


def test_a_drawing_of_a_whole_moulding_may_be_closed_and_turn_back(tmp_path):
    """Its outermost points lie either side of the centreline, its lowest on the face."""
    document = ezdxf.new(units=4)
    document.modelspace().add_lwpolyline([(100, 50), (110, 50), (108, 55), (114, 55), (114, 60), (100, 60)], close=True)
    document.saveas(tmp_path / "a.dxf")
    lines = ["[stock]", 'length = "600 mm"', 'width = "40 mm"', 'thickness = "12 mm"', "[blade]", "teeth = 40"]
    lines += ['diameter = "254 mm"', 'kerf = "3.2 mm"', "[saw]", 'speed = "4000 rpm"', "[target]", 'shape = "points"']
    (tmp_path / "a.toml").write_text("\n".join([*lines, "whole = true", 'file = "a.dxf"']))
    scene = read_scene(tmp_path / "a.toml")
    body = kept_body(scene.wanted, scene.stock)

    assert body.bounds == pytest.approx((-7, 0, 7, 10))
    assert section.area(body) == pytest.approx(14 * 10 - 5 * (4 + 6) / 2)
