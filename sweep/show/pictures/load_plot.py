"""`load.png`: the load of every pass against each limit, and which way the forces act, seen from above."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np

from sweep.check.limits import HOLDS_OFF
from sweep.show.draw.colours import SLOT, hexed
from sweep.show.draw.entering import entering_drawing
from sweep.show.draw.forces import arrow_of, force_arrows, forces_drawing
from sweep.show.draw.legend import bar, legend, swatch
from sweep.show.draw.paint_png import Painted, write_png
from sweep.show.draw.saw_from_above import blade_at_table
from sweep.show.draw.shares import shares_drawing
from sweep.show.draw.sketch import Part
from sweep.show.pictures.layout import HEADING, MARGIN, MM, SMALL, foot, head, laid, laid_out, line
from sweep.show.say.cautions import LINE as CAUTION
from sweep.show.say.fence import fence_in_short, fence_stands
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.units import FORCE, degrees

WIDTH, HEIGHT = 1800, 1700
"""Pixels."""

FOOT = f"Estimates: wood and edges scatter; checked against no measurement of an oblique cut. {CAUTION}"

_TOP, _RIGHT, _SPLIT = 190, 1080, 1000  # of both parts; the left edge of the right one, the right edge of the left one
_PLAN, _ENTERING = 560, 250  # heights of the plan and of the forces at the ends


def load_picture(report: Report) -> Painted:
    """Return `load.png`."""
    scene = report.scene
    facts = f"{fence_in_short(scene)}   ·   blade tilted {degrees(scene.tilt):.2f}°".replace("-", "\N{MINUS SIGN}")
    species = "" if scene.stock.species == "unknown" else f"{scene.stock.species[:30]}   ·   "
    shares = shares_drawing(report.job, report.units, (_SPLIT - MARGIN) / MM, (HEIGHT - _TOP - 90) / MM)
    drawn = laid_out(
        WIDTH,
        HEIGHT,
        head(title_of(scene, 60), species + facts),
        [line("share of each limit, by pass", MARGIN, _TOP - 10, HEADING)],
        laid(shares, MARGIN, _TOP + 16),
        _plan(report),
        foot(WIDTH, HEIGHT, FOOT),
    )
    return Painted(drawn)


def write_loads(path: Path, report: Report) -> None:
    """Draw `load.png`."""
    write_png(path, load_picture(report))


def _plan(report: Report) -> list[Part]:
    """Return stock, fence and blade from above with the forces of the heaviest pass, and what each is."""
    scene, loads, units = report.scene, report.job.loads, report.units
    left, right = _RIGHT, WIDTH - MARGIN
    heaviest = max(range(len(loads)), key=lambda k: loads[k].power or 0.0)
    load = loads[heaviest]
    arrows = force_arrows(scene, load, units)
    drawn = forces_drawing(scene, arrows, units, (right - left) / MM, _PLAN / MM)
    entries = [
        (swatch("wood", "faint"), f"stock, {units.length(scene.stock.width)} wide"),
        (swatch("fence"), f"fence, {fence_stands(scene)}"),
        (bar(hexed(SLOT), 0.9), f"blade, {units.nearest(blade_at_table(scene))} at the table"),
    ]
    below = _TOP + 830
    parts = [
        line("from above; the table is not to scale", left, _TOP - 10, HEADING),
        line("y, away from the operator  ↑", (left + right) / 2, _TOP + 30, SMALL, "centre", colour="faint"),
        *laid(drawn, left, _TOP + 48),
        line("operator's side", (left + right) / 2, _TOP + 640, anchor="centre", bold=True),
        line("x  →", right, _TOP + 640, SMALL, "right", colour="faint"),
        *legend(entries, left / MM, (_TOP + 740) / MM, 0.0, SMALL),
        line("↓  teeth at the top run towards the operator", left, below, colour="faint"),
    ]
    if load.usual is None:
        return [
            *parts,
            line("no force constants known for", left, below + 60, HEADING),
            line(scene.stock.species[:30], left, below + 100, HEADING, bold=True),
        ]
    parts.append(line(f"usual (low to high) in pass {heaviest + 1}, the one of most power", left, below + 62))
    lift = arrow_of(np.zeros(3), load, "lift", ("lift, off the table", "down, onto the table"), -math.inf)
    for k, (letter, arrow) in enumerate(zip("ABC\N{EN DASH}", (*arrows, lift), strict=True)):
        level, colour = below + 110 + 44 * k, "alarm" if arrow.alarm else "ink"
        parts.append(line(letter, left, level, bold=True, colour=colour))
        parts.append(line(arrow.label(units), left + 34, level, bold=arrow.alarm, colour=colour))
    usual = [load.usual for load in loads]
    off = [k for k, forces in enumerate(usual, start=1) if forces is not None and forces.fence < -HOLDS_OFF]
    if off:
        note = "off the fence" + ("" if arrows[1].alarm else f" in pass {off[0]}") + ": second guide needed"
        parts.append(line(note, left + 34, below + 286, bold=True, colour="alarm"))
    if report.job.ends[heaviest]:
        said = f"pass {heaviest + 1} as the blade enters and leaves, usual, {units.unit(FORCE)}"
        ends = entering_drawing(
            report.job.ends[heaviest], report.job.fineness.ends, units, (right - left) / MM, _ENTERING / MM
        )
        parts += [line(said, left, below + 334), *laid(ends, left, below + 354)]
    return parts
