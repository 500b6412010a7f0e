"""The door to the library of templates: words are put into the page's HTML as words."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined

LAGGING = "As it was before this move; it follows once you let go."
"""Stands beside all of a page that is not worked out anew while a slider is held."""


def part(name: str) -> str:
    """Return one of the page's parts as it is written."""
    return (files("sweep.show.page") / "parts" / name).read_text("utf-8")


def filled(name: str, /, **words: Any) -> str:
    """Return a template of `parts/` with words in its places; whatever a user wrote in them is escaped."""
    return _environment().get_template(name).render(lagging=LAGGING, **words)


@cache
def _environment() -> Environment:
    names = [file.name for file in (files("sweep.show.page") / "parts").iterdir() if file.name.endswith(".html")]
    return Environment(
        loader=DictLoader({name: part(name) for name in names}),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
