"""The forms of the page: every key that a scene can hold, told as everywhere, and what a user wrote stays words."""

from __future__ import annotations

import re
import tomllib
from html.parser import HTMLParser
from pathlib import Path

import pytest
from demos import CORNICE, SCENES
from hostile import TOGETHER

from sweep.live import answers
from sweep.live.asked import PageRequest
from sweep.live.standing import forms_of, stand
from sweep.scene.documented import documented_keys
from sweep.scene.edits import Edit
from sweep.show.page.refusals import in_words
from sweep.tolerance import AS_DRAGGED


class Elements(HTMLParser):
    """Every element of some HTML with its attributes, and all its words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict]] = []
        self.words: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.words.append(data)

    def paths(self) -> set[str]:
        """The paths that can be typed or chosen at."""
        return {
            at["data-path"] for tag, at in self.found if tag in ("input", "select", "textarea") and "data-path" in at
        }


def forms(scene: Path, *edits: Edit) -> Elements:
    """The forms of a scene with some edits."""
    now = answers.opened(scene, None)
    trial, units = stand(now, {}, edits, AS_DRAGGED, None)
    return Elements(forms_of(now, trial, units))


OPERATIONS = ("rip", "round over", "chamfer", "bevel", "rabbet", "cove")
EVERYTHING = [
    Edit(path="target", do="set", value={"shape": "cove", "shoulders": "15.6 mm", "wood_above": "6.5 mm"}),
    *[
        Edit(path="finish", do="add", value=kind)
        for kind in ("rip", "round over", "chamfer", "bevel", "rabbet", "cove")
    ],
]


def keys_told(shown: Elements) -> list[str]:
    """What is read or heard on forms in which a key stands as a file has it: by its path, with `_` or in brackets."""
    paths = "|".join(re.escape(key.path) for key in documented_keys() if key.section)
    as_in_a_file = re.compile(rf"\[\[?[a-z]|[a-z]_[a-z]|[`{{}}]|\b(?:{paths})\b")
    heard = (at.get(part) or "" for _, at in shown.found for part in ("placeholder", "aria-label"))
    return [one for one in (*shown.words, *heard) if as_in_a_file.search(one)]


def test_every_key_of_a_scene_can_be_edited_and_is_told_in_words():
    """Each has its field; a kind of target or blade hides what goes with others; no name of a key stands anywhere."""
    shown: set[str] = set()
    points = Edit(path="target", do="set", value={"shape": "points", "points": [[-20, 0], [0, 9], [20, 0]]})
    profile = {"profile": [[-6, 60], [0, 66], [6, 60]], "teeth": 4}
    for edits in ([], EVERYTHING, [points], [Edit(path="blade", do="set", value=profile)]):
        found = forms(CORNICE, *edits)
        assert keys_told(found) == []
        shown |= found.paths()
    shown |= forms(SCENES / "arc-from-drawing.toml").paths()
    several = forms(CORNICE, *(Edit(path="setups", do="add", value=kind) for kind in ("cove", "rip", "rabbet")))
    assert keys_told(several) == []
    of_setups = {path for path in several.paths() if path.startswith("setups.")}
    own = {path for path in of_setups if len(path.split(".")) > 3}  # passes and fence, with the keys of the scene's own
    assert {path.split(".", 2)[2] for path in own if not path.split(".")[-1].isdecimal()} == {
        *(f"passes.{name}" for name in ("feed_speed", "last_feed_speed", "stop")),
        *(key.path for key in documented_keys() if key.section == "fence"),
    }
    shown |= of_setups - own
    named = {".".join(part for part in path.split(".") if not part.isdecimal()) for path in shown}
    named |= {f"blade.{name.partition('.')[2]}" for name in named if name.startswith("blades.")}
    of_kind = {"finish.do", "blades", "setups.passes", "setups.fence"}
    wanted = {key.path for key in documented_keys()} - of_kind

    assert wanted - named == {"setups.blade"}  # where there are several to choose from
    assert named - wanted == {name for name in named if name.startswith("blades.")}


def test_a_field_says_what_holds_where_nothing_is_written_and_how_it_differs_from_the_file():
    """The default in the scene's own notation, and what the file has."""
    found = {at["id"]: at for tag, at in forms(SCENES / "picture-rail.toml").found if tag == "input" and "id" in at}
    assert found["limits-rise"]["placeholder"] == "1/8 in"
    assert found["order-handling"]["placeholder"] == "20 s"
    assert found["setup-blade_height"]["value"] == "3/8 in"
    metric = {at["id"]: at for tag, at in forms(CORNICE).found if tag == "input" and "id" in at}
    assert metric["limits-rise"]["placeholder"] == "3.2 mm"

    changed = forms(CORNICE, Edit(path="stock.width", value="90"))
    assert any("file: 92 mm" in words for words in changed.words)
    assert any("1 changed" in words for words in changed.words)


