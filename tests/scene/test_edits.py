"""Edits of a page: what is typed becomes what the file holds, lists are changed, heights follow, nothing else moves."""

from __future__ import annotations

import copy
import random
import tomllib

import pytest
from demos import CORNICE, SCENES
from hypothesis import given
from hypothesis import strategies as st

from sweep.errors import SceneError
from sweep.quantity import read_quantity
from sweep.scene.changes import changed, differences
from sweep.scene.documented import documented_keys
from sweep.scene.edits import Edit, edited, key_at
from sweep.scene.places import value_at
from sweep.scene.read import scene_from
from sweep.scene.rewrite import rewritten
from sweep.scene.typed import as_typed, from_typed
from sweep.units import LENGTH

TEXTS = {path.stem: path.read_text() for path in sorted(SCENES.glob("*.toml"))}
RAIL = tomllib.loads(TEXTS["picture-rail"])
FIT = tomllib.loads(TEXTS["cornice-to-fit"])
DATA = tomllib.loads(CORNICE.read_text())


def after(data: dict, *edits: tuple) -> dict:
    """The tables after edits of path, what is done, and a value."""
    for path, do, value in edits:
        data = edited(data, Edit(path=path, do=do, value=value))
    return data


@pytest.mark.parametrize(
    ("data", "path", "text", "stands"),
    [
        (DATA, "setup.fence_angle", "29", "29 deg"),
        (DATA, "setup.blade_height", "16,5", "16,5 mm"),
        (RAIL, "stock.thickness", "5/8", "5/8 in"),
        (RAIL, "stock.thickness", " 2½ ", "2½ in"),
        (RAIL, "stock.width", "60 mm", "60 mm"),
        (RAIL, "stock.length", "4", "4 ft"),
        (RAIL, "order.handling", "30", "30 s"),
        (DATA, "saw.max_height", "79", "79 mm"),
        (RAIL, "saw.max_height", "3 1/8", "3 1/8 in"),
        (DATA, "blade.teeth", "24", 24),
        (DATA, "blade.teeth", "many", "many"),
        (DATA, "limits.gullet_fill", "0,6", 0.6),
        (DATA, "target.whole", "true", True),
        (DATA, "order.sides", "3", 3),
        (DATA, "saw.slots", "-125; 140", ["-125 mm", "140 mm"]),
        (DATA, "order.lengths", "4 x 38 1/2 in\n2,5 m, 700", [*["38 1/2 in"] * 4, "2,5 m", "700 mm"]),
        (DATA, "target.points", "[-20, 0]\n0 10\n20,5 0", [[-20, 0], [0, 10], [20.5, 0]]),
        (DATA, "passes.stop", "300", "300 mm"),
        (DATA, "passes.stop", "through", "through"),
        (DATA, "plan.turn", "1/8", "1/8"),
        (DATA, "title", "  Rail, 2 x 4 ", "Rail, 2 x 4"),
        (DATA, "stock.species", "", None),
    ],
)
def test_a_bare_number_takes_the_fields_unit_and_the_makers_notation_stays(data, path, text, stands):
    """Whatever the kind of the field; nothing typed is nothing written."""
    assert value_at(after(data, (path, "type", text)), path) == stands


@pytest.mark.parametrize("name", TEXTS)
def test_what_a_field_shows_is_read_as_what_stands_there(name):
    """Every key of every demo scene, typed back as it is shown, changes nothing."""
    data = tomllib.loads(TEXTS[name])
    scalars = [path for path in _paths(data) if not isinstance(value_at(data, path), dict)]
    for path in scalars:
        shown = as_typed(value_at(data, path))
        assert from_typed(key_at(data, path), shown, value_at(data, path), False) == value_at(data, path), path


def _paths(value: object, path: str = "") -> list[str]:
    """Every path of keys in some tables; a list of tables is gone through, any other is one value."""
    if isinstance(value, dict):
        return [found for key, inner in value.items() for found in _paths(inner, f"{path}.{key}".lstrip("."))]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [found for number, inner in enumerate(value) for found in _paths(inner, f"{path}.{number}")]
    return [path]


