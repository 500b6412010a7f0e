"""A shop beside the scenes: each takes from it what it does not say, and no more."""

from __future__ import annotations

import itertools
import tomllib

import pytest
from demos import CORNICE, SCENES

from sweep.errors import SceneError
from sweep.scene.read import read_scene, scene_from
from sweep.scene.shop import SECTIONS, said_by_shop, shop_at, shop_in, shop_with, with_shop

TEXT = CORNICE.read_text()
BLADE, SETUP, TARGET = TEXT.index("[blade]"), TEXT.index("[setup]"), TEXT.index("[target]")
SHOP = TEXT[BLADE:SETUP]
BARE = TEXT[:BLADE] + TEXT[SETUP:]


@pytest.fixture
def folder(tmp_path):
    """A shop with the cornice's blade and saw, and the cornice without them."""
    (tmp_path / "shop.toml").write_text(SHOP)
    (tmp_path / "job.toml").write_text(BARE)
    return tmp_path


def test_a_scene_without_saw_and_blade_is_the_same_with_its_shop(folder):
    """As if they stood in it."""
    assert read_scene(folder / "job.toml") == read_scene(CORNICE)
    (folder / "shop.toml").unlink()
    with pytest.raises(SceneError, match="it is missing"):
        read_scene(folder / "job.toml")


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.toml")), ids=lambda path: path.stem)
def test_what_a_scene_says_goes_before_whatever_a_shop_says(path):
    """Key by key, for every demo scene against the shop of every other."""
    own = tomllib.loads(path.read_text())
    for other in itertools.islice(sorted(SCENES.glob("*.toml")), 0, None, 3):
        tables = tomllib.loads(other.read_text())
        shop = {name: tables[name] for name in SECTIONS if name in tables}
        taken = with_shop(own, shop)
        for name, table in own.items():
            if isinstance(table, dict):
                assert taken[name] == {**taken[name], **table}
            else:
                assert taken[name] == table
        assert ("blade" in taken) + ("blades" in taken) == 1
        assert ("order" in taken) == ("order" in own)


def test_a_scene_takes_the_saw_that_it_names_or_else_the_first():
    """Key by key; one that no saw of the shop is called takes nothing; one made the shop's replaces its namesake."""
    low = {"name": "low", "speed": "4000 rpm", "max_height": "40 mm"}
    high = {"name": "high", "speed": "3450 rpm"}
    shop = {"saws": [low, high]}

    assert with_shop({}, shop) == {"saw": low}
    assert with_shop({"saw": {"motor": "1 kW"}}, shop) == {"saw": low | {"motor": "1 kW"}}
    assert with_shop({"saw": {"name": "high", "motor": "1 kW"}}, shop) == {"saw": high | {"motor": "1 kW"}}
    assert with_shop({"saw": {"name": "old"}}, shop) == {"saw": {"name": "old"}}
    assert said_by_shop({"saw": {"name": "high"}}, shop, "saw.speed") == "3450 rpm"
    assert said_by_shop({"saw": {"name": "high"}}, shop, "saw.max_height") is None
    own = {"name": "high", "speed": "5000 rpm"}
    assert shop_with(shop, {"saw": own}, "saw") == {"saws": [low, own]}
    assert shop_with(shop, {"saw": {"speed": "1 rpm"}}, "saw") == {"saws": [{"name": "low", "speed": "1 rpm"}, high]}
    assert shop_with(shop, {"saw": own | {"name": "old"}}, "saw") == {"saws": [low, high, own | {"name": "old"}]}


def test_another_blade_takes_nothing_of_the_shops_one():
    """A scene that tells teeth, diameter and kerf, or a profile, has no mark and no bevel lent."""
    rail = tomllib.loads((SCENES / "picture-rail.toml").read_text())
    shop = {"blade": rail["blade"] | {"max_speed": "9000 rpm"}}
    own = tomllib.loads(TEXT)
    shaped = own | {"blade": {"teeth": 4, "profile": [[-5, 100], [5, 120]]}}

    assert shop["blade"]["tip"] == "alternate bevel"
    for data in (own, shaped):
        assert scene_from(with_shop(data, shop)).blade == scene_from(data).blade
    lent = scene_from(with_shop(own | {"blade": {"kerf": "3 mm"}}, shop)).blade
    assert lent.kerf == 3.0 and lent.tip == "alternate bevel"


def test_a_complaint_about_what_the_shop_says_names_its_file(folder):
    """And one about what the scene says does not."""
    (folder / "shop.toml").write_text(SHOP.replace('"4000 rpm"', '"4 rpm"'))
    with pytest.raises(SceneError, match=r"^shop\.toml, saw\.speed: '4 rpm' is less than 10 rpm"):
        read_scene(folder / "job.toml")
    (folder / "job.toml").write_text(BARE + '\n[saw]\nspeed = "3 rpm"\n')
    with pytest.raises(SceneError, match=r"^saw\.speed: '3 rpm'"):
        read_scene(folder / "job.toml")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[stock]\nlength = "1 m"\n', "shop.toml, stock: a shop has no such table"),
        ('[order]\nlengths = ["1 m"]\n', "shop.toml, order.lengths: this belongs to a job"),
        ('saw = "mine"\n', "shop.toml, saw: this is not what belongs here"),
        ("[saw\n", "shop.toml, line 1"),
    ],
)
def test_a_shop_that_cannot_be_is_refused_by_its_name(folder, text, says):
    """In one sentence."""
    (folder / "shop.toml").write_text(text)
    with pytest.raises(SceneError, match=says.replace(".", r"\.")):
        read_scene(folder / "job.toml")


def test_boards_of_the_shop_go_to_who_orders_something(tmp_path):
    """And to nobody else."""
    (tmp_path / "shop.toml").write_text('[order]\nboards = ["2.4 m"]\nboard_width = "200 mm"\n')
    (tmp_path / "job.toml").write_text(TEXT + '\n[order]\nlengths = ["500 mm"]\n')
    assert read_scene(tmp_path / "job.toml").order.boards == (2400.0,)
    (tmp_path / "job.toml").write_text(TEXT)
    assert read_scene(tmp_path / "job.toml").order is None
    assert shop_in(tmp_path / "elsewhere") == {}
    assert scene_from(tomllib.loads(TEXT)) == read_scene(CORNICE)


@pytest.mark.parametrize("text", ['units = "cubits"', "[setup]", "blades = 3", '[order]\nlengths = ["1 m"]'])
def test_a_shop_of_another_name_is_refused_by_that_name(tmp_path, text):
    """Whatever cannot stand in it, the file that was given is the one to be mended."""
    (tmp_path / "mine.toml").write_text(text)

    with pytest.raises(SceneError) as refused:
        shop_at(tmp_path / "mine.toml")
    assert refused.value.field.startswith("mine.toml, ")
