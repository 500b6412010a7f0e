"""What a page that is sent holds, unpacked as a browser does it."""

from __future__ import annotations

import base64
import gzip
import json
import re
from pathlib import Path
from typing import Any

from sweep.show.page.model import opening_model, page_model
from sweep.show.say.report import Report

DATA = re.compile(r'<script type="application/gzip" id="data">(.*?)</script>', re.DOTALL)


def as_sent(report: Report) -> dict[str, Any]:
    """Return what a page shows that is sent, but for the stock in the middle of passes, most of a page's work.

    It stands there only where the page opens.
    """
    return {"model": page_model(report) | {"stretches": opening_model(report)}, "settings": [], "live": None}


def packed_in(text: str) -> str:
    """Return the data of a page as it stands in its text."""
    return DATA.search(text)[1]


def held_in(path: Path) -> dict[str, Any]:
    """Return the data of a page."""
    return json.loads(gzip.decompress(base64.b64decode(packed_in(path.read_text("utf-8")))))