@given(st.floats(2.5, 21.0).map(lambda height: f"{round(height, 2)} mm"))
def test_a_new_height_keeps_the_passes_below_it_and_ends_with_it(height):
    """Text for text; and the scene fits together."""
    data = after(DATA, ("setup.blade_height", "type", height))
    heights = data["passes"]["heights"]

    assert heights[-1] == height
    assert heights[:-1] == [
        text for text in DATA["passes"]["heights"][:-1] if read_quantity(text, LENGTH) < read_quantity(height, LENGTH)
    ]
    assert scene_from(data).setup.blade_height == read_quantity(height, LENGTH)


def test_the_last_height_and_the_blades_height_are_one_value():
    """Typed into the table of passes, and when the last pass is taken away."""
    typed = after(DATA, ("passes.heights.7", "type", "16,4"))
    shorter = after(DATA, ("passes.heights.7", "remove", None))

    assert (typed["setup"]["blade_height"], typed["passes"]["heights"][-1]) == ("16,4 mm", "16,4 mm")
    assert (shorter["setup"]["blade_height"], shorter["passes"]["heights"][-1]) == ("15 mm", "15 mm")


def test_stops_go_with_their_passes():
    """A list of stops loses those of the passes that fall away; the last pass keeps its own."""
    data = copy.deepcopy(DATA)
    data["passes"]["stop"] = ["through", "through", "through", "300 mm", "310 mm", "320 mm", "330 mm", "340 mm"]
    lower = after(data, ("setup.blade_height", "type", "10 mm"))
    more = after(data, ("passes.heights.3", "add", None))

    assert lower["passes"]["heights"] == ["2.4 mm", "4.8 mm", "7 mm", "9 mm", "10 mm"]
    assert lower["passes"]["stop"] == ["through", "through", "through", "300 mm", "340 mm"]
    assert len(more["passes"]["stop"]) == len(more["passes"]["heights"]) == 9
    assert scene_from(more).passes.stops[4:] == (300.0, 310.0, 320.0, 330.0, 340.0)


@pytest.mark.parametrize(("data", "step"), [(DATA, 0.1), (RAIL, 25.4 / 64)])
def test_a_pass_between_two_lies_on_the_step_and_even_rises_are_even_within_it(data, step):
    """Heights that can be set: 0.1 mm, or 1/64 in; the last pass stays as light as it was."""

    def mm(tables: dict) -> list[float]:
        return [read_quantity(height, LENGTH) for height in tables["passes"]["heights"]]

    between = mm(after(data, ("passes.heights.2", "add", None)))
    even = mm(after(data, ("passes.heights", "even", None)))

    assert between[1] < between[2] < between[3]
    assert abs(between[2] / step - round(between[2] / step)) < 1e-6
    assert even[-2:] == mm(data)[-2:]
    rises = [high - low for low, high in zip([0.0, *even[:-2]], even[:-1], strict=True)]
    assert max(rises) - min(rises) <= 2 * step + 1e-9


def test_the_step_of_the_saws_wheel_counts_though_the_shop_says_it():
    """A pass between two, and even rises, lie on an eighth of a turn; in inches what is no 64th is a decimal."""
    for data, lift, step in ((DATA, "3.2 mm", 0.4), (RAIL, "1/10 in", 2.54 / 8)):
        shop, wanted = {"saw": {"lift_per_turn": lift}}, data | {"plan": {"turn": "1/8"}}
        for edit in (Edit(path="passes.heights.2", do="add"), Edit(path="passes.heights", do="more")):
            found = edited(wanted, edit, shop)["passes"]["heights"]
            (between, *_) = [text for text in found if text not in data["passes"]["heights"]]
            steps = read_quantity(between, LENGTH) / step
            assert abs(steps - round(steps)) < 1e-3, between
            assert between.endswith(lift[-2:])


