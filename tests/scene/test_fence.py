"""The table's sizes and the fence: read with their units, and whole or not at all."""

from __future__ import annotations

import math

import pytest
from demos import cornice_with

from sweep.errors import SceneError
from sweep.scene.read import scene_from


def saw(**values: object):
    """The demo's saw with some values changed; None leaves a key out."""
    return scene_from(cornice_with(saw=values)).saw


def test_the_tables_edges_are_measured_from_the_blades_centre():
    """Left, right, front and rear, as the operator sees them."""
    assert saw(table_width="40 in", left_to_blade="15 in").edges == pytest.approx((-381, 635, -375, 315))
    assert saw(**dict.fromkeys(("table_depth", "table_width", "front_to_blade", "left_to_blade"))).edges is None


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("saw.table_width", {"table_width": None}),
        ("saw.table_depth", {"table_depth": None}),
        ("saw.throat_width", {"throat_width": None}),
        ("saw.front_to_blade", {"front_to_blade": "700 mm"}),
        ("saw.left_to_blade", {"left_to_blade": "1020 mm"}),
        ("saw.slots", {"slots": ["0 mm"]}),
        ("saw.slots", {"slots": [140]}),
        ("saw.table_depht", {"table_depht": "700 mm"}),
    ],
)
def test_half_a_table_and_a_blade_beyond_it_are_refused_by_name(key, values):
    """One sentence, the field first."""
    with pytest.raises(SceneError, match=f"^{key}"):
        saw(**values)


def test_a_fence_needs_no_sizes_and_takes_any():
    """38 mm thick unless said; an unknown key is refused."""
    table = cornice_with()
    assert scene_from(table).fence.thickness == 38
    assert scene_from(table | {"fence": {"length": "4 ft", "height": "3 in"}}).fence.length == pytest.approx(1219.2)
    assert math.isclose(scene_from(table | {"fence": {"thickness": "3/4 in"}}).fence.thickness, 19.05)
    with pytest.raises(SceneError, match=r"^fence\.depth"):
        scene_from(table | {"fence": {"depth": "3 in"}})
