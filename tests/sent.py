"""What a page that is sent holds, unpacked as a browser does it."""

from __future__ import annotations

import base64
import gzip
import json
import re
from pathlib import Path
from typing import Any

DATA = re.compile(r'<script type="application/gzip" id="data">(.*?)</script>', re.DOTALL)


def packed_in(text: str) -> str:
    """Return the data of a page as it stands in its text."""
    return DATA.search(text)[1]


def held_in(path: Path) -> dict[str, Any]:
    """Return the data of a page."""
    return json.loads(gzip.decompress(base64.b64decode(packed_in(path.read_text("utf-8")))))
