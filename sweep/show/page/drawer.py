"""`shop.html`: all profiles of a folder on one page, drawn, to be sorted, filtered and looked at; in one file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Polyline, Row
from sweep.show.page.page import POLICY, digest, inlined
from sweep.show.page.scripts import one_script
from sweep.show.page.template import filled, part
from sweep.show.say.cautions import LINE
from sweep.show.say.shop import alike_words, blade_and_saw, scene_of
from sweep.units import Units, minutes
from sweep.words import visible

ROOM = 0.06
"""The share of a drawing's width that is left about it."""

STEPS_PER_MM = 20
"""How finely sections are drawn: a step is less than a pixel of any screen at which a page is looked at."""

FIGURES = ("fence angle", "blade height", "tilt", "offset", "deviation", "passes", "at the saw")
"""What is told of a profile and a blade, in the order of a row's figures."""

HEADS = ("profile", "section", "blade", *(name for name in FIGURES if name != "offset"), "flagged")
"""What stands above the columns of the page; that of the tilt is taken away where no blade is tilted."""

_PLACE = '"profiles":[]'
"""Where the profiles come into the data: they are written one by one, for there may be many."""


def write_drawer_page(
    path: Path,
    title: str,
    answers: Iterable[Answer],
    alike: Iterable[Alike],
    scenes: dict[str, str],
    beside: bool,
    units: Units,
) -> None:
    """Write the page.

    Parameters
    ----------
    path : Path
    title : str
        What the folder is called.
    answers : iterable of Answer
        Taken one by one.
    alike : iterable of Alike
    scenes : dict
        What the file of a profile's scene is called, by the profile's name.
    beside : bool
        Whether these files stand beside the page.
    units : Units
        In which figures are shown.
    """
    style, script = part("page.css") + part("drawer.css"), one_script("drawer", lambda name: part(f"{name}.js"))
    policy = POLICY.format(script=digest(script), style=digest(style), asks="'none'")
    told: dict[str, list[str]] = {}
    for one in alike:
        told.setdefault(one.profile, []).append(alike_words(one, one.other, units))
        if one.how == "same":
            told.setdefault(one.other, []).append(alike_words(one, one.profile, units))
    frame = {"figures": FIGURES, "beside": beside, "profiles": []}
    before, after = inlined(frame).split(_PLACE)
    page = filled(
        "drawer.html", policy=policy, caution=LINE, title=title, style=style, data="\0", script=script, heads=HEADS
    )
    head, foot = page.split("\0")
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write(f'{head}{before}"profiles":[')
        for number, answer in enumerate(answers):
            profile = _profile(answer, told.get(answer.profile, []), scenes.get(answer.profile), units)
            file.write(f"{',' if number else ''}\n{inlined(profile)}")
        file.write(f"]{after}{foot}")


def _profile(answer: Answer, alike: list[str], file: str | None, units: Units) -> dict[str, Any]:
    return {
        "name": visible(answer.profile),
        "box": _box((*answer.wanted, *answer.cut)),
        "lines": {"wanted": _line(answer.wanted), "cut": _line(answer.cut)},
        "rows": [_row(row, units) for row in answer.rows],
        "alike": alike,
        "scene": scene_of(answer),
        "file": file,
        "is": _is(answer.rows[0], alike),
    }


def _is(best: Row, alike: list[str]) -> list[str]:
    """Return among which profiles it is shown, by the values of the page's choice."""
    within, flags = best.within_tolerance, best.flags
    known = {
        "all": True,
        "within": within is True,
        "beyond": within is False,
        "flagged": bool(flags),
        "clear": within is True and flags == "",
        "alike": bool(alike),
        "without": within is None,
    }
    return [name for name, is_so in known.items() if is_so]


def _row(row: Row, units: Units) -> dict[str, Any]:
    """Return a row as it is shown, and the figures by which it is sorted; both in the order of `FIGURES`."""
    values = (
        row.fence_angle_deg,
        row.blade_height_mm,
        row.blade_tilt_deg,
        row.offset_mm,
        row.deviation_mm,
        row.passes,
        row.minutes,
    )
    return {
        "blade": visible(blade_and_saw(row)),
        "shown": list(_shown(values, units)),
        "values": values,
        "within": row.within_tolerance,
        "flags": None if row.flags is None else [flag.replace("-", " ") for flag in row.flags.split()],
        "reason": visible(row.reason),
    }


def _shown(values: tuple[float | None, ...], units: Units) -> Iterator[str]:
    for name, value in zip(FIGURES, values, strict=True):
        if value is None:
            yield ""
        elif name in ("fence angle", "tilt"):
            yield f"{value:.2f} deg"
        elif name == "deviation":
            yield units.fine(value)
        elif name == "passes":
            yield f"{value:g}"
        elif name == "at the saw":
            yield minutes(60 * value)
        else:
            yield units.length(value)


def _line(line: Polyline) -> str:
    """Return a line in hundredths of a mm as a path of SVG: where it begins, then the steps from point to point."""
    if not line:
        return ""
    points = [(0, 0), *map(_in_steps, line)]
    moves = [f"{x - a} {y - b}" for (a, b), (x, y) in pairwise(points)]
    return f"m{' '.join(moves)}".replace(" -", "-")


def _box(points: Polyline) -> str:
    """Return what of a drawing is seen: its points and its face, with room about them; empty where there are none."""
    if not points:
        return ""
    across, down = zip(*map(_in_steps, points), strict=True)
    left, right, top, bottom = min(across), max(across), min(down), max(0, *down)
    room = round(ROOM * (right - left))
    return f"{left - room} {top - room} {right - left + 2 * room} {bottom - top + 2 * room}"


def _in_steps(point: tuple[int, int]) -> tuple[int, int]:
    """Return a point in whole steps, to the right and down as SVG has it."""
    return round(point[0] * STEPS_PER_MM / 100), -round(point[1] * STEPS_PER_MM / 100)
