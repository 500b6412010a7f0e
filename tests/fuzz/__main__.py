"""Looks for what the program does not bear: `python -m tests.fuzz --minutes 30 [--seed N]`.

Each find is printed once for its kind, with a folder that holds all of it; `python -m tests.fuzz --again FOLDER` tries
that one again. It ends by the clock; exit status 0 nothing found, 1 something.
"""

# ruff: noqa: T201

from __future__ import annotations

import argparse
import itertools
import tempfile
import time
from collections import Counter
from pathlib import Path

from .case import case_of, random_case
from .hunt import LIMIT, hunt


def main() -> int:
    """Parse, hunt, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--seed", type=int, default=int(time.time()) * 1000, help="of the first case; others count on")
    parser.add_argument("--limit", type=float, default=LIMIT, help="longest that a case may take, s")
    parser.add_argument("--again", type=Path, help="a folder that an earlier run kept")
    asked = parser.parse_args()
    if asked.again:
        (found,) = hunt([case_of((asked.again / "case.json").read_text())], asked.limit)
        print(found.what if found else "nothing is found any more")
        return 1 if found else 0
    return _search(asked.seed, time.monotonic() + 60 * asked.minutes, asked.limit)


def _search(seed: int, until: float, limit: float) -> int:
    keep, kinds, tried = Path(tempfile.mkdtemp(prefix="sweep-finds-")), Counter(), 0
    print(f"seeds from {seed}; finds are kept in {keep}", flush=True)
    for found in hunt(map(random_case, itertools.count(seed)), limit):
        tried += 1
        if found:
            kinds[found.kind] += 1
            if kinds[found.kind] == 1:
                print(f"{found.kind}\n    {found.keep(keep)}", flush=True)
        if time.monotonic() > until:
            break
    print(f"{tried} cases, {kinds.total()} finds of {len(kinds)} kinds")
    for kind, count in kinds.most_common():
        print(f"{count:6} {kind}")
    return 1 if kinds else 0


if __name__ == "__main__":
    raise SystemExit(main())
