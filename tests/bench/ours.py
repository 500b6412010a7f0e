"""The package's own ways to the job: hulls of every pass, exact sections drawn out, and `stage` itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bench.yardstick import CHORD, Outcome

from sweep.cut.passes import passes_of
from sweep.cut.stages import Stage, stage, swept_pass, travel_range
from sweep.scene.model import Scene
from sweep.shape import section, solid


def hulls(scene: Scene, numbers: Sequence[int], chord: float = CHORD) -> list[solid.Solid]:
    """Return stages, each the fresh stock less the hull of its pass (a through pass contains the lower ones)."""
    passes = passes_of(scene)
    size = scene.stock.length, scene.stock.width, scene.stock.thickness
    stages = []
    for number in numbers:
        _, end = travel_range(scene, number)
        stages.append(solid.subtract(solid.box(*size), swept_pass(scene, passes[number - 1], end, chord)))
    return stages


def plane(scene: Scene, chord: float = CHORD) -> list[section.Figure]:
    """Return every stage as its exact section, a plane figure."""
    tool, feed, tilt = scene.tool, scene.feed, scene.tilt
    planed = section.stock_section(scene.stock.width, scene.stock.thickness)
    cuts = [section.cut_section(tool, feed, tilt, one.height, chord) for one in passes_of(scene)]
    return [section.minus(planed, cut) for cut in cuts]


def sections(scene: Scene, chord: float = CHORD) -> list[solid.Solid]:
    """Return every stage as its exact section, drawn out."""
    return [solid.prism(section.rings(figure), scene.stock.length) for figure in plane(scene, chord)]


def finished(scene: Scene, chord: float = CHORD) -> tuple[list[section.Figure], solid.Solid]:
    """Return the history as plane figures, and the last of them drawn out."""
    figures = plane(scene, chord)
    return figures, solid.prism(section.rings(figures[-1]), scene.stock.length)


def stages(scene: Scene) -> list[Stage]:
    """Return every stage as the program makes it, mesh and who-cut-what included."""
    return [stage(scene, number, chord=CHORD) for number in range(1, len(scene.passes.heights) + 1)]


def read(stages: Sequence[solid.Solid], at: Sequence[float]) -> Outcome:
    """Return the figures of solids, their last one cut across at some stations."""
    mesh = solid.to_mesh(stages[-1], {})
    assert mesh.is_closed()
    outlines = [mesh.section(x)[0] for x in at]
    return Outcome([solid.volume(one) for one in stages], outlines, len(mesh.triangles))


def read_finished(made: tuple[list[section.Figure], solid.Solid], length: float, at: Sequence[float]) -> Outcome:
    """Return the figures of a plane history: areas times the length, and the finished solid cut across."""
    figures, last = made
    return replace(read([last], at), left=[section.area(figure) * length for figure in figures])
