"""The door to the terminal: whatever is printed passes here, and words are taken as words."""

from __future__ import annotations

from typing import Any

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from sweep.words import visible


class Terminal(Console):
    """A console on which square brackets are square brackets.

    Notes
    -----
    No markup and no emoji codes are read in what is printed, control characters are made visible, and letters that
    the terminal's encoding lacks become question marks. A line end is kept: the headings of tables have two lines.
    """

    def print(self, *objects: Any, soft_wrap: bool | None = None, **how: Any) -> None:
        """Print; on a terminal sentences are broken between words. Tables, and what is sent elsewhere, are not.

        Nor is what holds a word longer than a line: it would be broken within the word.
        """
        if soft_wrap is None and self.is_terminal and all(map(self._breaks_between_words, objects)):
            soft_wrap = False
        super().print(*objects, soft_wrap=soft_wrap, **how)

    def _breaks_between_words(self, one: object) -> bool:
        return isinstance(one, str) and all(
            cell_len(visible(word, self.encoding)) <= self.width for word in one.split()
        )

    def render_str(self, text: str, **how: Any) -> Text:
        """Return words as they are laid out; every string that is printed or stands in a table comes here."""
        lines = [visible(line, self.encoding) for line in text.split("\n")]
        return super().render_str("\n".join(lines), **how)


def terminal() -> Terminal:
    """Return the console for what a command says."""
    return Terminal(soft_wrap=True, markup=False, emoji=False, highlight=False)


def aside() -> Terminal:
    """Return the console for what is said while a command works, on standard error."""
    return Terminal(stderr=True, markup=False, emoji=False, highlight=False)
