"""Everything that the page shows, as plain data ready for JSON: words and numbers, the section, the solids.

Numbers are mm in the frames of DEVELOPERS.md; words are in the maker's units. The page only draws: it
knows no formula of the trade.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweep.check.profile import surface_deviations
from sweep.cut.stages import travel_range
from sweep.scene.model import WholeScene
from sweep.shape.mesh import Mesh, joined
from sweep.show.draw.colours import (
    ARROW,
    CAST_IRON,
    FENCE,
    RGB,
    SLOT,
    STEEL,
    THROAT,
    TIP,
    WOOD,
    hexed,
    pass_colours,
)
from sweep.show.draw.looks import in_pass_colours
from sweep.show.draw.paint_svg import svg_of
from sweep.show.draw.section import deviation_drawing, frame_above_deviation, frame_of, section_drawing
from sweep.show.page.legends import legends_of
from sweep.show.page.over import over_pictures, pull_of
from sweep.show.page.packed import cut_by, in_base64, packed, packed_small
from sweep.show.page.steps import steps_text
from sweep.show.say.cautions import PARAGRAPH
from sweep.show.say.flags import flag_words, listed_flags
from sweep.show.say.passes import PassRow, fence_of, pass_rows, pass_table, set_up_of, title_of
from sweep.show.say.profile import marks_of, verdict_of
from sweep.show.say.report import Report
from sweep.show.say.wood import wood_sentence
from sweep.show.say.worst import alert_of, worst_of
from sweep.show.solids import saw as machine_model
from sweep.show.solids.stretches import Stretch, one_stretch, stretches
from sweep.show.solids.views import Viewpoint, viewpoints
from sweep.tolerance import AS_DRAGGED

WIDTHS, HIGHEST, DEVIATION = (90.0, 165.0), 110.0, 30.0
"""mm of drawing. Widths for a phone and for a desk, most that a section is high, and the height of a deviation."""


@dataclass(frozen=True)
class WhileHeld:
    """What a page shows while a setting is moved.

    Parameters
    ----------
    number : int
        The pass.
    travel : float or None, mm
        None after the whole pass.
    width : float or None, mm
        Of the section that is seen, one of `WIDTHS`; None where that is not known.
    """

    number: int
    travel: float | None
    width: float | None


def page_model(report: Report, shown: WhileHeld | None = None) -> dict[str, Any]:
    """Return what the page shows of a report.

    Parameters
    ----------
    report : Report
    shown : WhileHeld or None
        Only what is seen at this moment; None for the stock after every pass, the blade, the places to look from, the
        order of work and the section at every width. Where the cove is followed by other work, one number more than
        the passes is the finished moulding.
    """
    job, outcome, units, rows = report.job, report.outcome, report.units, pass_rows(report.outcome, report.units)
    line, table, worst = _target_of(report), pass_table(rows), worst_of(outcome)
    model: dict[str, Any] = {
        "title": title_of(job.scene),
        "units": units.style,
        "set_up": set_up_of(outcome, units),
        "fence": fence_of(outcome, units),
        "verdict": verdict_of(outcome, units),
        "within": None if job.scene.target is None else report.is_within_tolerance,
        "marks": marks_of(report.surface, units),
        "forces": wood_sentence(job.scene, units),
        "cautions": PARAGRAPH,
        "steps": "" if shown else steps_text(report),
        "alert": {
            "words": alert_of(outcome, units),
            "flagged": bool(outcome.flags),
            "pass": worst.number if worst else None,
        },
        "flags": listed_flags((*outcome.flags, *outcome.may_exceed), units),
        "passes": _passes(report, rows, pull=shown is None),
        "columns": list(zip((column.heading for column in table.columns), table.units, strict=True)),
        "stock": _stock(job.scene),
        "machine": _machine(job.scene),
        "views": [] if shown else _views(job.scene),
        "wood": WOOD,
        "over": {} if shown else over_pictures(report),
        "section": _section(report, [shown.width] if shown and shown.width in WIDTHS else WIDTHS),
        "legends": legends_of(report),
        "finished": len(job.passes) + 1 if job.finishing else None,
        "stages": {},
        "stretches": {},
    }
    finished = {len(job.passes) + 1: finished_mesh(report)} if job.finishing else {}
    if shown is None:
        model["blade"] = _blade(job.scene)
        meshes = {stage.number: stage.mesh for stage in job.stages} | finished
        model["stages"] = dict(zip(meshes, _meshes(list(meshes.values()), line), strict=True))
        return model
    number, travel = min(shown.number, len(job.passes) + len(finished)), shown.travel
    if travel is None or not 0 < number <= len(job.passes):
        mesh = finished[number] if number in finished else job.stages[number].mesh
        model["stages"] = {number: _meshes([mesh], line)[0]}
    else:
        span = travel_range(job.scene, number)
        now = one_stretch(job.scene, number, span, travel, job.stages[number - 1])
        model["stretches"] = {number: _stretches((now,), line)}
    return model


def stretches_model(report: Report, number: int, chord: float = AS_DRAGGED.chord) -> list[dict[str, Any]]:
    """Return the stock at every moment of one pass; see `stretches.py`."""
    return _stretches(stretches(report.job.scene, number, chord), _target_of(report))


def opening_model(report: Report) -> dict[int, list[dict[str, Any]]]:
    """Return the stock in the middle of the first pass, where the page opens: exact as long as both ends are clear."""
    scene, job = report.job.scene, report.job
    start, end = travel_range(scene, 1)
    span = (-start, scene.stock.length + start) if end > scene.stock.length > -2 * start else (start, end)
    now = one_stretch(scene, 1, span, (start + end) / 2, job.stages[0])
    return {1: _stretches((now,), _target_of(report))}


def finished_mesh(report: Report) -> Mesh:
    """Return all that is left after the last pass and what follows it."""
    return joined([piece.mesh for piece in report.job.pieces])


def stage_model(mesh: Mesh) -> dict[str, Any]:
    """Return stock that is compared with no line."""
    return _meshes([mesh], None)[0]


def _passes(report: Report, rows: tuple[PassRow, ...], pull: bool) -> list[dict[str, Any]]:
    job, scene = report.job, report.scene
    colours = pass_colours(len(job.passes))
    found = []
    table = pass_table(rows)
    cells, height = table.under_units(), table.columns[0].heading
    pulls = pull_of(report) if pull else [[] for _ in rows]
    for one, row, shown, colour, forces in zip(job.passes, rows, cells, colours, pulls, strict=True):
        start, end = travel_range(scene, one.number)
        found.append(
            {
                "number": one.number,
                "cells": shown,
                "told": f"{height} {shown[0]} {table.units[0]}, {shown[-1]} percent of the limit of {shown[-2]}",
                "flags": flag_words(row.flags, report.units),
                "colour": hexed(colour),
                "pull": forces,
                "chip": job.loads[one.number - 1].chip_thickness_max,
                "height": round(one.height, 4),
                "pose": _columns(machine_model.blade_pose(scene, one.height, 0.0)),
                "start": start,
                "end": end,
            }
        )
    return found


def _target_of(report: Report) -> NDArray[np.float64] | None:
    return None if report.profile is None else np.array(report.profile.target)


def _stock(scene: WholeScene) -> dict[str, Any]:
    stock = scene.stock
    return {
        "length": stock.length,
        "width": stock.width,
        "thickness": stock.thickness,
        "pose": _columns(scene.feed.stock_in_machine(0.0)),
        "feed": scene.feed.direction.tolist(),
    }


def _machine(scene: WholeScene) -> list[dict[str, Any]]:
    window = machine_model.window_of(scene)
    parts = (
        ("table", CAST_IRON, machine_model.whole_table(scene)),
        ("throat plate", THROAT, machine_model.throat_plate(scene)),
        ("mitre slots", THROAT, machine_model.mitre_slots(scene)),
        ("slot", SLOT, machine_model.slot(scene)),
        ("fence", FENCE, machine_model.whole_fence(scene)),
        ("feed", ARROW, machine_model.feed_arrow(scene, window)),
    )
    return [{"name": name, "colour": colour, **_shape(shape)} for name, colour, shape in parts]


def _views(scene: WholeScene) -> list[dict[str, Any]]:
    """Return the places to look from: what the camera turns round, where it looks, what it must see; mm, rad."""
    return [view_model(one) for one in viewpoints(scene, machine_model.window_of(scene))]


def view_model(viewpoint: Viewpoint) -> dict[str, Any]:
    """Return a place to look from, what must be seen in the middle."""
    place = viewpoint.centred()
    x, y, z = (place.towards / np.linalg.norm(place.towards)).tolist()
    return {
        "name": place.name,
        "words": place.words.capitalize(),
        "at": _rounded(place.about),
        "yaw": math.atan2(-x, -y),
        "pitch": math.asin(z),
        "distance": place.distance,
        "points": _rounded(place.points),
        "flat": place.flat,
    }


def _blade(scene: WholeScene) -> list[dict[str, Any]]:
    """Return the blade about its arbor, to be turned and set up by the poses of the passes."""
    colours: tuple[RGB, RGB] = (STEEL, TIP)
    return [
        {"name": "blade", "colour": colour, **_shape(shape)}
        for colour, shape in zip(colours, machine_model.blade(scene), strict=True)
    ]


def section_of(report: Report, name: str) -> str:
    """Return the section alone, as a small SVG."""
    outcome = report.outcome
    frame = frame_of(outcome, report.units, WIDTHS[0], HIGHEST, brief=True)
    drawing = in_pass_colours(section_drawing(outcome, report.units, frame), len(outcome.job.passes))
    return svg_of(drawing, "Section of the stock, what each pass takes of it, and the target", name)


def _section(report: Report, widths: Iterable[float]) -> list[dict[str, Any]]:
    """Return the section and the deviation below it as SVG, drawn for each of some widths."""
    outcome, units = report.outcome, report.units
    seen_from = frame_of if outcome.profile is None else frame_above_deviation
    drawn = []
    for width in widths:
        frame = seen_from(outcome, units, width, HIGHEST, brief=width == WIDTHS[0])
        section = in_pass_colours(section_drawing(outcome, units, frame), len(outcome.job.passes))
        says = "Section of the stock, what each pass takes of it, and the target"
        one: dict[str, Any] = {
            "width": width,
            "frame": [frame.middle, frame.base, frame.scale],
            "section": svg_of(section, says, f"section-{width:g}"),
        }
        if outcome.profile is not None:
            deviation = deviation_drawing(outcome, units, frame, DEVIATION)
            says = "Deviation from the target across the section, magnified"
            one["deviation"] = svg_of(deviation, says, f"deviation-{width:g}")
        drawn.append(one)
    return drawn


def _meshes(meshes: Sequence[Mesh], line: NDArray[np.float64] | None) -> list[dict[str, Any]]:
    """Return meshes packed, with the pass that cut each triangle and the deviation at each vertex."""
    return [packed(mesh.vertices, mesh.triangles) | more for mesh, more in zip(meshes, _of(meshes, line), strict=True)]


def _of(meshes: Sequence[Mesh], line: NDArray[np.float64] | None) -> list[dict[str, Any]]:
    """Return what cut each triangle of some meshes and, with a line, the deviation at each vertex."""
    found: list[dict[str, Any]] = [{"by": cut_by(mesh)} for mesh in meshes]
    if line is not None:
        for one, off in zip(found, surface_deviations(meshes, line), strict=True):
            one["off"] = in_base64(off.astype("<f4"))
    return found


def _stretches(shown: Sequence[Stretch], line: NDArray[np.float64] | None) -> list[dict[str, Any]]:
    return [
        {"first": one.first, "last": one.last, "at": one.at, "moving": in_base64(one.moving.astype("u1"))}
        | packed_small(one.mesh.vertices, one.mesh.triangles)
        | more
        for one, more in zip(shown, _of([one.mesh for one in shown], line), strict=True)
    ]


def _shape(shape: machine_model.Shape) -> dict[str, Any]:
    return packed(shape.points, shape.triangles)


def _rounded(values: Any, digits: int = 3) -> list[Any]:
    rounded: list[Any] = np.round(np.asarray(values, float), digits).tolist()
    return rounded


def _columns(matrix: NDArray[np.float64]) -> list[float]:
    """Return a (4, 4) motion column by column, as WebGL holds it."""
    return matrix.T.ravel().tolist()
