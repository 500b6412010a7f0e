"""Why something is not taken, in words that stand beside a field: no names of keys, no brackets."""

from __future__ import annotations

import re

from sweep.errors import SceneError, SweepError

_TABLE = re.compile(r"\[\[?([a-z]+)\]?\]")
_PAIRS = re.compile(r"\[\[([a-z], [a-z])\], \.\.\.\]")
_CALLED = {"target": "the marks", "setup": "the set-up", "setups": "the set-ups", "finish": "what follows the cove"}
_WRITTEN = re.compile(r"\b[a-z_]+ = (?=[\"\[])")
_SECTIONS = "stock|blade|saw|setup|setups|fence|passes|plan|finish|target|limits|accuracy|order|panel|sanding"


def in_words(wrong: SweepError, inches: bool) -> str:
    """Return a complaint in two sentences: what is wrong, and what to write instead.

    Examples
    --------
    >>> in_words(SceneError("setup.fence_angle", "'96 deg' is more than 90 deg", "write at most that"), False)
    "'96 deg' is more than 90 deg. Write at most that."
    >>> in_words(SceneError("saw.lift_per_turn", "it is missing", "plan.turn needs to know setup.blade_height"), False)
    'It is missing. Turn needs to know blade height.'
    """
    if not isinstance(wrong, SceneError):
        return _begun(str(wrong))
    parts = [without_keys(part.said(inches)) for part in (wrong.problem, wrong.remedy)]
    if parts[-1].startswith("the README"):
        parts[-1] = "write it in its field"
    return " ".join(f"{_begun(part)}." for part in parts)


def without_keys(words: str) -> str:
    """Return words without names of keys as a file has them.

    Examples
    --------
    >>> without_keys("which of [[setups]], after plan.most_setups; `wood_above` with [[y, z], ...]")
    'which of the set-ups, after most setups; wood above with y, z for each point'
    """
    words = _PAIRS.sub(r"\1 for each point", words)
    words = _WRITTEN.sub("", _TABLE.sub(lambda table: _CALLED.get(table[1], f"the {table[1]}"), words))
    words = re.sub(rf"\b(?:{_SECTIONS})\.([a-z]+(?:_[a-z]+)*)\b", lambda key: key[1].replace("_", " "), words)
    return re.sub(r"\b[a-z]+(?:_[a-z]+)+\b", lambda key: key[0].replace("_", " "), words).replace("`", "")


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]
