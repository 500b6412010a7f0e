"""The nearest of many profiles is the one that a look at all of them finds."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sweep.shape.outline import curves, settings
from sweep.shape.tool import flat_tips
from sweep.shop.nearest import Index, deviation, mirror


def random_lines(count: int, seed: int) -> list[np.ndarray]:
    """Curves of random set-ups, tilted ones among them."""
    chance = np.random.default_rng(seed)
    tool = flat_tips(127.0, 3.2)
    angle, tilt = (
        chance.uniform(0.15, 1.2, count),
        np.where(chance.random(count) < 0.5, 0, chance.uniform(-0.5, 0.5, count)),
    )
    return list(curves(tool, settings(angle, tilt, chance.uniform(5, 30, count)), 20))


def hausdorff(one: np.ndarray, other: np.ndarray) -> float:
    """Return what shapely says of two lines, both centred, at points 0.05 mm apart."""
    lines = [
        shapely.segmentize(
            shapely.linestrings(line - ((line[:, 0].min() + line[:, 0].max()) / 2, line[:, 1].min())), 0.05
        )
        for line in (one, other)
    ]
    points = [shapely.points(shapely.get_coordinates(line)) for line in lines]
    return max(shapely.distance(points[0], lines[1]).max(), shapely.distance(points[1], lines[0]).max())


def test_deviations_are_those_of_another_library():
    """Largest distance either way (Hausdorff's), against shapely's distances at close points."""
    lines = random_lines(6, seed=1)
    for one, other in zip(lines[::2], lines[1::2], strict=True):
        assert deviation(one, other) == pytest.approx(hausdorff(one, other), abs=0.02)


def test_the_nearest_of_many_is_the_one_that_a_look_at_all_finds():
    """And a line that is there is found as itself, or its mirror image as that."""
    lines = random_lines(60, seed=2)
    index = Index((str(number), line) for number, line in enumerate(lines))

    for number in (0, 30, 59):
        assert index.nearest(lines[number])[0].number == number
        turned = index.nearest(mirror(lines[number]))[0]
        assert turned.number == number and turned.deviation < 0.02
        assert turned.mirrored == (deviation(lines[number], mirror(lines[number])) > 0.05)
    for asked in random_lines(6, seed=3):
        every = [min(deviation(asked, line), deviation(mirror(asked), line)) for line in lines]
        found = index.nearest(asked, count=2)
        assert found[0].number == int(np.argmin(every))
        assert found[0].deviation == pytest.approx(min(every), abs=0.02)
        assert found[0].deviation <= found[1].deviation
        assert index.nearest(asked, within=min(every) / 2) == ()


def test_an_index_of_nothing_finds_nothing():
    """And one of a single closed outline finds it."""
    closed = np.array([(-5.0, 0.0), (5.0, 0.0), (5.0, 9.0), (-5.0, 9.0), (-5.0, 0.0)])

    assert Index([]).nearest(closed) == ()
    (near,) = Index([("box", closed)]).nearest(closed, count=4)
    assert (near.name, near.deviation) == ("box", pytest.approx(0.0, abs=1e-6))
