"""`load.png`: the load of every pass against each limit, and which way the forces act, seen from above."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.ticker import MaxNLocator

from sweep.check.limits import HOLDS_OFF
from sweep.check.shares import governing, shares_of
from sweep.cut.forces import Forces
from sweep.cut.job import Job
from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.cut.plate import rim_stiffness
from sweep.scene.model import WholeScene
from sweep.show.draw.colours import ALARM, FAINT, FENCE, INK, SLOT, STEEL, TIP, WOOD
from sweep.show.draw.forces import arrow_of, force_arrows, forces_drawing
from sweep.show.draw.paint_png import DPI, axes_at, blank, paint, save, write
from sweep.show.draw.saw_from_above import blade_at_table
from sweep.show.pictures.entering import draw_entering
from sweep.show.say.cautions import LINE
from sweep.show.say.fence import fence_in_short, fence_stands
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.units import FORCE, Units, degrees

WIDTH, HEIGHT = 1800, 1700
"""Pixels."""

CLIP = 2.5
"""The share at which the drawing ends; a triangle there says that a mark lies beyond."""

FOOT = f"Estimates: wood and edges scatter; checked against no measurement of an oblique cut. {LINE}"

_MARGIN, _TOP, _RIGHT = 60, 190, 1080  # of everything, of both parts, of the right part's left edge
_TITLE, _HEADING, _TEXT, _SMALL = 15.0, 10.5, 9.0, 8.0  # points


def bands_of(job: Job) -> list[dict[str, tuple[float, float, float]]]:
    """Return for each pass and limit the least, usual and greatest share over the band of forces, 1 at the limit."""
    scene, stiffness = job.scene, rim_stiffness(job.scene.blade)

    def shares(one: Pass, area: float, load: Load, forces: Forces | None) -> dict[str, float]:
        bent = None if forces is None or stiffness is None else abs(forces.side) / stiffness
        return shares_of(scene, one, area, replace(load, usual=forces, deflection=bent))

    bands = []
    for one, taken, load in zip(job.passes, job.sections, job.loads, strict=True):
        all_three = [shares(one, taken.area, load, forces) for forces in (load.low, load.usual, load.high)]
        bands.append({
            name: (min(s[name] for s in all_three), usual, max(s[name] for s in all_three))
            for name, usual in all_three[1].items()
        })  # fmt: skip
    return bands


def limit_labels(scene: WholeScene, units: Units) -> dict[str, str]:
    """Return each limit in words, by the name of its share."""
    limits, motor = scene.limits, (scene.saw.motor or 0.0) * scene.saw.efficiency
    return {
        "rise": f"rise, at most {units.length(limits.rise)}",
        "area": f"area, at most {units.area(limits.area)}",
        "chip": f"chip, at most {units.fine(limits.chip_thickness)} thick",
        "gullet": f"gullet, at most {_percent(limits.gullet_fill)} full",
        "push": f"push with friction, at most {units.force(limits.push)}",
        "power": f"power, at most {units.motor(motor)} at the arbor",
        "plate": f"plate, at most {units.fine(limits.side_deflection)} aside",
    }


def write_loads(path: Path, report: Report) -> None:
    """Draw `load.png`.

    Parameters
    ----------
    path : Path
    report : Report
    """
    scene = report.scene
    figure = blank(WIDTH, HEIGHT)
    write(figure, _MARGIN, 62, title_of(scene, 60), _TITLE, weight="bold")
    facts = fence_in_short(scene)
    facts += f"   ·   blade tilted {degrees(scene.tilt):.2f}°".replace("-", "\N{MINUS SIGN}")
    species = "" if scene.stock.species == "unknown" else f"{scene.stock.species[:30]}   ·   "
    write(figure, _MARGIN, 118, species + facts, _TEXT, color=FAINT)
    _draw_shares(figure, report)
    _draw_plan(figure, report)
    write(figure, WIDTH / 2, HEIGHT - 44, FOOT, _SMALL, ha="center", color=FAINT, style="italic")
    save(figure, path)


def _draw_shares(figure: Figure, report: Report) -> None:
    """Draw one row for each limit, all to one scale: a dot a pass, with the band of the forces."""
    bands, labels = bands_of(report.job), limit_labels(report.scene, report.units)
    governs = [governing({name: usual for name, (_, usual, _) in band.items()}) for band in bands]
    count, names = len(bands), list(bands[0])
    top = min(CLIP, 1.1 * max(1.0, *(band[name][2] for band in bands for name in names)))
    left, width = _MARGIN + 76, _RIGHT - _MARGIN - 190
    row = (HEIGHT - _TOP - 230) / len(names)
    dot = min(5.0, 0.75 * width / count * 72 / DPI)
    write(figure, _MARGIN, _TOP - 10, "share of each limit, by pass", _HEADING)
    for k, name in enumerate(names):
        above = _TOP + 24 + k * row
        axes = axes_at(figure, left, above + 36, width, row - 48)
        shares = np.array([band[name] for band in bands])
        for number, (low, usual, high) in enumerate(shares, start=1):
            colour = ALARM if usual > 1 else INK
            look: dict[str, Any] = {"color": colour, "clip_on": False}
            if high > low:
                axes.plot([number] * 2, np.minimum([low, high], top), lw=max(0.6, 0.36 * dot), alpha=0.35, **look)
            if min(low, top) < high and high > top:
                axes.plot([number], [top], "^", ms=0.7 * dot, mec="none", alpha=0.35, **look)
            first = governs[number - 1] == name
            shape, size = "^" if usual > top else "o", dot * (1.25 if first else 0.8)
            fill = colour if first else "white"
            axes.plot([number], [min(usual, top)], shape, ms=size, mfc=fill, mew=0.16 * dot, zorder=3, **look)
        axes.axhline(1.0, color=TIP, lw=1.2, zorder=1)
        axes.set(xlim=(0.4, count + 0.6), ylim=(0, 1.1 * top))
        axes.set_yticks([0, 1] + [2] * (top > 1.9), ["0", "100 %"] + ["200 %"] * (top > 1.9), fontsize=_SMALL)
        numbers = MaxNLocator(12, integer=True, min_n_ticks=1).tick_values(1, count)
        axes.set_xticks([number for number in numbers if 1 <= number <= count])
        axes.tick_params(length=3, color=FAINT, labelcolor=INK, labelsize=_SMALL, labelbottom=k + 1 == len(names))
        axes.spines[["top", "right"]].set_visible(False)
        axes.spines[["left", "bottom"]].set_color(FAINT)
        worst = int(shares[:, 1].argmax())
        most = f"most {_percent(shares[worst, 1])}, pass {worst + 1}"
        write(figure, left, above + 16, labels[name], _TEXT)
        red = {"color": ALARM, "weight": "bold"} if shares[worst, 1] > 1 else {"color": FAINT}
        write(figure, left + width, above + 16, most, _TEXT, ha="right", **red)
    handles = [
        Line2D([], [], ls="none", marker="o", ms=5.5, color=INK, label="nearest limit"),
        Line2D([], [], ls="none", marker="o", ms=4, mfc="white", color=INK, label="other limits"),
    ]
    if "push" in names:
        handles.append(Line2D([], [], lw=1.8, color=INK, alpha=0.35, label="soft, sharp to hard, dull"))
    if any(band[name][2] > top for band in bands for name in names):
        handles.append(Line2D([], [], ls="none", marker="^", ms=5, color=INK, label=f"beyond {_percent(CLIP)}"))
    write(figure, left + width / 2, HEIGHT - 164, "pass", _TEXT, ha="center")
    _legend(figure, handles, _MARGIN, HEIGHT - 112, 4)


def _draw_plan(figure: Figure, report: Report) -> None:
    """Draw stock, fence and blade from above with the forces of the heaviest pass, and say what each is."""
    scene, loads, units = report.scene, report.job.loads, report.units
    left, middle = _RIGHT, (_RIGHT + WIDTH - _MARGIN) / 2
    heaviest = max(range(len(loads)), key=lambda k: loads[k].power or 0.0)
    load = loads[heaviest]
    arrows = force_arrows(scene, load, units)
    mm = DPI / 25.4
    drawn = forces_drawing(scene, arrows, units, (WIDTH - _MARGIN - left) / mm, 560 / mm)
    paint(figure, drawn, left, _TOP + 48, mm)
    write(figure, left, _TOP - 10, "from above; the table is not to scale", _HEADING)
    write(figure, middle, _TOP + 30, "y, away from the operator  ↑", _SMALL, ha="center", color=FAINT)
    write(figure, middle, _TOP + 636, "operator's side", _TEXT, ha="center", weight="bold")
    write(figure, WIDTH - _MARGIN, _TOP + 636, "x  →", _SMALL, ha="right", color=FAINT)
    handles = [
        Patch(fc=WOOD, ec=FAINT, label=f"stock, {units.length(scene.stock.width)} wide"),
        Patch(fc=FENCE, label=f"fence, {fence_stands(scene)}"),
        Line2D([], [], lw=3, color=SLOT, label=f"blade, {units.nearest(blade_at_table(scene))} at the table"),
    ]
    _legend(figure, handles, left, _TOP + 726, 1)
    below = _TOP + 826
    write(figure, left, below, "↓  teeth at the top run towards the operator", _TEXT, color=STEEL)
    if load.usual is None:
        write(figure, left, below + 60, "no force constants known for", _HEADING)
        write(figure, left, below + 100, scene.stock.species[:30], _HEADING, weight="bold")
        return
    write(figure, left, below + 62, f"usual (low to high) in pass {heaviest + 1}, the one of most power", _TEXT)
    lift = arrow_of(np.zeros(3), load, "lift", ("lift, off the table", "down, onto the table"), -math.inf)
    for k, (letter, arrow) in enumerate(zip("ABC\N{EN DASH}", (*arrows, lift), strict=True)):
        look = {"color": ALARM, "weight": "bold"} if arrow.alarm else {}
        write(figure, left, below + 110 + 44 * k, letter, _TEXT, weight="bold", color=look.get("color", INK))
        write(figure, left + 34, below + 110 + 44 * k, arrow.label(units), _TEXT, **look)
    usual = [load.usual for load in loads]
    off = [k for k, forces in enumerate(usual, start=1) if forces is not None and forces.fence < -HOLDS_OFF]
    if off:
        note = "off the fence" + ("" if arrows[1].alarm else f" in pass {off[0]}") + ": second guide needed"
        write(figure, left + 34, below + 286, note, _TEXT, color=ALARM, weight="bold")
    if report.job.ends[heaviest]:
        _draw_entering(figure, report, heaviest, below + 346)


def _draw_entering(figure: Figure, report: Report, heaviest: int, top: float) -> None:
    """Draw how the forces of a pass rise and fall as the blade enters and leaves."""
    job, units = report.job, report.units
    write(figure, _RIGHT, top, f"pass {heaviest + 1} as the blade enters and leaves, usual, {units.unit(FORCE)}", _TEXT)
    axes = axes_at(figure, _RIGHT + 56, top + 40, WIDTH - _MARGIN - _RIGHT - 56, 146)
    off = draw_entering(axes, job.ends[heaviest], job.fineness.ends, units, _SMALL)
    handles: list[Artist] = [
        Line2D([], [], lw=1.8, color=INK, label="against the feed"),
        Line2D([], [], lw=1.8, color=FENCE, label="into the fence"),
    ]
    if off:
        handles.append(Patch(fc=ALARM, alpha=0.5, label="off it"))
    _legend(figure, handles, _RIGHT, top + 258, 3)


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _legend(figure: Figure, handles: Sequence[Artist], left: float, middle: float, columns: int) -> None:
    figure.legend(
        handles=handles, loc="center left", bbox_to_anchor=(left / WIDTH, 1 - middle / HEIGHT), ncols=columns,
        frameon=False, fontsize=_SMALL, labelcolor=INK, handlelength=1.3, handletextpad=0.5, columnspacing=1.2,
        borderpad=0.0, borderaxespad=0.0,
    )  # fmt: skip