def test_what_was_measured_begins_where_it_is_typed_and_one_of_several_set_ups_can_be_the_only_one():
    """One more table a time and no gap; a cove as planed, with its passes; nothing else can be alone."""
    data = after(DATA, ("measured.0.width", "type", "60,9"), ("measured.1.points", "type", "-40 0\n0 16\n40 0"))
    assert data["measured"] == [{"width": "60,9 mm"}, {"points": [[-40, 0], [0, 16], [40, 0]]}]
    assert scene_from(data).measured[0].width == 60.9
    for path in ("measured.3.width", "measured.-1.width", "finish.0.radius"):
        with pytest.raises(SceneError):
            after(data, (path, "type", "3"))

    several = after(DATA | {"target": {}}, ("setups", "add", "cove"), ("setups", "add", "rip"))
    back = after(several, ("setups.0", "alone", None))
    assert back == {name: value for name, value in DATA.items() if name != "target"}
    turned = after(several, ("setups.1.face", "type", "top"))
    for data, path in ((several, "setups.2"), (turned, "setups.1"), (several, "setups.9"), (several, "finish.0")):
        with pytest.raises(SceneError):
            after(data, (path, "alone", None))


def test_operations_are_added_moved_and_taken_away():
    """Each kind can be added and is legal as it comes; the others stay as they were."""
    kinds = next(key.choices for key in documented_keys() if key.path == "finish.do")
    for data in (FIT, RAIL):
        for kind in kinds:
            more = after(data, ("finish", "add", kind))
            assert more["finish"][:-1] == data["finish"]
            assert scene_from(more).finish[-1].do == kind
    moved = after(FIT, ("finish.3", "up", None), ("finish.0", "remove", None))

    assert moved["finish"] == [FIT["finish"][k] for k in (1, 3, 2, 4)]
    assert "finish" not in after(FIT, *[("finish.0", "remove", None)] * 5)


def test_a_second_blade_makes_a_list_of_them_and_the_set_up_knows_its_own():
    """By name; the scene is legal at once."""
    data = after(DATA, ("blades", "add", None))

    assert scene_from(data).blade.name == "blade 1"
    assert [blade["name"] for blade in data["blades"]] == ["blade 1", "blade 2"]
    assert {**data["blades"][0], "name": None} == {**DATA["blade"], "name": None}


@pytest.mark.parametrize(
    "edit",
    [
        ("stock.colour", "type", "red"),
        ("nothing.at.all", "type", "1"),
        ("stock.length.0", "set", "1 mm"),
        ("finish.7", "remove", None),
        ("finish.7.radius", "set", "1 mm"),
        ("setups.0.passes.heights", "even", None),
        ("target.file", "type", "../elsewhere.csv"),
        ("target", "set", {"shape": "points", "file": "/etc/passwd"}),
    ],
)
def test_a_place_that_is_none_is_refused(edit):
    """In one sentence."""
    with pytest.raises(SceneError):
        after(DATA, edit)


@pytest.mark.parametrize("name", TEXTS)
def test_a_scene_rewritten_holds_what_is_wanted_and_every_comment_of_what_stays(name):
    """Random edits of every kind; without any the text stays byte for byte; differences lead there and back."""
    text, chance = TEXTS[name], random.Random(name)
    data = tomllib.loads(text)
    assert rewritten(text, data) == text
    for _ in range(12):
        wanted = data
        for _ in range(chance.randint(1, 6)):
            wanted = _somehow(wanted, chance)
        written = rewritten(text, wanted)
        there = differences(data, wanted)

        assert tomllib.loads(written) == wanted
        assert changed(data, {path: pair[1] for path, pair in there.items()}) == wanted
        gone = {one for one, value in data.items() if one not in wanted or isinstance(value, list)}
        if not gone:
            assert _comments(text) == _comments(written)
        assert "\n\n\n" not in written


