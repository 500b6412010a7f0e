"""A scene as it stood when a page of it was opened."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Opened:
    """A scene as a page opened it: what the page's changes are laid over.

    Parameters
    ----------
    path : Path
        Of its file.
    text : str
        As it stands in the file.
    whole : str
        The same with nothing left out.
    """

    path: Path
    text: str
    whole: str

    @property
    def version(self) -> str:
        """A digest of the text, by which pages name it."""
        return hashlib.sha256(self.text.encode()).hexdigest()[:16]
