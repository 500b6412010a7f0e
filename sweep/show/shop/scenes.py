"""A scene for each profile, which `sweep run` cuts as it stands: the shop's saw and the blade found are in it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from sweep.shop.row import Answer
from sweep.show.say.shop import scene_of


def scene_files(answers: Iterable[Answer]) -> dict[str, str]:
    """Return the name of each profile's scene, in the order of the profiles; none where nothing was found.

    Names hold letters, figures, dots and hyphens only, so they are names on every system; none stands twice.
    """
    found: dict[str, str] = {}
    taken: set[str] = set()
    for answer in answers:
        if answer.scene:
            stem = re.sub(r"[^\w.-]+", "-", answer.profile.rpartition(".")[0], flags=re.ASCII).strip(".-") or "profile"
            stem, number = stem[:100], 1
            name = f"scene-{stem}.toml"
            while name.lower() in taken:  # ends: finitely many are taken
                number += 1
                name = f"scene-{stem}-{number}.toml"
            taken.add(name.lower())
            found[answer.profile] = name
    return found


def write_scenes(folder: Path, answers: Iterable[Answer], names: dict[str, str]) -> None:
    """Write the scenes.

    Raises
    ------
    OSError
    """
    for answer in answers:
        if answer.profile in names:
            (folder / names[answer.profile]).write_text(scene_of(answer), encoding="utf-8", newline="\n")
