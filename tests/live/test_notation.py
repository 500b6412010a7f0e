"""What a page is refused is told as its field was typed, or else in the units that the page shows."""

from __future__ import annotations

import html
import json
import re

import pytest
from demos import CORNICE

from sweep.live import answers
from sweep.live.asked import PageRequest
from sweep.scene.edits import Edit


@pytest.mark.parametrize(
    ("units", "key", "typed", "says"),
    [
        ("in", "setups.2.depth", "9 in", "9 in would bring .* Write less than 5 in"),
        ("mm", "setups.2.depth", "9 in", "9 in would bring .* Write less than 5 in"),
        ("mm", "setup.blade_height", "9 in", "9 in would bring .* Write less than 5 in"),
        ("in", "setup.blade_height", "220 mm", "220 mm would bring .* Write less than 127 mm"),
        ("in", "setup.fence_angle", "120 deg", "'120 deg' is more than 90 deg"),
    ],
)
def test_a_page_is_refused_in_the_notation_that_was_typed(units, key, typed, says):
    """Whatever the file and the page are in: the blade's radius is 127 mm, 5 in."""
    now = answers.opened(CORNICE.with_name("base-of-two-coves.toml") if "setups" in key else CORNICE, None)
    edits = [Edit(path=key, value=typed)]
    asked = {"version": "", "units": units, "changes": {}, "edits": edits, "pass": 1}  # of one moment: cut coarsely
    answer = answers.cut(now, PageRequest.model_validate(asked))
    (refused,) = json.loads(answer)["state"]["refused"]

    assert refused["path"] == key
    assert re.match(says, refused["sentence"])


WRONG = [
    ("setup.blade_height", "5/0 in", "divides by zero"),
    ("blade.kerf", "900 mm", "is more than 200 mm"),
    ("passes.feed_speed", "2 kg", "has the unit 'kg'"),
    ("stock.thickness", "12 mm", "comes out through the top"),
]


def test_each_wrong_text_is_told_at_its_own_field_in_words():
    """All of them at once, and none by the name of a key."""
    now = answers.opened(CORNICE, None)
    edits = [{"path": path, "do": "type", "value": text} for path, text, _ in WRONG]
    answer = answers.cut(now, PageRequest.model_validate({"version": "", "units": "mm", "changes": {}, "edits": edits}))
    forms = json.loads(answer)["forms"]
    for path, _, says in WRONG:
        field = path.replace(".", "-")
        note = re.search(rf'id="{field}-note">\s*<span class="refused">([^<]*)<', forms)[1]
        assert says in html.unescape(note), path
        assert "_" not in note