def test_what_a_user_types_stays_words():
    """Taken or refused, in a field, in a refusal, in a list of changes: no element comes of it."""
    scene = SCENES / "picture-rail.toml"
    paths = ("title", "stock.species", "setup.offset", "blade.name", "finish.0.radius")
    tags = {tag for tag, _ in forms(scene, *(Edit(path=path, value="plain") for path in paths)).found}
    for words in TOGETHER:
        found = forms(scene, *(Edit(path=path, value=words) for path in paths))
        told = "".join([*found.words, *(at.get("value") or "" for _, at in found.found)])
        assert words in told
        assert not [tag for tag, at in found.found if any(name.startswith("on") for name in at)]
        assert {tag for tag, _ in found.found} <= {*tags, "option", "textarea"}


def test_a_finishing_operation_that_fails_leaves_the_cove_shown_and_the_other_edits_made():
    """Up to that one, with its sentence in its place, in a file and in an edit."""
    now = answers.opened(CORNICE, None)
    edits = [Edit(path="finish", do="add", value="chamfer"), Edit(path="finish", do="add", value="rip")]
    edits += [Edit(path="finish.1.piece", value="7"), Edit(path="setup.offset", value="2")]
    trial, units = stand(now, {}, edits, AS_DRAGGED, None)

    assert trial.refused == ()
    assert [one.operation.do for one in trial.made.report.job.finishing] == ["chamfer"]
    assert len(trial.data["finish"]) == 2
    assert trial.made.failing is not None
    sentence = in_words(trial.made.failing, inches=False)
    assert any(sentence in words for words in Elements(forms_of(now, trial, units)).words)


@pytest.mark.parametrize(
    ("edits", "drawn"), [([], 5), ([("finish.3.radius", "40")], 3), ([("finish.1.piece", "7")], 1)]
)
def test_each_operation_that_can_be_done_is_drawn_in_its_form_and_told(edits, drawn):
    """One that fails, and those after it, are not."""
    shown = forms(SCENES / "cornice-to-fit.toml", *(Edit(path=path, value=value) for path, value in edits))
    drawings = [at["aria-label"] for tag, at in shown.found if tag == "svg"]

    assert drawings.count("What this takes of the section") == drawn
    assert any("blade tilted 45.00 deg away from the fence" in words for words in shown.words)


@pytest.mark.usefixtures("coarse_pages")
def test_a_page_of_every_demo_scene_can_be_changed_and_changed_back():
    """The same text comes out as went in."""
    for scene in sorted(SCENES.glob("*.toml")):
        now = answers.opened(scene, None)
        there = PageRequest.model_validate({"version": "", "units": "mm", "changes": {"title": "Another"}})
        back = PageRequest.model_validate({"version": "", "units": "mm", "changes": {}})
        revised = answers.revised(now, there)
        assert tomllib.loads(revised)["title"] == "Another"
        assert answers.revised(now, back) == now.whole
        comments = [line[line.index("#") :] for line in now.text.splitlines() if "#" in line]
        assert [one for one in comments if one not in revised] == []
