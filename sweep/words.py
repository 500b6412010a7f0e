"""Words that others wrote: which letters a scene takes, and how the rest is shown where it turns up all the same."""

from __future__ import annotations

import re

from sweep.errors import UnusableError

UNFIT = re.compile(
    "["
    "\x00-\x1f\x7f-\x9f"  # control characters, line ends among them: a terminal obeys them
    "\u2028\u2029"  # line and paragraph separators
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # turn the direction of writing, and so what a line seems to say
    "\ud800-\udfff"  # halves of a letter: bytes in a file's name that are no text
    "\ufdd0-\ufdef\ufffe\uffff"  # no letters at all; XML refuses the last two
    "]"
)
"""Characters that are not words. Those of no width that scripts and emoji need are not among them."""


def visible(text: str, encoding: str = "utf-8") -> str:
    r"""Return words on one line with nothing in them that is obeyed rather than seen.

    Parameters
    ----------
    text : str
        From anywhere: a title, the name of a file, a complaint of a library.
    encoding : str
        Of the place where they are shown; a letter that it lacks becomes a question mark.

    Examples
    --------
    >>> visible("oak\x1b[31m\n")
    'oak\\x1b[31m\\n'
    """
    shown = UNFIT.sub(lambda letter: letter[0].encode("unicode_escape").decode("ascii"), text)
    return shown.encode(encoding, "replace").decode(encoding)


def fit(text: str) -> str:
    """Return a scene's words as they are.

    Raises
    ------
    UnusableError
        Where they hold a character that is none, or a line end.
    """
    found = UNFIT.search(text)
    if found is not None:
        raise UnusableError(
            f"its character number {found.start() + 1} is U+{ord(found[0]):04X}, which is not written but obeyed",
            "write letters, digits and signs on one line",
        )
    return text
