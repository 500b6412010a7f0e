"""Drawers of small profiles that are soon worked out, and an executor that does it at once."""

from __future__ import annotations

from concurrent.futures import Executor, Future
from contextlib import contextmanager
from pathlib import Path

SHOP = """[saw]
speed = "4000 rpm"
[[blades]]
name = "10 in"
teeth = 40
diameter = "10 in"
kerf = "1/8 in"
[[blades]]
name = "thin"
teeth = 60
diameter = "190 mm"
kerf = "2.4 mm"
"""

COVE = """[stock]
length = "300 mm"
width = "60 mm"
thickness = "20 mm"
[target]
shape = "cove"
width = "{width} mm"
depth = "{depth} mm"
"""


def drawer(folder: Path, coves: int) -> Path:
    """Make a folder of a shop and so many plain coves, all different; return it."""
    folder.mkdir(parents=True)
    (folder / "shop.toml").write_text(SHOP)
    for number in range(coves):
        (folder / f"cove-{number}.toml").write_text(COVE.format(width=24 + number, depth=2 + number / 10))
    return folder


class AtOnce(Executor):
    """Does everything in this process, when it is asked."""

    def submit(self, work, /, *given, **more):
        """Return a future that is done."""
        future = Future()
        try:
            future.set_result(work(*given, **more))
        except Exception as wrong:
            future.set_exception(wrong)
        return future


@contextmanager
def at_once():
    """Give it as `work.worked_out` wants it."""
    yield AtOnce(), 1
