"""What a page changed and what another hand saved meanwhile, side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.scene.changes import differences
from sweep.scene.places import Tables, value_at
from sweep.scene.typed import as_typed
from sweep.show.page.fields import label_of, words_of
from sweep.show.page.template import filled


@dataclass(frozen=True)
class ValueOfBoth:
    """One value before, in the file now and on the page, in words; and whether two hands changed it otherwise."""

    words: str
    before: str
    file: str
    mine: str
    both: bool


def side_by_side(before: Tables, file: Tables, mine: Tables) -> list[ValueOfBoth]:
    """Return every value that is another in the file or on the page than in the text that both came from."""
    theirs, own = differences(before, file), differences(before, mine)
    rows = []
    for path in [*theirs, *(path for path in own if path not in theirs)]:
        here, there = value_at(mine, path), value_at(file, path)
        both = path in theirs and path in own and here != there
        rows.append(ValueOfBoth(words_of(path), _told(value_at(before, path)), _told(there), _told(here), both))
    return rows


def side_by_side_text(before: Tables, file: Tables, mine: Tables) -> str:
    """Return the same as HTML."""
    return filled("both.html", rows=side_by_side(before, file, mine))


def _told(value: Any) -> str:
    """Return a value in words; of a table its keys, one after the other."""
    if isinstance(value, dict):
        return ", ".join(f"{label_of(name)} {_told(one)}" for name, one in value.items())
    if isinstance(value, list) and any(isinstance(one, dict) for one in value):
        return "; ".join(map(_told, value))
    return as_typed(value).replace("\n", ", ") or "nothing"
