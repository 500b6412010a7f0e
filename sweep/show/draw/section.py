"""The section looking along the feed: what each pass takes, what is left, the line wanted, and every dimension.

`deviation_drawing` is what stands below it, to the same scale across: the deviation from that line, magnified.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sweep.check.judge import Outcome
from sweep.check.profile import signed_distance
from sweep.cut.blank import wood_section
from sweep.cut.passes import PassSection, passes_of
from sweep.scene.keys import Stock
from sweep.scene.model import WholeScene
from sweep.shape import section
from sweep.show.draw.sketch import Drawing, Part, across, area, box, dot, drawing, path, upright, words
from sweep.units import Units

DRAWN_CHORD = 0.01
"""mm. Chords of the rim on paper: a tenth of a line's thickness."""

_LEFT, _TOP, _BOTTOM = 9.0, 8.0, 10.0  # room for the dimensions, mm
_LETTER = 1.6  # width of a letter of the figures at the right, mm
_GAP = 4.5  # from the stock to a dimension, mm
_DEEP = "cut too deep"
_HEAD = 6.0  # room for the words above the deviation, mm
_NEAR = 3.4  # two figures upright must be so far apart, mm


@dataclass(frozen=True)
class Frame:
    """The place of a section on paper.

    Parameters
    ----------
    width : float, mm
        Of the drawing.
    scale : float
        mm of paper to a mm of the stock.
    middle, base : float, mm
        Of the stock's centreline from the left, and of the face on the table from the top.
    brief : bool
        Whether figures beside the section go without what goes without saying, for that to be larger.
    """

    width: float
    scale: float
    middle: float
    base: float
    brief: bool = False

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the drawing, mm, with room for dimensions below the section."""
        return self.width, self.base + _BOTTOM

    def at(self, points: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the section, (..., 2) mm in (y, z), lie on paper."""
        return (self.middle, self.base) + np.asarray(points, float) * (self.scale, -self.scale)


def frame_of(outcome: Outcome, units: Units, width: float, height: float, brief: bool = False) -> Frame:
    """Return the frame in which the section is as large as it fits in so much room, mm."""
    return _frame(outcome, width, height, _LEFT, _letters(outcome, units, brief), brief)


def frame_above_deviation(outcome: Outcome, units: Units, width: float, height: float, brief: bool = False) -> Frame:
    """Return the frame of a section with the deviation below it, whose words need room on both sides; with a target."""
    assert outcome.profile is not None
    left = max(_LEFT, 3 + _LETTER * len(_off(units, outcome.profile.tolerance, brief)))
    deep = len(_DEEP) - round(_GAP / _LETTER)  # it stands nearer to the section
    return _frame(outcome, width, height, left, max(_letters(outcome, units, brief), deep), brief)


def _letters(outcome: Outcome, units: Units, brief: bool) -> int:
    """Return how many letters the figures at the right have at most, after whichever pass."""
    stock = outcome.job.scene.stock
    return max(len(said) for one in outcome.job.sections for said in _depths(stock, one, units, brief))


def _frame(outcome: Outcome, width: float, height: float, left: float, letters: int, brief: bool) -> Frame:
    stock, right = outcome.job.scene.stock, _GAP + 3 + _LETTER * letters
    across = width - left - right
    scale = min(across / stock.width, (height - _TOP - _BOTTOM) / stock.thickness)
    return Frame(width, scale, left + across / 2, _TOP + stock.thickness * scale, brief)


def height_for(outcome: Outcome, units: Units, width: float) -> float:
    """Return how high the section is, mm, when it is as wide as so much room lets it be."""
    return frame_of(outcome, units, width, float("inf")).base + _BOTTOM


def coves(scene: WholeScene, height: float) -> list[NDArray[np.float64]]:
    """Return the lines that the blade at a height leaves inside the wood: (n, 2) mm in (y, z) each."""
    swept = _swept(scene, height)
    return _lines(scene.stock, swept, section.within(swept, wood_section(scene.stock, DRAWN_CHORD)))


@dataclass(frozen=True, eq=False)
class _Cut:
    """What stands in the section, mm in (y, z): the outlines of what each pass takes, its lines, and what is left."""

    taken: list[list[NDArray[np.float64]]]
    coves: list[list[NDArray[np.float64]]]
    left: list[NDArray[np.float64]]


@lru_cache(maxsize=4)  # a run and a page draw it at several sizes
def _cut(scene: WholeScene) -> _Cut:
    wood, before, taken, lines = wood_section(scene.stock, DRAWN_CHORD), None, [], []
    for one in passes_of(scene):
        swept = _swept(scene, one.height)  # a raised blade takes all that a lower one took
        inside = section.within(swept, wood)
        taken.append(section.rings(inside if before is None else section.minus(inside, before)))
        lines.append(_lines(scene.stock, swept, inside))
        before = swept
    return _Cut(taken, lines, section.rings(wood if before is None else section.minus(wood, before)))


