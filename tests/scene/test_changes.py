"""How a scene differs from its file, key by key."""

from __future__ import annotations

import copy
import tomllib

from demos import CORNICE

from sweep.scene.changes import changed, differences

DATA = tomllib.loads(CORNICE.read_text())


def test_the_tables_given_are_left_as_they_were():
    """What is returned is a copy."""
    before = copy.deepcopy(DATA)
    changed(DATA, {"setup.fence_angle": "31 deg", "order.lengths": ["1 m"], "title": None})

    assert before == DATA


def test_only_what_differs_is_told_and_a_list_that_grew_is_one_value():
    """With what stood there and what stands there now."""
    after = changed(DATA, {"stock.width": "90 mm", "passes.heights": ["3 mm", "16 mm"], "title": None})
    after["finish"] = [{"do": "chamfer"}]

    assert differences(DATA, after) == {
        "title": (DATA["title"], None),
        "stock.width": ("92 mm", "90 mm"),
        "passes.heights": (DATA["passes"]["heights"], ["3 mm", "16 mm"]),
        "finish": (None, [{"do": "chamfer"}]),
    }
    assert differences(after, after) == {}
    assert differences({"a": {"b": 1}}, {"a": {"b": True}}) == {"a.b": (1, True)}