def _somehow(data: dict, chance: random.Random) -> dict:
    """Return some tables after an edit that could be anything."""
    lists = [name for name in ("finish", "blades") if data.get(name)]
    name = chance.choice(["type", "type", "width", "order", "title", *lists])
    if name in lists:
        number = chance.randrange(len(data[name]))
        do = chance.choice(["remove", "up", "down"]) if len(data[name]) > 1 else "up"
        return edited(data, Edit(path=f"{name}.{number}", do=do))
    if name == "order":
        return edited(data, Edit(path="order.lengths", value=f"{chance.randint(1, 4)} x {chance.randint(100, 900)} mm"))
    if name == "title":
        return edited(data, Edit(path="title", value=chance.choice(['a "quoted" # title', "plain", "Ärmel ½"])))
    if name == "width":
        return edited(data, Edit(path="stock.width", value=f"{chance.randint(60, 99)} mm"))
    paths = [path for path in _paths(data) if isinstance(value_at(data, path), str)]
    return edited(data, Edit(path=chance.choice(paths), do="set", value=f"{chance.randint(1, 99)} mm"))


def _comments(text: str) -> list[str]:
    return sorted(line.partition("#")[2] for line in text.splitlines() if "#" in line and not line.startswith("title"))


def test_a_feed_of_its_own_is_written_for_every_pass_and_goes_with_it():
    """As all are until then; added to, taken from, and cut short with the heights."""
    passes = {"heights": ["3 mm", "6 mm", "9 mm", "10 mm"], "feed_speed": "2 m/min", "last_feed_speed": "1 m/min"}
    data = DATA | {"passes": passes, "setup": DATA["setup"] | {"blade_height": "10 mm"}}
    typed = after(data, ("passes.feeds.1", "type", "1,5"))
    assert typed["passes"]["feeds"] == ["2 m/min", "1,5 m/min", "2 m/min", "1 m/min"]
    speeds = scene_from(typed, SCENES).passes.feed_speeds
    assert [speed * 60 / 1000 for speed in speeds] == pytest.approx([2, 1.5, 2, 1])

    longer = after(typed, ("passes.heights.1", "add", None))["passes"]
    assert longer["feeds"] == ["2 m/min", "1,5 m/min", "1,5 m/min", "2 m/min", "1 m/min"]
    assert after(typed, ("passes.heights.0", "remove", None))["passes"]["feeds"] == typed["passes"]["feeds"][1:]
    lower = after(typed, ("setup.blade_height", "type", "7"))["passes"]
    assert (lower["heights"], lower["feeds"]) == (["3 mm", "6 mm", "7 mm"], ["2 m/min", "1,5 m/min", "1 m/min"])
    with pytest.raises(SceneError, match="4 speeds for 3 heights"):
        scene_from(after(typed, ("passes.heights", "set", ["3 mm", "6 mm", "10 mm"])), SCENES)


@pytest.mark.parametrize(
    ("plan", "heights", "more", "fewer"),
    [
        ({}, ["4 mm", "8 mm", "9 mm"], ["2.7 mm", "5.3 mm", "8 mm", "9 mm"], ["8 mm", "9 mm"]),
        ({"plan": {"round_to": "0.5 mm"}}, ["4 mm", "8 mm", "9 mm"], ["2.5 mm", "5.5 mm", "8 mm", "9 mm"], None),
        ({"plan": {"turn": "1/4"}}, ["4 mm", "8 mm", "9 mm"], ["2.5 mm", "5 mm", "8 mm", "9 mm"], None),
        ({}, ["1/8 in", "5/16 in"], ["7/64 in", "13/64 in", "5/16 in"], ["5/16 in"]),
        ({}, ["9 mm"], ["4.5 mm", "9 mm"], ["9 mm"]),
    ],
)
def test_one_pass_more_or_fewer_leaves_even_rises_on_steps_that_can_be_set(plan, heights, more, fewer):
    """The last stays as high, and as light where it was light."""
    saw = DATA["saw"] | {"lift_per_turn": "10 mm"}
    data = DATA | plan | {"saw": saw, "passes": {"heights": heights, "feed_speed": "2 m/min"}}
    assert after(data, ("passes.heights", "more", None))["passes"]["heights"] == more
    if fewer is not None:
        assert after(data, ("passes.heights", "fewer", None))["passes"]["heights"] == fewer
