"""Questions put on the terminal, one by one; each answer is checked at once, and asked again until it is right.

All of them end with the user: at the end of the input, or with Ctrl+C, `click` aborts the command.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import click

from sweep.errors import SceneError
from sweep.words import visible

Answer = TypeVar("Answer")


def asked(words: str, read: Callable[[str], Answer], default: str | None = None) -> Answer:
    """Return the answer to a question.

    Parameters
    ----------
    words : str
    read : function
        From what was typed to the answer; a SceneError of it is shown, and the question asked again.
    default : str or None
        What Enter alone stands for, shown unless it is empty; None where there must be an answer.
    """

    def checked(text: str) -> Answer:
        try:
            return read(text)
        except SceneError as wrong:
            raise click.BadParameter(visible(str(wrong))) from None

    answer: Answer = click.prompt(words, default=default, show_default=bool(default), value_proc=checked)
    return answer


def say(sentence: str) -> None:
    """Print a sentence between questions."""
    click.echo(visible(sentence))
