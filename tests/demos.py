"""The demo scenes, and the cornice, of which most single cases are made by changing a value or two."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

SCENES = Path(__file__).parents[1] / "scenes"
SEVERAL = sorted(
    path.stem
    for path in SCENES.glob("*.toml")
    if any(words in path.read_text() for words in ("[[setups]]", "whole = true"))
)
"""Those of several set-ups over one blank, written or to be found."""

DEMOS = sorted({path.stem for path in SCENES.glob("*.toml")} - set(SEVERAL))
"""Those of one set-up."""

CORNICE = SCENES / "corner-cupboard-cornice.toml"


def cornice_with(**sections: Any) -> dict[str, Any]:
    """Return the cornice as tables, with sections changed key by key; None leaves a key or a section out."""
    tables = tomllib.loads(CORNICE.read_text())
    for name, values in sections.items():
        if isinstance(values, dict):
            values = {key: value for key, value in (tables.get(name, {}) | values).items() if value is not None}
        tables[name] = values
    return {name: values for name, values in tables.items() if values is not None}


def cornice_in_passes(*heights: str) -> str:
    """Return the text of the cornice with other passes: few tell as much as eight, and are cut in half the time."""
    return re.sub(r"^heights = .*$", f"heights = {json.dumps(heights)}", CORNICE.read_text(), flags=re.MULTILINE)
