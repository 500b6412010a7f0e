"""What a page is refused is told as its field was typed, or else in the units that the page shows."""

from __future__ import annotations

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
        ("mm", "setup.blade_height", "9 in", "9 in would bring .* Write less than 5 in"),
        ("in", "setup.blade_height", "220 mm", "220 mm would bring .* Write less than 127 mm"),
        ("in", "setup.fence_angle", "120 deg", "'120 deg' is more than 90 deg"),
    ],
)
def test_a_page_is_refused_in_the_notation_that_was_typed(units, key, typed, says):
    """Whatever the file and the page are in: the blade's radius is 127 mm, 5 in."""
    now = answers.opened(CORNICE, None)
    edits = [Edit(path=key, value=typed)]
    asked = {"version": "", "units": units, "changes": {}, "edits": edits}
    answer = answers.cut(now, PageRequest.model_validate(asked))
    (refused,) = json.loads(answer)["state"]["refused"]

    assert refused["path"] == key
    assert re.match(says, refused["sentence"])
