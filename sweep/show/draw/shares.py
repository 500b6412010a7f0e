"""What each pass takes of every limit: one row for each limit, all to one scale, a dot a pass."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sweep.check.shares import governing, shares_of
from sweep.cut.forces import Forces
from sweep.cut.job import Job
from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.cut.plate import rim_stiffness
from sweep.scene.model import WholeScene
from sweep.show.draw.axes import Axes, round_figures
from sweep.show.draw.colours import ALARM, INK, TIP, hexed
from sweep.show.draw.legend import bar, legend, pointing_up, ring, triangle
from sweep.show.draw.looks import pale
from sweep.show.draw.sketch import Drawing, Part, box, dot, drawing, path, words
from sweep.units import Units

CLIP = 2.5
"""The share at which the drawing ends; a triangle there says that a mark lies beyond."""

_TEXT, _SMALL = 8.0, 7.1  # points
_LEFT, _RIGHT = 9.0, 2.0  # room for the figures beside the rows, and for the last dot, mm
_ABOVE, _BELOW, _FOOT = 4.2, 1.4, 21.0  # room above and below the diagram of a row, and below all of them, mm
_RADIUS = 0.75  # of a dot, mm, where there is room


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


def shares_drawing(job: Job, units: Units, width: float, height: float) -> Drawing:
    """Return the rows, their legend below them, in so much room, mm."""
    bands, labels = bands_of(job), limit_labels(job.scene, units)
    governs = [governing({name: usual for name, (_, usual, _) in band.items()}) for band in bands]
    count, names = len(bands), list(bands[0])
    top = min(CLIP, 1.1 * max(1.0, *(band[name][2] for band in bands for name in names)))
    row = (height - _FOOT) / len(names)
    wide = width - _LEFT - _RIGHT
    radius = min(_RADIUS, 0.36 * wide / count)
    numbers = [(x, f"{x:.0f}") for x in round_figures(0, count, 12, 1.0) if x] or [(1.0, "1")]
    levels = [(0.0, "0"), (1.0, "100 %")] + ([(2.0, "200 %")] if top > 1.9 else [])
    parts: list[Part] = []
    for k, name in enumerate(names):
        above = k * row
        axes = Axes(_LEFT, above + _ABOVE, wide, row - _ABOVE - _BELOW, (0.4, count + 0.6), (0.0, 1.1 * top))
        shares = np.array([band[name] for band in bands])
        parts += axes.frame() + axes.beside(levels, _SMALL)
        parts += axes.below(numbers if k + 1 == len(names) else [(x, "") for x, _ in numbers], _SMALL)
        limit = path(axes.at([(axes.x[0], 1.0), (axes.x[1], 1.0)]), "edge")
        parts.append(limit | {"stroke_colour": hexed(TIP)})
        for number, three in enumerate(shares, start=1):
            parts += _pass(axes, number, three, top, radius, governs[number - 1] == name)
        worst = int(shares[:, 1].argmax())
        most = f"most {_percent(shares[worst, 1])}, pass {worst + 1}"
        too_much = bool(shares[worst, 1] > 1)
        parts.append(words(labels[name], _LEFT, above + 1.8, "left", _TEXT))
        parts.append(words(most, width - _RIGHT, above + 1.8, "right", _TEXT, bold=too_much,
                           colour="alarm" if too_much else "faint"))  # fmt: skip
    entries = [(ring(0.85, "edge", "ink"), "nearest limit"), (ring(0.65, "edge", "paper"), "other limits")]
    if "push" in names:
        entries.append((bar(pale(INK), 0.6), "soft, sharp to hard, dull"))
    if any(band[name][2] > top for band in bands for name in names):
        entries.append((triangle(1.6, hexed(INK)), f"beyond {_percent(CLIP)}"))
    foot = height - _FOOT
    parts.append(words("pass", _LEFT + wide / 2, foot + 6.0, size=_TEXT))
    return drawing(width, height, parts, legend(entries, 0.0, foot + 15.0, width, _SMALL))


def _pass(axes: Axes, number: int, three: NDArray[np.float64], top: float, radius: float, is_first: bool) -> list[Part]:
    """Return a pass's dot, filled where this is its nearest limit, on the band of the forces."""
    low, usual, high = three.tolist()
    colour = ALARM if usual > 1 else INK
    (x, base), (_, level) = axes.at([(number, min(low, top)), (number, min(high, top))]).tolist()
    parts: list[Part] = []
    if high > low:
        half = max(0.12, 0.18 * radius)
        parts.append(box(x - half, level, 2 * half, base - level, "", pale(colour)))
        if low < top < high:
            parts.append(pointing_up(x, level, 1.4 * radius, pale(colour)))
    size = radius * (1.0 if is_first else 0.75)
    y = float(axes.at((number, min(usual, top)))[1])
    if usual > top:
        return [*parts, pointing_up(x, y, 2 * size, hexed(colour))]
    fill = hexed(colour) if is_first else "paper"
    return [*parts, dot(x, y, size, "edge", fill) | {"stroke_colour": hexed(colour)}]


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