def _swept(scene: WholeScene, height: float) -> section.Figure:
    return section.cut_section(scene.tool, scene.feed, scene.tilt, height, DRAWN_CHORD)


def _lines(stock: Stock, swept: section.Figure, inside: section.Figure) -> list[NDArray[np.float64]]:
    """Return the runs of a swept figure's outline inside the wood; `inside` is what of it lies in the wood."""
    if stock.blank is not None:
        return section.outline_within(swept, wood_section(stock, DRAWN_CHORD))
    return [line for ring in section.rings(inside) for line in _off_the_faces(ring, stock.width, stock.thickness)]


def section_drawing(outcome: Outcome, units: Units, frame: Frame) -> Drawing:
    """Return the section looking along the feed, with its dimensions."""
    job = outcome.job
    at, stock, cut = frame.at, job.scene.stock, _cut(job.scene)
    parts = [
        area([at(ring) for ring in rings], "", "taken", number=number)
        for number, rings in enumerate(cut.taken, start=1)
    ]
    if job.finishing:
        parts.append(area([at(ring) for ring in cut.left], "", "finishing"))
    wood = [section.rings(piece.outline.figure) for piece in job.pieces] if job.finishing else [cut.left]
    parts += [area([at(ring) for ring in rings], "", "wood") for rings in wood]
    corners = [(-stock.width / 2, 0), (stock.width / 2, 0), (stock.width / 2, stock.thickness)]
    parts.append(path(at([*corners, (-stock.width / 2, stock.thickness)]), "dotted", closed=True))
    for number, lines in enumerate(cut.coves, start=1):
        parts += [path(at(line), "pass", number=number) for line in lines]
    parts += [area([at(ring) for ring in rings], "edge") for rings in wood]
    wanted = wanted_of(outcome)
    if wanted is not None:
        parts.append(path(at(wanted), "target", closed=outcome.whole is not None))
        parts += target_named(stock, frame)
    parts = [part for part in parts if part.get("rings", True)]
    parts += stock_dimensions(stock, units, frame) + cove_dimensions(stock, job.sections[-1], units, frame)
    return drawing(*frame.size, parts)


def wanted_of(outcome: Outcome) -> NDArray[np.float64] | None:
    """Return the profile wanted, (n, 2) mm; of a whole moulding its outline; None without a target."""
    if outcome.whole is not None:
        return section.rings(outcome.whole.kept)[0]
    return None if outcome.profile is None else np.array(outcome.profile.target)


def deviation_drawing(outcome: Outcome, units: Units, frame: Frame, height: float) -> Drawing:
    """Return the deviation from the target, magnified, over the band of the tolerance.

    Parameters
    ----------
    outcome : Outcome
        With a target.
    units : Units
    frame : Frame
        Of the section above it.
    height : float, mm
    """
    profile = outcome.profile
    assert profile is not None
    half = outcome.job.scene.stock.width / 2
    most = 1.15 * max(profile.tolerance, profile.max_deviation)
    middle, up = (height + _HEAD) / 2, (height - _HEAD) / 2 / most
    left, right = frame.at([(-half, 0), (half, 0)])[:, 0].tolist()

    def level(by: float) -> float:
        return middle - by * up

    tolerance = profile.tolerance
    along = _to_the_edges(outcome)
    line = np.column_stack([frame.at(along)[:, 0], [level(by) for by in along[:, 1]]])
    worst_y, _, worst = profile.worst
    look = "ink" if profile.within_tolerance else "alarm"
    parts = [
        box(left, level(tolerance), right - left, 2 * tolerance * up, "", "within"),
        *(path([(left, level(by)), (right, level(by))], "within") for by in (-tolerance, tolerance)),
        path([(left, middle), (right, middle)], "faint"),
        path(line, "edge"),
        dot(float(frame.at((worst_y, 0))[0]), level(worst), 0.6, "", look),
    ]
    levels = {tolerance: "faint", -tolerance: "faint", 0.0: "faint"}
    if profile.max_deviation > 1.4 * tolerance:
        levels = {worst: look} | {by: colour for by, colour in levels.items() if abs(by - worst) * up > _NEAR}
    for by, colour in levels.items():
        if by == 0 and tolerance * up < _NEAR:
            continue
        parts.append(words(_off(units, by, frame.brief), left - 1.5, level(by), "right", 7.0, colour=colour))
    apart = max(2.4, 0.5 * tolerance * up)
    parts += [words("wood left", right + 2, middle - apart, "left", colour="faint")]
    parts += [words(_DEEP, right + 2, middle + apart, "left", colour="faint")]
    fold = f"{float(f'{up / frame.scale:.2g}'):g}"
    off = "deviation" if frame.brief else "deviation from the target"
    parts.append(words(f"{off}, {fold} times as large, and the tolerance", left, 2, "left"))
    return drawing(frame.width, height, parts)


