"""Words that somebody in a hurry could read as permission to cut: none of them stands in what is said at the saw."""

from __future__ import annotations

import re

PERMISSION = re.compile(
    r"\b(ready|go ahead|go|safe|safely|ok|okay|all clear|all good|proceed|permitted|allowed|may cut|can cut|cut now|"
    r"start cutting|good to|well done|correct|passed)\b",
    re.IGNORECASE,
)
"""Whole words."""

REFUSING = re.compile(
    r"too (short|narrow|thin) to (pass safely|be held)|not safe|safely like this|do not go on|without letting go|"
    r"not permission"
)
"""Where such a word stands in a refusal."""


def permission_in(text: str) -> str | None:
    """Return the first such word in a text, or None."""
    found = PERMISSION.search(REFUSING.sub("", text))
    return None if found is None else found[0]