def _to_the_edges(outcome: Outcome) -> NDArray[np.float64]:
    """Return y and the deviation there, (n, 2) mm: along the target, and on to the cove's edges that lie beyond it."""
    profile, edges = outcome.profile, outcome.job.sections[-1].edges
    assert profile is not None
    along = np.column_stack([np.array(profile.samples)[:, 0], profile.deviations])
    if edges is None:
        return along
    beyond = signed_distance(np.array([(y, 0.0) for y in edges]), np.array(profile.target))
    left, right = np.column_stack([edges, beyond])
    before = [left] if edges[0] < along[:, 0].min() else []
    behind = [right] if edges[1] > along[:, 0].max() else []
    return np.vstack([*before, along, *behind])


def signed(units: Units, value: float) -> str:
    """Return a deviation with its sign and unit."""
    return "0" if value == 0 else ("+" if value > 0 else "\N{MINUS SIGN}") + units.bound(abs(value))


def _off(units: Units, value: float, brief: bool) -> str:
    """Return a deviation as it stands beside the section; in brief mm go without saying."""
    shown = signed(units, value)
    return shown.removesuffix(" mm") if brief else shown


def _off_the_faces(ring: NDArray[np.float64], width: float, thickness: float) -> list[NDArray[np.float64]]:
    """Return the parts of an outline that lie on no face of the planed stock, (n, 2) each."""
    y, z = ring[:, 0], ring[:, 1]
    faces = np.abs([z, z - thickness, y - width / 2, y + width / 2]) < 1e-8
    on_face = (faces & np.roll(faces, -1, axis=1)).any(axis=0)  # the piece from each point to the next
    if not on_face.any():
        return [np.vstack([ring, ring[:1]])]
    start = int(np.flatnonzero(on_face)[0]) + 1
    ring, on_face = np.roll(ring, -start, axis=0), np.roll(on_face, -start)
    return [run for run in np.split(ring, np.flatnonzero(on_face) + 1) if len(run) > 1]


def target_named(stock: Stock, frame: Frame) -> list[Part]:
    """Return the look of the target with its name, above the stock at the right."""
    start, level = frame.at((stock.width / 2, stock.thickness)) + (2.5, 1 - _GAP)
    return [path([(start, level), (start + 7.6, level)], "target"), words("target", start + 9.5, level, "left")]


def stock_dimensions(stock: Stock, units: Units, frame: Frame) -> list[Part]:
    """Return how wide and thick the stock is."""
    half = stock.width / 2
    (left, base), (right, top) = frame.at([(-half, 0), (half, stock.thickness)]).tolist()
    parts = across((left, right), top, top - _GAP + 1, f"stock {units.length(stock.width)} wide")
    return parts + upright((top, base), left, left - _GAP + 1, units.length(stock.thickness))


def cove_dimensions(stock: Stock, taken: PassSection, units: Units, frame: Frame) -> list[Part]:
    """Return how wide and deep the cove is after a pass, and what is left above it."""
    parts: list[Part] = []
    (right, base), (_, top) = frame.at([(stock.width / 2, 0), (0, stock.thickness)]).tolist()
    if taken.edges is not None:
        ends = frame.at([(taken.edges[0], 0), (taken.edges[1], 0)])[:, 0].tolist()
        said = f"{units.nearest(taken.width)} at the table"
        parts += across(tuple(ends), base, base + _GAP + 2, said, room=frame.width)
    if taken.top <= 0:
        return parts
    outline = np.vstack(section.rings(taken.left))
    highest = outline[np.argmin(np.abs(outline[:, 1] - taken.top))]
    place, level = frame.at(highest).tolist()
    out = right + _GAP
    parts.append(path([[place, level], [out, level]], "faint"))
    parts += upright((level, base), right, out, "")
    parts += upright((top, level), right, out, "")
    deep, above = (level + base) / 2, (top + level) / 2
    push = max(0.0, 4.0 - (deep - above)) / 2
    labels = _depths(stock, taken, units, frame.brief)
    return [*parts, *(words(labels[k], out + 2, y, "left") for k, y in enumerate((deep + push, above - push)))]


def _depths(stock: Stock, taken: PassSection, units: Units, brief: bool) -> tuple[str, str]:
    """Return how deep the cove is and how much wood stands above it, in words."""
    deep, above = units.nearest(taken.top), units.nearest(stock.thickness - taken.top)
    return (f"{deep.bare} deep", f"{above.bare} above") if brief else (f"{deep} deep", f"{above} left above")
